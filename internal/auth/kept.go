package auth

import (
	"context"
	"fmt"
)

// keptPrefix parts what pages keep in a session from what it is made of.
const keptPrefix = "kept:"

// Keep keeps a small text in the session of the request for as long as that
// lasts, such as what was chosen last in a form.
func (s *Sessions) Keep(ctx context.Context, name, value string) error {
	s.manager.Put(ctx, keptPrefix+name, value)
	if _, _, err := s.manager.Commit(ctx); err != nil {
		return fmt.Errorf("keep web session: %w", err)
	}
	return nil
}

// Kept returns what Keep kept under a name, blank if nothing was.
func (s *Sessions) Kept(ctx context.Context, name string) string {
	return s.manager.GetString(ctx, keptPrefix+name)
}

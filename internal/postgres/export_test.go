package postgres

import "time"

// WaitForIntake makes the wait for other intakes as short as a test needs it.
func (s *Store) WaitForIntake(wait time.Duration) { s.intakeWait = wait }

// HasReadAhead says that a piece is at hand.
func (s *Store) HasReadAhead() bool {
	s.ahead.mu.Lock()
	defer s.ahead.mu.Unlock()
	return s.ahead.piece != nil
}

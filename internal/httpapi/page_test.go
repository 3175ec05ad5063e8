package httpapi

import (
	"testing"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// TestCursor holds that a cursor leads back to the id it was made of.
func TestCursor(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		raw := rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(t, "id")
		id, err := uuid.FromBytes(raw)
		if err != nil || id == uuid.Nil {
			t.Skip("no id")
		}
		self := func(id uuid.UUID) uuid.UUID { return id }
		cursor := nextCursor([]uuid.UUID{id}, registry.Page{Limit: 1}, self)
		got, err := page(1, cursor)
		if err != nil || got.After != id {
			t.Fatalf("page(1, %q) = %v, %v, want %v", cursor, got.After, err, id)
		}
	})
}

func TestCursorRejects(t *testing.T) {
	t.Parallel()
	for _, cursor := range []string{"?", "AAAA", "AAAAAAAAAAAAAAAAAAAAAA", "not base64 url!"} {
		_, err := page(10, cursor)
		e, _ := fault.As(err)
		if e == nil || len(e.Violations) != 1 || e.Violations[0].Field != "cursor" {
			t.Errorf("page(10, %q) = %v, want one violation of cursor", cursor, err)
		}
	}
}

func TestPageEnds(t *testing.T) {
	t.Parallel()
	self := func(id uuid.UUID) uuid.UUID { return id }
	if got := nextCursor([]uuid.UUID{uuid.New()}, registry.Page{Limit: 2}, self); got != "" {
		t.Errorf("cursor after a page that is not full = %q, want none", got)
	}
	if got := nextCursor(nil, registry.Page{Limit: 2}, self); got != "" {
		t.Errorf("cursor after an empty page = %q, want none", got)
	}
	if p, err := page(0, ""); err != nil || p.Limit != 100 {
		t.Errorf("page without limit = %v, %v, want 100", p, err)
	}
}

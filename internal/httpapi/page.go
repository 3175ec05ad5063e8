package httpapi

import (
	"encoding/base64"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// defaultLimit is how many items a page has when none is asked for.
const defaultLimit = 100

// page reads limit and cursor. A cursor is the last id of the page before, in
// base64url; what cannot be one is fault.Invalid, field "cursor".
func page(limit int, cursor string) (registry.Page, error) {
	p := registry.Page{Limit: limit}
	if limit == 0 {
		p.Limit = defaultLimit
	}
	if cursor == "" {
		return p, nil
	}
	raw, err := base64.RawURLEncoding.DecodeString(cursor)
	if err != nil {
		return p, reject("cursor", fault.Malformed, "wanted", "AYzCUfQRcACbUutc8wTlXg, as next_cursor of the page before has it")
	}
	if p.After, err = uuid.FromBytes(raw); err != nil || p.After == uuid.Nil {
		return p, reject("cursor", fault.Malformed, "wanted", "AYzCUfQRcACbUutc8wTlXg, as next_cursor of the page before has it")
	}
	return p, nil
}

// nextCursor returns the cursor after rows, empty if they are the last ones. A
// full page has a next one, which may turn out empty.
func nextCursor[T any](rows []T, p registry.Page, id func(T) uuid.UUID) string {
	if len(rows) == 0 || len(rows) < p.Limit {
		return ""
	}
	last := id(rows[len(rows)-1])
	return base64.RawURLEncoding.EncodeToString(last[:])
}

package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// The inventory is read, added to and changed in one way for all its nouns: an
// operation names the use case and how its noun is turned into an answer.

// list reads one page for who is asking, and the cursor after it.
func list[T any](ctx context.Context, a *API, limit int, cursor string, id func(T) uuid.UUID,
	read func(context.Context, registry.Actor, registry.Page) ([]T, error),
) ([]T, string, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, "", err
	}
	p, err := page(limit, cursor)
	if err != nil {
		return nil, "", err
	}
	rows, err := read(ctx, who, p)
	if err != nil {
		return nil, "", err
	}
	return rows, nextCursor(rows, p, id), nil
}

// of narrows a list to what belongs to one thing; the nil id does not.
func of[T any](parent uuid.UUID,
	read func(context.Context, registry.Actor, *uuid.UUID, registry.Page) ([]T, error),
) func(context.Context, registry.Actor, registry.Page) ([]T, error) {
	return func(ctx context.Context, who registry.Actor, p registry.Page) ([]T, error) {
		return read(ctx, who, idIn(parent), p)
	}
}

// one reads one thing for who is asking.
func one[T any](ctx context.Context, a *API, id uuid.UUID,
	read func(context.Context, registry.Actor, uuid.UUID) (T, error),
) (T, error) {
	who, err := a.who(ctx)
	if err != nil {
		var none T
		return none, err
	}
	return read(ctx, who, id)
}

// get reads one thing and turns it into an answer.
func get[T, R any](ctx context.Context, a *API, id uuid.UUID,
	read func(context.Context, registry.Actor, uuid.UUID) (T, error), reply func(T) R,
) (R, error) {
	n, err := one(ctx, a, id, read)
	return replied(n, err, reply)
}

// add hands a new thing to its use case and turns what is stored into an
// answer.
func add[T, R any](ctx context.Context, a *API, n T,
	store func(context.Context, registry.Actor, T) (T, bool, error), reply func(T) R,
) (answer R, created bool, err error) {
	stored, created, err := record(ctx, a, n, store)
	answer, err = replied(stored, err, reply)
	return answer, created, err
}

// read is a thing with the If-Match that says which version of it was read.
type read struct {
	id      uuid.UUID
	ifMatch string
}

// change hands an edit to its use case and turns what is stored into an answer.
func change[T, R any](ctx context.Context, a *API, of read, edit func(*T) error,
	store func(context.Context, registry.Actor, uuid.UUID, int, func(*T) error) (T, error), reply func(T) R,
) (R, error) {
	var none R
	who, err := a.who(ctx)
	if err != nil {
		return none, err
	}
	version, err := ifMatch(of.ifMatch)
	if err != nil {
		return none, err
	}
	n, err := store(ctx, who, of.id, version, edit)
	return replied(n, err, reply)
}

func replied[T, R any](n T, err error, reply func(T) R) (R, error) {
	if err != nil {
		var none R
		return none, err
	}
	return reply(n), nil
}

// edit turns a merge patch that cannot go wrong by itself into an edit.
func edit[T any](apply func(*T)) func(*T) error {
	return func(n *T) error {
		apply(n)
		return nil
	}
}

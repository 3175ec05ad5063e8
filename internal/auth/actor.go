package auth

import (
	"context"

	"rockledger/internal/registry"
)

type actorKey struct{}

// WithActor returns a context that carries who is asking.
func WithActor(ctx context.Context, who registry.Actor) context.Context {
	return context.WithValue(ctx, actorKey{}, who)
}

// ActorFrom returns who is asking, false if nobody was recognised. It is read
// once, in the handler; below that the actor is passed.
func ActorFrom(ctx context.Context) (registry.Actor, bool) {
	who, ok := ctx.Value(actorKey{}).(registry.Actor)
	return who, ok
}

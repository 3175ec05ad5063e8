package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// ListStore is the part of Store that gives the list of anchors back.
type ListStore interface {
	// EachListed calls fn with every anchor of the group, removed ones too, in
	// the order of site, sector, route and stop; before that, where ask is for
	// a list's own headings, begin with that list, which is fault.NotFound if
	// it is not there. All of it is as of one instant. An error of begin or fn
	// ends it and is returned as it is.
	EachListed(ctx context.Context, group uuid.UUID, ask registry.ListAsk,
		begin func(registry.PastList) error, fn func(registry.ListEntry) error) error
}

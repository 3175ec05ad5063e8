package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// PictureStore is the part of Store that keeps what is known of pictures.
type PictureStore interface {
	PictureKeeper

	// Pictures lists an anchor's pictures, those withdrawn too.
	Pictures(ctx context.Context, group, anchor uuid.UUID, page registry.Page) ([]registry.Picture, error)
	Picture(ctx context.Context, group, id uuid.UUID) (registry.Picture, error)
	// PictureOf returns the picture of an anchor that was made of the file with
	// a hash.
	PictureOf(ctx context.Context, group, anchor uuid.UUID, hash string) (registry.Picture, error)
}

// PictureKeeper keeps what pictures are made of, by group, hash and size: the
// database, or a folder.
type PictureKeeper interface {
	// KeepPicture returns once all sizes are safe. What is kept already stays
	// as it is.
	KeepPicture(ctx context.Context, group uuid.UUID, hash string, sizes map[string][]byte) error
	// HasPicture says whether all of the sizes are kept, without reading them.
	HasPicture(ctx context.Context, group uuid.UUID, hash string, sizes []string) (bool, error)
	// KeptPicture returns one size, or fault.NotFound.
	KeptPicture(ctx context.Context, group uuid.UUID, hash, size string) ([]byte, error)
}

// PicturesIn is an option of New: what pictures are made of is kept in k
// instead of the store.
func PicturesIn(k PictureKeeper) func(*Service) {
	return func(s *Service) { s.pictures = k }
}

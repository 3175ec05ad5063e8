package postgres

import (
	"context"
	"maps"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type pictureRow struct {
	inventoryKey
	AnchorID   uuid.UUID     `json:"anchor_id"`
	RecordID   *uuid.UUID    `json:"record_id"`
	Hash       string        `json:"hash"`
	TakenOn    calendar.Date `json:"taken_on"`
	Words      string        `json:"words"`
	Width      int           `json:"width"`
	Height     int           `json:"height"`
	PersonID   *uuid.UUID    `json:"person_id"`
	RecordedAt time.Time     `json:"recorded_at"`
	EndedOn    calendar.Date `json:"ended_on"`
}

func newPictureRow(p registry.Picture) pictureRow {
	return pictureRow{
		inventoryKey{p.ID, p.Version},
		p.AnchorID, p.RecordID, p.Hash, p.TakenOn, p.Words, p.Width, p.Height,
		p.PersonID, instant(p.RecordedAt), p.EndedOn,
	}
}

func (r pictureRow) noun() registry.Picture {
	return registry.Picture{
		ID: r.ID, Version: r.Version, AnchorID: r.AnchorID, RecordID: r.RecordID, Hash: r.Hash, TakenOn: r.TakenOn,
		Words: r.Words, Width: r.Width, Height: r.Height, PersonID: r.PersonID, RecordedAt: instant(r.RecordedAt), EndedOn: r.EndedOn,
	}
}

var pictures = newTable[pictureRow]("picture")

// Pictures lists an anchor's pictures in the order of ids, those withdrawn too;
// none for an anchor that is not there. Served by picture_of_anchor_idx.
func (s *Store) Pictures(ctx context.Context, group, anchor uuid.UUID, page registry.Page) ([]registry.Picture, error) {
	f := pageOf(page)
	f.and(`t.anchor_id = @anchor_id`, "anchor_id", anchor)
	return list(ctx, s, group, f.query("list pictures", pictures.selectSQL), pictureRow.noun)
}

// Picture returns one picture, or fault.NotFound.
func (s *Store) Picture(ctx context.Context, group, id uuid.UUID) (registry.Picture, error) {
	return single(ctx, s, group, byID("read picture", pictures.selectSQL, id), pictureRow.noun)
}

// PictureOf returns the picture of an anchor that was made of the file with a
// hash, or fault.NotFound. Served by picture_hash_key.
func (s *Store) PictureOf(ctx context.Context, group, anchor uuid.UUID, hash string) (registry.Picture, error) {
	q := query{
		"read picture of anchor " + anchor.String(), pictures.selectSQL + "\nWHERE t.anchor_id = @anchor_id AND t.hash = @hash",
		pgx.StrictNamedArgs{"anchor_id": anchor, "hash": hash},
	}
	return single(ctx, s, group, q, pictureRow.noun)
}

const insertPictureData = `
INSERT INTO picture_data (group_id, hash, size, bytes)
VALUES (@group_id, @hash, @size, @bytes)
ON CONFLICT (group_id, hash, size) DO NOTHING`

// KeepPicture keeps what a picture is made of, by size; what is kept already
// stays as it is.
func (s *Store) KeepPicture(ctx context.Context, group uuid.UUID, hash string, sizes map[string][]byte) error {
	return s.read(ctx, group, "keep picture", func(b *pgx.Batch) {
		for _, size := range slices.Sorted(maps.Keys(sizes)) {
			b.Queue(insertPictureData, pgx.StrictNamedArgs{"group_id": group, "hash": hash, "size": size, "bytes": sizes[size]})
		}
	})
}

const selectPictureSizes = `
SELECT t.size
FROM picture_data AS t
WHERE t.hash = @hash AND t.size = ANY(@sizes)`

type pictureSizeRow struct {
	Size string `json:"size"`
}

// HasPicture says whether all of the sizes are kept. Served by the primary key.
func (s *Store) HasPicture(ctx context.Context, group uuid.UUID, hash string, sizes []string) (bool, error) {
	var found []pictureSizeRow
	err := s.read(ctx, group, "look for picture data", func(b *pgx.Batch) {
		all(b, &found, selectPictureSizes, pgx.StrictNamedArgs{"hash": hash, "sizes": sizes})
	})
	return len(found) == len(sizes), err
}

type pictureDataRow struct {
	Bytes []byte `json:"bytes"`
}

const selectPictureData = `
SELECT t.bytes
FROM picture_data AS t
WHERE t.hash = @hash AND t.size = @size`

// KeptPicture returns one size of a picture, or fault.NotFound.
func (s *Store) KeptPicture(ctx context.Context, group uuid.UUID, hash, size string) ([]byte, error) {
	q := query{"read picture data", selectPictureData, pgx.StrictNamedArgs{"hash": hash, "size": size}}
	return single(ctx, s, group, q, func(r pictureDataRow) []byte { return r.Bytes })
}

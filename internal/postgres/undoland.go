package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// selectLandUsed finds those of the parcels and landowners @ids that something
// stands on; served by position_on_parcel_idx, restriction_of_parcel_idx and
// agreement_of_landowner_idx.
const selectLandUsed = `
SELECT k.id
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (
  (SELECT p.id FROM position AS p WHERE p.parcel_id = k.id AND p.ended_on IS NULL LIMIT 1)
  UNION ALL
  (SELECT r.id FROM restriction AS r WHERE r.parcel_id = k.id LIMIT 1)
  UNION ALL
  (SELECT g.id FROM agreement AS g WHERE g.landowner_id = k.id LIMIT 1)) AS u`

// loadLand reads what became of the landowners and parcels that an import made,
// once the positions that it made have ended.
func (w *writer) loadLand(ctx context.Context, u *registry.Undoing, left *registry.PlacesLeft) error {
	var (
		owners     []landownerRow
		made, held []parcelRow
		used       []uuid.UUID
	)
	ofOwners := pgx.StrictNamedArgs{"ids": distinct(u.Made[landowners.name])}
	ofParcels := pgx.StrictNamedArgs{"ids": distinct(u.Made[parcels.name])}
	both := append(distinct(u.Made[landowners.name]), distinct(u.Made[parcels.name])...)
	err := w.ask(ctx, "read land that a list brought", func(b *pgx.Batch) {
		all(b, &owners, landowners.of("id", theseIDs)+byIDs, ofOwners)
		all(b, &held, parcels.of("landowner_id", theseIDs)+byIDs, ofOwners)
		all(b, &made, parcels.of("id", theseIDs)+byIDs, ofParcels)
		ids(b, &used, selectLandUsed, pgx.StrictNamedArgs{"ids": distinct(both)})
	})
	left.Landowners = convert(owners, landownerRow.noun)
	known := make(map[uuid.UUID]bool)
	for _, r := range append(made, held...) {
		if !known[r.ID] {
			known[r.ID] = true
			left.Parcels = append(left.Parcels, r.noun())
		}
	}
	left.LandUsed = make(map[uuid.UUID]bool, len(used))
	for _, id := range used {
		left.LandUsed[id] = true
	}
	return err
}

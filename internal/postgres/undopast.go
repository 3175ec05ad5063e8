package postgres

import (
	"context"
	"maps"
	"slices"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// inForce keeps the rows r of lists that were not taken back.
const inForce = `NOT EXISTS (SELECT FROM import_undo AS u WHERE u.import_id = r.import_id)`

// selectBefore reads what the newest list in force before @id had of anchors;
// imports made later have greater ids. Served by import_row_of_anchor_idx.
const selectBefore = `
SELECT k.id AS anchor_id, r.taken
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (
  SELECT r.taken
  FROM import_row AS r
  WHERE r.anchor_id = k.id AND r.import_id < @id AND ` + inForce + `
  ORDER BY r.import_id DESC, r.line DESC
  LIMIT 1) AS r
ORDER BY k.id`

// selectLater reads the newest list in force after @id that changed anchors or, if
// @any, has a row about them; served by import_row_of_anchor_idx.
const selectLater = `
SELECT k.id AS anchor_id, r.import_id, i.file_name, i.at
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (
  SELECT r.import_id
  FROM import_row AS r
  WHERE r.anchor_id = k.id AND r.import_id > @id AND (r.changed OR @any) AND ` + inForce + `
  ORDER BY r.import_id DESC
  LIMIT 1) AS r
CROSS JOIN LATERAL (SELECT i.file_name, i.at FROM import AS i WHERE i.id = r.import_id OFFSET 0) AS i
ORDER BY k.id`

type laterRow struct {
	AnchorID uuid.UUID `json:"anchor_id"`
	ImportID uuid.UUID `json:"import_id"`
	FileName string    `json:"file_name"`
	At       time.Time `json:"at"`
}

// loadAround reads which lists came before and after one, as far as they are
// about its anchors, and the land that its corrections may be put back to.
func (w *writer) loadAround(ctx context.Context, u *registry.Undoing) error {
	var (
		before        []correctedRow
		since, beyond []laterRow
		owners        []landownerRow
		held          []parcelRow
		made          = distinct(u.Made[anchors.name])
		corrected     = distinct(slices.Collect(maps.Keys(u.Corrected)))
	)
	err := w.ask(ctx, "read the lists before and after", func(b *pgx.Batch) {
		all(b, &since, selectLater, pgx.StrictNamedArgs{"ids": made, "id": u.ImportID, "any": false})
		if len(corrected) == 0 {
			return
		}
		all(b, &beyond, selectLater, pgx.StrictNamedArgs{"ids": corrected, "id": u.ImportID, "any": true})
		all(b, &before, selectBefore, pgx.StrictNamedArgs{"ids": corrected, "id": u.ImportID})
		all(b, &owners, landowners.selectSQL+byIDs, nil)
		all(b, &held, parcels.selectSQL+byIDs, nil)
	})
	u.Before, u.Later = make(map[uuid.UUID]*registry.ListRow), make(map[uuid.UUID]*registry.LaterList)
	for _, r := range before {
		u.Before[r.AnchorID] = r.Taken
	}
	for _, r := range append(since, beyond...) {
		u.Later[r.AnchorID] = &registry.LaterList{ImportID: r.ImportID, FileName: r.FileName, At: r.At}
	}
	u.Landowners, u.Parcels = convert(owners, landownerRow.noun), convert(held, parcelRow.noun)
	return err
}

// selectByLists counts the versions of rows that lists, and undoing these, made;
// served by ledger_of_row_idx.
const selectByLists = `
SELECT k.id, l.n
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (
  SELECT count(*) AS n
  FROM ledger AS l
  WHERE l.row_id = k.id AND l.noun IN ('anchor', 'fitting') AND l.what IN ('import', 'import undone')) AS l
ORDER BY k.id`

type byListsRow struct {
	ID uuid.UUID `json:"id"`
	N  int       `json:"n"`
}

// loadByLists counts, for what of a piece has changed, what of that lists did.
func (w *writer) loadByLists(ctx context.Context, p *registry.UndoPiece) error {
	var changed []uuid.UUID
	for i := range p.Facts {
		if a := &p.Facts[i].Anchor; a.Version > 1 {
			changed = append(changed, a.ID)
		}
		for _, t := range p.Facts[i].Fittings {
			changed = append(changed, t.ID)
		}
	}
	if len(changed) == 0 {
		return nil
	}
	var rows []byListsRow
	err := w.ask(ctx, "count what lists changed", func(b *pgx.Batch) {
		all(b, &rows, selectByLists, pgx.StrictNamedArgs{"ids": distinct(changed)})
	})
	p.ByLists = make(map[uuid.UUID]int, len(rows))
	for _, r := range rows {
		p.ByLists[r.ID] = r.N
	}
	return err
}

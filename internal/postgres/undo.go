package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

type undoRow struct {
	ImportID uuid.UUID `json:"import_id"`
	Anchors  int       `json:"anchors"`
	At       time.Time `json:"at"`
}

func (r undoRow) rowID() uuid.UUID { return r.ImportID }

var undos = newTable[undoRow]("import_undo")

// saveUndo enters that a list was taken back.
func (w *writer) saveUndo(ctx context.Context, ch *registry.Change) error {
	if ch.ImportUndo == nil {
		return nil
	}
	u := ch.ImportUndo
	return insert(ctx, w, undos, []undoRow{{u.ImportID, u.Anchors, instant(u.At)}})
}

// undoneImport is an import that may have been taken back.
type undoneImport struct {
	FileName string    `json:"file_name"`
	At       time.Time `json:"at"`
	Undone   bool      `json:"undone"`
}

const selectImport = `
SELECT i.file_name, i.at, EXISTS (SELECT FROM import_undo AS u WHERE u.import_id = i.id) AS undone
FROM import AS i
WHERE i.id = @id`

type madeRow struct {
	Noun  string    `json:"noun"`
	RowID uuid.UUID `json:"row_id"`
}

// selectMade reads from the ledger what an import entered; served by
// ledger_by_instant_idx. Imports of a group do not share an instant with
// another change of it that is called an import.
const selectMade = `
SELECT l.noun, l.row_id
FROM ledger AS l
WHERE l.at = @at AND l.what = 'import' AND l.before IS NULL
  AND EXISTS (SELECT FROM ledger AS i WHERE i.at = @at AND i.txid = l.txid AND i.noun = 'import' AND i.row_id = @id OFFSET 0)
ORDER BY l.noun, l.row_id`

// selectCorrected reads from an import's report which anchors of other lists it
// changed.
const selectCorrected = `
SELECT DISTINCT (c.cell->>'anchor_id')::uuid AS anchor_id
FROM import AS i
CROSS JOIN LATERAL json_array_elements(i.report->'changed_cells') AS c (cell)
WHERE i.id = @id
ORDER BY 1`

// Undo holds off intakes of the group, locks the anchors that an import
// entered, loads what must be known of it, lets decide say what to take back,
// and saves it as Change does. An import that is not there is fault.NotFound.
func (s *Store) Undo(ctx context.Context, who registry.Actor, id uuid.UUID,
	decide func(registry.Undoing, houserules.Rules) (registry.Change, error),
) error {
	return s.write(ctx, who, "undo import "+id.String(), func(w *writer) (registry.Change, error) {
		undoing, rules, err := w.loadUndoing(ctx, id)
		if err != nil {
			return registry.Change{}, err
		}
		ch, err := decide(undoing, rules)
		if err != nil {
			return registry.Change{}, decided{err}
		}
		return ch, nil
	})
}

func (w *writer) loadUndoing(ctx context.Context, id uuid.UUID) (registry.Undoing, houserules.Rules, error) {
	known, rules, err := w.loadKnown(ctx)
	if err != nil {
		return registry.Undoing{}, rules, err
	}
	u := registry.Undoing{
		ImportID: id, Made: make(map[string][]uuid.UUID),
		Sites: known.Sites, Sectors: known.Sectors, Routes: known.Routes, Positions: known.Positions, Stops: known.Stops,
	}
	if err := w.loadMade(ctx, &u); err != nil {
		return u, rules, err
	}
	return u, rules, w.loadBeside(ctx, &u)
}

// loadMade reads the import, what it entered, and which anchors of other lists
// it corrected.
func (w *writer) loadMade(ctx context.Context, u *registry.Undoing) error {
	var row undoneImport
	err := w.ask(ctx, "read import", func(b *pgx.Batch) { one(b, &row, selectImport, pgx.StrictNamedArgs{"id": u.ImportID}) })
	if err != nil {
		return err
	}
	u.FileName, u.At, u.Undone = row.FileName, row.At, row.Undone
	var made []madeRow
	err = w.ask(ctx, "read what an import entered", func(b *pgx.Batch) {
		all(b, &made, selectMade, pgx.StrictNamedArgs{"id": u.ImportID, "at": row.At})
		ids(b, &u.Corrected, selectCorrected, pgx.StrictNamedArgs{"id": u.ImportID})
	})
	for _, m := range made {
		u.Made[m.Noun] = append(u.Made[m.Noun], m.RowID)
	}
	return err
}

// loadBeside locks the anchors that the import entered, and reads their facts
// and what stands beside them.
func (w *writer) loadBeside(ctx context.Context, u *registry.Undoing) error {
	var (
		anchorRows   []anchorRow
		assemblyRows []assemblyReadRow
		proposed     []proposalRow
		at           = pgx.StrictNamedArgs{"ids": distinct(u.Made[positions.name])}
	)
	facts, err := w.lockFacts(ctx, u.Made[anchors.name], func(b *pgx.Batch, args pgx.StrictNamedArgs) {
		all(b, &proposed, selectProposalsOf, args)
		all(b, &anchorRows, anchors.of("position_id", theseIDs)+byIDs, at)
		all(b, &assemblyRows, selectNaming, at)
	})
	for _, id := range distinct(u.Made[anchors.name]) {
		if f := facts[id]; f != nil {
			u.Facts = append(u.Facts, *f)
		}
	}
	for _, r := range anchorRows {
		if facts[r.ID] == nil {
			u.Beside = append(u.Beside, r.noun())
		}
	}
	u.Proposals = convert(proposed, proposalRow.noun)
	u.Assemblies = convert(assemblyRows, assemblyReadRow.noun)
	return err
}

// selectNaming reads the assemblies that name the positions @ids; served by
// assembly_position_by_position_idx.
var selectNaming = selectAssemblies + `
WHERE t.id IN (
  SELECT ap.assembly_id
  FROM ` + theseIDs + ` AS k
  CROSS JOIN LATERAL (SELECT ap.assembly_id FROM assembly_position AS ap WHERE ap.position_id = k.id OFFSET 0) AS ap)
ORDER BY t.id`

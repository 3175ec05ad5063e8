package postgres

import (
	"context"
	"maps"
	"slices"
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

const undoneJob = `
UPDATE import_job AS t
SET state = 'undone', undone = @undone
WHERE t.id = @id`

// saveUndo enters that a list was taken back.
func (w *writer) saveUndo(ctx context.Context, ch *registry.Change) error {
	if ch.ImportUndo == nil {
		return nil
	}
	u := ch.ImportUndo
	return first(
		func() error { return insert(ctx, w, undos, []undoRow{{u.ImportID, u.Counts.Anchors, instant(u.At)}}) },
		func() error {
			return w.exec(ctx, "note that a list is undone", undoneJob, pgx.StrictNamedArgs{"id": u.ImportID, "undone": u.Counts})
		},
	)
}

// undoneImport is an import that may have been taken back.
type undoneImport struct {
	FileName string    `json:"file_name"`
	At       time.Time `json:"at"`
	Undone   bool      `json:"undone"`
	Open     bool      `json:"open"`
	Asked    bool      `json:"asked"`
}

const selectImport = `
SELECT i.file_name, i.at, EXISTS (SELECT FROM import_undo AS u WHERE u.import_id = i.id) AS undone,
  EXISTS (SELECT FROM import_job AS j WHERE j.id = i.id AND j.state IN ('waiting', 'running')) AS open,
  EXISTS (SELECT FROM import_job AS j WHERE j.id = i.id AND j.state = 'undoing') AS asked
FROM import AS i
WHERE i.id = @id`

type madeRow struct {
	Noun  string    `json:"noun"`
	RowID uuid.UUID `json:"row_id"`
	// Altered says that the import changed what was there, by a piece of its own
	// before or else.
	Altered bool `json:"altered"`
}

// selectMade reads from the ledger what an import entered, a long list in the
// transactions of its pieces, and which sites it altered; served by
// ledger_of_row_idx and ledger_in_order_idx. The instant is asked too, since
// entries from before eras were counted may share a transaction's number.
const selectMade = `
SELECT l.noun, l.row_id, l.altered
FROM (
  SELECT DISTINCT i.era, i.txid, i.at
  FROM ledger AS i
  WHERE i.row_id = @id AND i.noun = 'import') AS i
CROSS JOIN LATERAL (
  SELECT l.noun, l.row_id, l.before IS NOT NULL AS altered
  FROM ledger AS l
  WHERE l.era = i.era AND l.txid = i.txid AND l.at = i.at AND l.what = 'import' AND (l.before IS NULL OR l.noun = 'site')
  OFFSET 0) AS l
ORDER BY l.noun, l.row_id`

// selectCorrected reads which anchors of other lists an import changed, and by
// which rows.
const selectCorrected = `
SELECT r.anchor_id, r.taken
FROM import_row AS r
WHERE r.import_id = @id AND r.changed
ORDER BY r.line`

type correctedRow struct {
	AnchorID uuid.UUID         `json:"anchor_id"`
	Taken    *registry.ListRow `json:"taken"`
}

// undoAtOnce is how many anchors are in memory at a time while an import is
// undone.
const undoAtOnce = 1000

// Undo holds off intakes of the group, lets decide look at an import, then
// locks the anchors that it entered, piece by piece in id order, and saves what
// the steps say. All of it is one transaction. An import that is not there is
// fault.NotFound; where other intakes do not end within 20 s it is fault.Busy.
func (s *Store) Undo(ctx context.Context, who registry.Actor, id uuid.UUID,
	decide func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error),
) error {
	return s.undo(ctx, who, id, s.intakeWait, decide)
}

// UndoInTurn is Undo, but waits for other intakes as long as it takes.
func (s *Store) UndoInTurn(ctx context.Context, who registry.Actor, id uuid.UUID,
	decide func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error),
) error {
	return s.undo(ctx, who, id, 0, decide)
}

func (s *Store) undo(ctx context.Context, who registry.Actor, id uuid.UUID, wait time.Duration,
	decide func(registry.Undoing, houserules.Rules) (registry.UndoSteps, error),
) error {
	return s.write(ctx, who, "undo import "+id.String(), func(w *writer) (registry.Change, error) {
		rules, err := w.holdIntake(ctx, wait)
		if err != nil {
			return registry.Change{}, err
		}
		u := registry.Undoing{ImportID: id, Made: make(map[string][]uuid.UUID), Altered: make(map[uuid.UUID]int), Corrected: make(map[uuid.UUID]*registry.ListRow)}
		if err := w.loadMade(ctx, &u); err != nil {
			return registry.Change{}, err
		}
		steps, err := decide(u, rules)
		if err != nil {
			return registry.Change{}, decided{err}
		}
		return w.undo(ctx, &u, steps)
	})
}

// undo saves what the steps say of the anchors, and returns what they say of
// the rest.
func (w *writer) undo(ctx context.Context, u *registry.Undoing, steps registry.UndoSteps) (registry.Change, error) {
	made := make(map[uuid.UUID]bool)
	for _, id := range u.Made[anchors.name] {
		made[id] = true
	}
	at := make(map[uuid.UUID]bool) // sites
	for _, id := range u.Made[sites.name] {
		at[id] = true
	}
	theirs := slices.AppendSeq(slices.Clone(u.Made[anchors.name]), maps.Keys(u.Corrected))
	for part := range slices.Chunk(distinct(theirs), undoAtOnce) {
		p, err := w.loadUndoPiece(ctx, part, made)
		if err != nil {
			return registry.Change{}, err
		}
		for i := range p.Facts {
			at[p.Facts[i].Site.ID] = true
		}
		if err := w.savePart(ctx, steps.Take(p)); err != nil {
			return registry.Change{}, err
		}
		w.settle()
	}
	left, err := w.loadLeft(ctx, slices.Collect(maps.Keys(at)))
	if err == nil {
		err = w.loadLand(ctx, u, &left)
	}
	if err != nil {
		return registry.Change{}, err
	}
	ch, err := steps.End(left)
	if err != nil {
		return registry.Change{}, decided{err}
	}
	return ch, nil
}

// loadMade reads the import, what it entered, and what stands beside it.
func (w *writer) loadMade(ctx context.Context, u *registry.Undoing) error {
	var row undoneImport
	err := w.ask(ctx, "read import", func(b *pgx.Batch) { one(b, &row, selectImport, pgx.StrictNamedArgs{"id": u.ImportID}) })
	if err != nil {
		return err
	}
	u.FileName, u.At, u.Undone, u.Open, u.Asked = row.FileName, row.At, row.Undone, row.Open, row.Asked
	var (
		made      []madeRow
		corrected []correctedRow
	)
	err = w.ask(ctx, "read what an import entered", func(b *pgx.Batch) {
		all(b, &made, selectMade, pgx.StrictNamedArgs{"id": u.ImportID})
		all(b, &corrected, selectCorrected, pgx.StrictNamedArgs{"id": u.ImportID})
	})
	if err != nil {
		return err
	}
	for _, c := range corrected {
		u.Corrected[c.AnchorID] = c.Taken
	}
	for _, m := range made {
		if m.Altered {
			u.Altered[m.RowID]++
			continue
		}
		u.Made[m.Noun] = append(u.Made[m.Noun], m.RowID)
	}
	var assemblyRows []assemblyReadRow
	err = w.ask(ctx, "read assemblies", func(b *pgx.Batch) {
		all(b, &assemblyRows, selectNaming, pgx.StrictNamedArgs{"ids": distinct(u.Made[positions.name])})
	})
	u.Assemblies = convert(assemblyRows, assemblyReadRow.noun)
	if err != nil {
		return err
	}
	return w.loadAround(ctx, u)
}

// loadUndoPiece locks anchors, some made by the import and some corrected, and
// reads their facts and the anchors beside them that are not among those made.
func (w *writer) loadUndoPiece(ctx context.Context, anchorIDs []uuid.UUID, made map[uuid.UUID]bool) (registry.UndoPiece, error) {
	var (
		p        registry.UndoPiece
		rows     []anchorRow
		proposed []proposalRow
	)
	facts, err := w.lockFacts(ctx, anchorIDs, func(b *pgx.Batch, args pgx.StrictNamedArgs) {
		all(b, &proposed, selectProposalsOf, args)
		all(b, &rows, anchors.of("position_id", theirPositions)+byIDs, args)
	})
	for _, id := range anchorIDs {
		switch f := facts[id]; {
		case f == nil:
		case made[id]:
			p.Facts = append(p.Facts, *f)
		default:
			p.Corrected = append(p.Corrected, *f)
		}
	}
	for _, r := range rows {
		if !made[r.ID] && !r.Mistaken {
			p.Beside = append(p.Beside, r.noun())
		}
	}
	p.Proposals = convert(proposed, proposalRow.noun)
	if err != nil {
		return p, err
	}
	return p, w.loadByLists(ctx, &p)
}

// loadLeft reads what is at sites.
func (w *writer) loadLeft(ctx context.Context, siteIDs []uuid.UUID) (registry.PlacesLeft, error) {
	var rows knownRows
	if err := w.ask(ctx, "load places", func(b *pgx.Batch) { rows.queuePlaces(b, distinct(siteIDs)) }); err != nil {
		return registry.PlacesLeft{}, err
	}
	k := rows.known()
	return registry.PlacesLeft{Sites: k.Sites, Sectors: k.Sectors, Routes: k.Routes, Positions: k.Positions, Stops: k.Stops}, nil
}

// selectNaming reads the assemblies that name the positions @ids; served by
// assembly_position_by_position_idx.
var selectNaming = selectAssemblies + `
WHERE t.id IN (
  SELECT ap.assembly_id
  FROM ` + theseIDs + ` AS k
  CROSS JOIN LATERAL (SELECT ap.assembly_id FROM assembly_position AS ap WHERE ap.position_id = k.id OFFSET 0) AS ap)
ORDER BY t.id`

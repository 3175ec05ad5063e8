package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

type erasureRow struct {
	ID       uuid.UUID `json:"id"`
	PersonID uuid.UUID `json:"person_id"`
	Reason   string    `json:"reason"`
	At       time.Time `json:"at"`
}

func (r erasureRow) rowID() uuid.UUID { return r.ID }

func newErasureRow(e registry.Erasure) erasureRow {
	return erasureRow{e.ID, e.PersonID, e.Reason, instant(e.At)}
}

var erasures = newTable[erasureRow]("erasure")

type holdRow struct {
	inventoryKey
	Over     word          `json:"over"`
	OverID   *uuid.UUID    `json:"over_id"`
	Reason   string        `json:"reason"`
	UntilOn  calendar.Date `json:"until_on"`
	LiftedOn calendar.Date `json:"lifted_on"`
}

func newHoldRow(h registry.LegalHold) holdRow {
	return holdRow{inventoryKey{h.ID, h.Version}, word(h.Over), h.OverID, h.Reason, h.Until, h.LiftedOn}
}

func (r holdRow) noun() registry.LegalHold {
	return registry.LegalHold{
		ID: r.ID, Version: r.Version, Over: registry.HoldOver(r.Over), OverID: r.OverID, Reason: r.Reason, Until: r.UntilOn, LiftedOn: r.LiftedOn,
	}
}

var holds = newTable[holdRow]("legal_hold")

// LegalHolds lists legal holds, lifted ones too, in the order of ids.
func (s *Store) LegalHolds(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.LegalHold, error) {
	return list(ctx, s, group, pageOf(page).query("list legal holds", holds.selectSQL), holdRow.noun)
}

// LegalHold returns one legal hold, or fault.NotFound.
func (s *Store) LegalHold(ctx context.Context, group, id uuid.UUID) (registry.LegalHold, error) {
	return single(ctx, s, group, byID("read legal hold", holds.selectSQL, id), holdRow.noun)
}

// lockHolds lets one erasure of a group, or one new legal hold, at a time
// through.
const lockHolds = `SELECT pg_advisory_xact_lock(hashtextextended('legal hold ' || $1::text, 0))`

// namedAt are the anchors that records name a person with: read through, since
// it is asked seldom.
const namedAt = `
  SELECT anchor_id FROM installation WHERE person_id = @person_id
  UNION SELECT anchor_id FROM cure WHERE person_id = @person_id
  UNION SELECT anchor_id FROM first_use WHERE person_id = @person_id
  UNION SELECT anchor_id FROM inspection WHERE person_id = @person_id
  UNION SELECT anchor_id FROM maintenance WHERE person_id = @person_id
  UNION SELECT anchor_id FROM removal WHERE person_id = @person_id
  UNION SELECT anchor_id FROM marking WHERE person_id = @person_id
  UNION SELECT anchor_id FROM settlement WHERE person_id = @person_id
  UNION SELECT anchor_id FROM retraction WHERE person_id = @person_id
  UNION SELECT anchor_id FROM picture WHERE person_id = @person_id
  UNION
  SELECT i.anchor_id
  FROM gluing_session AS g
  JOIN installation AS i ON i.session_id = g.id
  WHERE @person_id IN (g.set_by_id, g.supervised_by_id, g.checked_by_id)`

// selectHolding finds the legal holds that keep a person from being erased.
var selectHolding = holds.selectSQL + `
WHERE t.lifted_on IS NULL AND (t.until_on IS NULL OR t.until_on >= @as_of)
  AND (t.over = 'all'
    OR t.over = 'person' AND t.over_id = @person_id
    OR t.over = 'anchor' AND t.over_id IN (` + namedAt + `)
    OR t.over = 'site' AND t.over_id IN (SELECT a.site_id FROM anchor AS a WHERE a.id IN (` + namedAt + `)))
ORDER BY t.id
LIMIT 1`

// queueHolding asks for a legal hold that keeps a person from being erased.
func queueHolding(b *pgx.Batch, into *[]holdRow, person uuid.UUID, asOf calendar.Date) {
	all(b, into, selectHolding, pgx.StrictNamedArgs{"person_id": person, "as_of": asOf})
}

// onHold is fault.Conflict, with code OnHold, where a legal hold was found.
func onHold(person uuid.UUID, found []holdRow) error {
	if len(found) == 0 {
		return nil
	}
	return fault.New(fault.Conflict, "person %s: legal hold %s is in force", person, found[0].ID).
		WithCode(fault.OnHold).With("hold_id", found[0].ID.String(), "over", string(found[0].Over))
}

// Held is fault.Conflict, with code OnHold, while a legal hold is in force on
// asOf over the person or what records name the person with. One that is set
// later does not reach back.
func (s *Store) Held(ctx context.Context, group, person uuid.UUID, asOf calendar.Date) error {
	var found []holdRow
	err := s.read(ctx, group, "read legal holds", func(b *pgx.Batch) { queueHolding(b, &found, person, asOf) })
	if err != nil {
		return err
	}
	return onHold(person, found)
}

// ErasePerson puts another text in place of a person's name, with the record of
// it, and takes away what the ledger's entries about the name could be tried
// with. It is fault.Conflict, with code OnHold, while a legal hold is in force on
// asOf over the person or what records name the person with, and fault.NotFound
// for nobody. A person who is erased already is left as is.
func (s *Store) ErasePerson(ctx context.Context, who registry.Actor, e registry.Erasure, asOf calendar.Date) error {
	return s.write(ctx, who, "erase person "+e.PersonID.String(), func(w *writer) (registry.Change, error) {
		var (
			person  personRow
			holding []holdRow
		)
		err := w.ask(ctx, "read legal holds", func(b *pgx.Batch) {
			b.Queue(setGroup, w.group.String())
			b.Queue(lockHolds, w.group.String())
			one(b, &person, persons.selectSQL+"\nWHERE t.id = @id\nFOR NO KEY UPDATE", pgx.StrictNamedArgs{"id": e.PersonID})
			queueHolding(b, &holding, e.PersonID, asOf)
		})
		if err != nil || person.Erased {
			return registry.Change{}, err
		}
		if err := onHold(e.PersonID, holding); err != nil {
			return registry.Change{}, err
		}
		p := person.noun()
		p.Name, p.Erased = registry.ErasedName, true
		return registry.Change{What: "person erased", At: e.At, Persons: []registry.Person{p}, Erasures: []registry.Erasure{e}}, nil
	})
}

// saveErasures enters erasures and legal holds, and takes the salts of those
// erased away.
func (w *writer) saveErasures(ctx context.Context, ch *registry.Change) error {
	return first(
		func() error { return insert(ctx, w, erasures, convert(ch.Erasures, newErasureRow)) },
		func() error {
			return w.dropSalts(ctx, persons.name, convert(ch.Erasures, func(e registry.Erasure) uuid.UUID { return e.PersonID }))
		},
		func() error { return w.saveHolds(ctx, ch.LegalHolds) },
	)
}

func (w *writer) saveHolds(ctx context.Context, list []registry.LegalHold) error {
	if len(list) == 0 {
		return nil
	}
	if err := w.ask(ctx, "wait for erasures", func(b *pgx.Batch) { b.Queue(lockHolds, w.group.String()) }); err != nil {
		return err
	}
	return save(ctx, w, holds, convert(list, newHoldRow))
}

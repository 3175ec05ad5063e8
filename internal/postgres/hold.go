package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

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
  WHERE @person_id IN (g.set_by_id, g.supervised_by_id, g.checked_by_id, g.sample_found_by_id)`

// landAt are the positions on a landowner's parcels, as of now.
const landAt = `
  SELECT p.id, p.site_id
  FROM parcel AS l
  CROSS JOIN LATERAL (SELECT p.id, p.site_id FROM position AS p WHERE p.parcel_id = l.id OFFSET 0) AS p
  WHERE l.landowner_id = @landowner_id`

const holdInForce = `
WHERE t.lifted_on IS NULL AND (t.until_on IS NULL OR t.until_on >= @as_of)
  AND (t.over = 'all'`

// selectHolding finds the legal holds that keep a person, or a landowner, from
// being erased.
var selectHolding = map[registry.HoldOver]string{
	registry.HoldPerson: holds.selectSQL + holdInForce + `
    OR t.over = 'person' AND t.over_id = @person_id
    OR t.over = 'anchor' AND t.over_id IN (` + namedAt + `)
    OR t.over = 'site' AND t.over_id IN (SELECT a.site_id FROM anchor AS a WHERE a.id IN (` + namedAt + `)))
ORDER BY t.id
LIMIT 1`,
	registry.HoldLandowner: holds.selectSQL + holdInForce + `
    OR t.over = 'landowner' AND t.over_id = @landowner_id
    OR t.over = 'anchor' AND t.over_id IN (
      SELECT a.id FROM anchor AS a WHERE a.position_id IN (SELECT p.id FROM (` + landAt + `) AS p))
    OR t.over = 'site' AND t.over_id IN (SELECT p.site_id FROM (` + landAt + `) AS p))
ORDER BY t.id
LIMIT 1`,
}

// queueHolding asks for a legal hold that is over somebody. It comes after
// lockHolds: one that is being placed meanwhile is waited for, and seen.
func queueHolding(b *pgx.Batch, into *[]holdRow, u registry.Unheld) {
	all(b, into, selectHolding[u.Over], pgx.StrictNamedArgs{string(u.Over) + "_id": u.ID, "as_of": u.AsOf})
}

// onHold is fault.Conflict, with code OnHold, where a legal hold was found.
func onHold(u registry.Unheld, found []holdRow) error {
	if len(found) == 0 {
		return nil
	}
	return fault.New(fault.Conflict, "%s %s: legal hold %s is in force", u.Over, u.ID, found[0].ID).
		WithCode(fault.OnHold).With("hold_id", found[0].ID.String(), "over", string(found[0].Over))
}

// wantUnheld is fault.Conflict, with code OnHold, while a legal hold is in force
// over any of those whom a change wants unheld, or over what names them. It comes
// before the change is written, in its transaction, so that no hold slips in
// between.
func (w *writer) wantUnheld(ctx context.Context, ch *registry.Change) error {
	for _, u := range ch.Unheld {
		var found []holdRow
		err := w.ask(ctx, "read legal holds", func(b *pgx.Batch) {
			b.Queue(lockHolds, w.group.String())
			queueHolding(b, &found, u)
		})
		if err != nil {
			return err
		}
		if err := onHold(u, found); err != nil {
			return err
		}
	}
	return nil
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

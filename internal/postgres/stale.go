package postgres

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// selectStale looks through the group's anchors in the order of ids.
const selectStale = `
SELECT t.id
FROM anchor AS t
LEFT JOIN assessment AS x ON x.anchor_id = t.id
LEFT JOIN assessment_due AS d ON d.anchor_id = t.id
WHERE x.anchor_id IS NULL
  OR d.anchor_id IS NOT NULL
  OR x.valid_until < @as_of
  OR x.engine <> @engine
  OR x.rules_version <> (SELECT max(version) FROM house_rules)
ORDER BY t.id
LIMIT @max_rows`

// Stale lists up to limit anchors, in the order of ids, whose assessment is
// missing, queued, past its valid_until on asOf, or of another engine or
// house-rules version.
func (s *Store) Stale(ctx context.Context, group uuid.UUID, engine int, asOf calendar.Date, limit int) ([]uuid.UUID, error) {
	var stale []uuid.UUID
	err := s.read(ctx, group, "list stale anchors", func(b *pgx.Batch) {
		ids(b, &stale, selectStale, pgx.StrictNamedArgs{"engine": engine, "as_of": asOf, "max_rows": limit})
	})
	return stale, err
}

// selectBeside lists the anchors that rest on facts beside them.
const selectBeside = `
SELECT t.id
FROM anchor AS t
WHERE t.site_id = ANY (@site_ids)
  OR t.position_id = ANY (@position_ids)
  OR t.position_id IN (SELECT rp.position_id FROM route_position AS rp WHERE rp.route_id = ANY (@route_ids))
ORDER BY t.id`

// insertDue waits for whoever is assessing these anchors from older facts, and
// queues them again.
const insertDue = `
INSERT INTO assessment_due (group_id, anchor_id)
SELECT @group_id, d.anchor_id
FROM unnest(@ids::uuid[]) AS d (anchor_id)
ORDER BY d.anchor_id
ON CONFLICT (group_id, anchor_id) DO UPDATE
SET since = excluded.since`

// queueStale queues the anchors beside what this change changed, but those
// that it assesses itself.
func (w *writer) queueStale(ctx context.Context, ch *registry.Change) error {
	args, found := w.beside(ch)
	if !found {
		return nil
	}
	var stale []uuid.UUID
	err := w.ask(ctx, "find anchors beside", func(b *pgx.Batch) { ids(b, &stale, selectBeside, args) })
	if err != nil {
		return err
	}
	assessed := make(map[uuid.UUID]bool, len(ch.Assessments))
	for i := range ch.Assessments {
		assessed[ch.Assessments[i].AnchorID] = true
	}
	stale = slices.DeleteFunc(stale, func(id uuid.UUID) bool { return assessed[id] })
	if len(stale) == 0 {
		return nil
	}
	return w.exec(ctx, "queue stale anchors", insertDue, pgx.StrictNamedArgs{"group_id": w.group, "ids": stale})
}

// beside names the stored places whose anchors may stand otherwise after the
// change: sites, positions and routes that changed, and stored positions that
// came onto a route, or into or out of an assembly.
func (w *writer) beside(ch *registry.Change) (args pgx.StrictNamedArgs, found bool) {
	siteIDs, positionIDs, routeIDs := []uuid.UUID{}, append([]uuid.UUID{}, w.left...), []uuid.UUID{}
	for i := range ch.Sites {
		if ch.Sites[i].Version > 0 {
			siteIDs = append(siteIDs, ch.Sites[i].ID)
		}
	}
	for i := range ch.Routes {
		if ch.Routes[i].Version > 0 {
			routeIDs = append(routeIDs, ch.Routes[i].ID)
		}
	}
	fresh := make(map[uuid.UUID]bool)
	for i := range ch.Positions {
		if ch.Positions[i].Version > 0 {
			positionIDs = append(positionIDs, ch.Positions[i].ID)
		} else {
			fresh[ch.Positions[i].ID] = true
		}
	}
	for _, id := range joined(ch) {
		if !fresh[id] {
			positionIDs = append(positionIDs, id)
		}
	}
	args = pgx.StrictNamedArgs{"site_ids": siteIDs, "position_ids": positionIDs, "route_ids": routeIDs}
	return args, len(siteIDs)+len(positionIDs)+len(routeIDs) > 0
}

// joined lists the positions that come onto a route or into an assembly.
func joined(ch *registry.Change) []uuid.UUID {
	var list []uuid.UUID
	for _, s := range ch.Stops {
		list = append(list, s.PositionID)
	}
	for _, a := range ch.Assemblies {
		list = append(list, a.PositionIDs...)
	}
	return list
}

const deleteDue = `DELETE FROM assessment_due WHERE anchor_id = ANY (@ids)`

// dequeue takes off the queue the anchors that were assessed here and stood on
// it before their facts were read. Any that came onto it later stays.
func (w *writer) dequeue(ctx context.Context, list []registry.Assessment) error {
	seen := make(map[uuid.UUID]bool, len(w.queued))
	for _, id := range w.queued {
		seen[id] = true
	}
	var done []uuid.UUID
	for i := range list {
		if seen[list[i].AnchorID] {
			done = append(done, list[i].AnchorID)
		}
	}
	return w.clear(ctx, deleteDue, done)
}

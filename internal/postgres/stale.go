package postgres

import (
	"context"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// selectStale looks at stale anchors only: those on the queue, where an anchor
// that was never assessed stands too, then by assessment_by_end_idx and
// assessment_by_making_idx.
const selectStale = `
WITH rules AS MATERIALIZED (SELECT max(version) AS version FROM house_rules),
queued AS MATERIALIZED (
  SELECT d.anchor_id
  FROM assessment_due AS d
  ORDER BY d.anchor_id
  LIMIT @max_rows),
past AS MATERIALIZED (
  SELECT x.anchor_id
  FROM assessment AS x
  WHERE x.valid_until < @as_of
  ORDER BY x.valid_until, x.anchor_id
  LIMIT @max_rows),
older AS MATERIALIZED (
  SELECT x.anchor_id
  FROM assessment AS x
  WHERE (x.rules_version, x.engine) < ((SELECT version FROM rules), @engine)
  ORDER BY x.rules_version, x.engine, x.anchor_id
  LIMIT @max_rows),
newer AS MATERIALIZED (
  SELECT x.anchor_id
  FROM assessment AS x
  WHERE (x.rules_version, x.engine) > ((SELECT version FROM rules), @engine)
  ORDER BY x.rules_version, x.engine, x.anchor_id
  LIMIT @max_rows)
SELECT anchor_id FROM queued
UNION SELECT anchor_id FROM past
UNION SELECT anchor_id FROM older
UNION SELECT anchor_id FROM newer
ORDER BY anchor_id
LIMIT @max_rows`

// Stale lists up to limit anchors, in the order of ids, whose assessment is
// missing, queued, past its valid_until on asOf, or of another engine or
// house-rules version. Where there are more it picks the same ones until they
// are assessed.
func (s *Store) Stale(ctx context.Context, group uuid.UUID, engine int, asOf calendar.Date, limit int) ([]uuid.UUID, error) {
	var stale []uuid.UUID
	err := s.read(ctx, group, "list stale anchors", func(b *pgx.Batch) {
		ids(b, &stale, selectStale, pgx.StrictNamedArgs{"engine": engine, "as_of": asOf, "max_rows": limit})
	})
	return stale, err
}

// selectBeside lists living anchors at places; served by anchor_by_site_idx,
// position_of_sector_idx, the primary key of route_position and
// anchor_at_position_idx.
const selectBeside = `
SELECT a.id
FROM unnest(@site_ids::uuid[]) AS k (id)
CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.site_id = k.id AND NOT a.removed OFFSET 0) AS a
UNION
SELECT a.id
FROM (
  SELECT unnest(@position_ids::uuid[]) AS id
  UNION ALL
  SELECT p.id
  FROM unnest(@sector_ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (SELECT p.id FROM position AS p WHERE p.sector_id = k.id OFFSET 0) AS p
  UNION ALL
  SELECT rp.position_id
  FROM unnest(@route_ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (SELECT rp.position_id FROM route_position AS rp WHERE rp.route_id = k.id OFFSET 0) AS rp
) AS p
CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.position_id = p.id AND NOT a.removed OFFSET 0) AS a`

// insertDue waits for whoever is assessing these anchors from older facts, and
// queues them again.
const insertDue = `
INSERT INTO assessment_due (group_id, anchor_id)
SELECT @group_id, d.anchor_id
FROM unnest(@ids::uuid[]) AS d (anchor_id)
ORDER BY d.anchor_id
ON CONFLICT (group_id, anchor_id) DO UPDATE
SET since = excluded.since`

// queueStale queues the anchors that this change speaks of, and those beside
// what it changed, but for those that it assesses itself.
func (w *writer) queueStale(ctx context.Context, ch *registry.Change) error {
	w.lookBeside(ch)
	stale, err := w.anchorsAt(ctx, w.places)
	if err != nil {
		return err
	}
	setWith, err := w.anchorsSetWith(ctx, ch)
	if err != nil {
		return err
	}
	stale = append(append(append(stale, w.beside...), setWith...), spokenOf(ch)...)
	blind, err := w.assessedBlind(ctx, ch)
	if err != nil {
		return err
	}
	assessed := make(map[uuid.UUID]bool, len(ch.Assessments))
	for i := range ch.Assessments {
		assessed[ch.Assessments[i].AnchorID] = !blind
	}
	stale = slices.DeleteFunc(distinct(stale), func(id uuid.UUID) bool { return assessed[id] })
	if len(stale) == 0 {
		return nil
	}
	return w.exec(ctx, "queue stale anchors", insertDue, pgx.StrictNamedArgs{"group_id": w.group, "ids": stale})
}

// selectOpenCriteria is served by notice_by_criterion_idx.
const selectOpenCriteria = `
SELECT n.id, n.version
FROM notice AS n
WHERE n.by_criterion AND n.ended_on IS NULL
ORDER BY n.id`

// assessedBlind says whether the assessments that a change brings may have missed
// a notice that goes by a criterion: they rest on facts from before it, which
// for a new anchor hold no notices, and for a new setting or fitting no batch.
// Such anchors are assessed and queued,
// unless the change heeded each notice as it stands.
func (w *writer) assessedBlind(ctx context.Context, ch *registry.Change) (bool, error) {
	if w.judge != nil || len(ch.Assessments) == 0 || len(ch.Anchors)+len(ch.Installations)+len(ch.Fittings) == 0 {
		return false, nil
	}
	var open []inventoryKey
	err := w.ask(ctx, "look for open notices", func(b *pgx.Batch) { all(b, &open, selectOpenCriteria, nil) })
	return slices.ContainsFunc(open, func(k inventoryKey) bool { return ch.Heeded[k.ID] != k.Version }), err
}

// anchorsAt lists living anchors at the places.
func (w *writer) anchorsAt(ctx context.Context, places []registry.Place) (found []uuid.UUID, err error) {
	if len(places) == 0 {
		return nil, nil
	}
	err = w.ask(ctx, "find anchors beside", func(b *pgx.Batch) { ids(b, &found, selectBeside, besideArgs(places)) })
	return found, err
}

func besideArgs(places []registry.Place) pgx.StrictNamedArgs {
	at := make(map[registry.PlaceKind][]uuid.UUID)
	for _, p := range places {
		at[p.Kind] = append(at[p.Kind], p.ID)
	}
	return pgx.StrictNamedArgs{
		"site_ids": distinct(at[registry.AtSite]), "sector_ids": distinct(at[registry.AtSector]),
		"route_ids": distinct(at[registry.AtRoute]), "position_ids": distinct(at[registry.AtPosition]),
	}
}

// lookBeside remembers the stored places whose anchors may stand otherwise
// after the change: sites, positions and routes that changed, and stored
// positions that came onto a route or into an assembly. What environments and
// events speak of, and what left a route or an assembly, is remembered where it
// is written.
func (w *writer) lookBeside(ch *registry.Change) {
	fresh := make(map[uuid.UUID]bool)
	look := func(kind registry.PlaceKind, id uuid.UUID, version int) {
		if version > 0 {
			w.places = append(w.places, registry.Place{Kind: kind, ID: id})
		}
		fresh[id] = version == 0
	}
	for i := range ch.Sites {
		look(registry.AtSite, ch.Sites[i].ID, ch.Sites[i].Version)
	}
	for i := range ch.Routes {
		look(registry.AtRoute, ch.Routes[i].ID, ch.Routes[i].Version)
	}
	for i := range ch.Positions {
		look(registry.AtPosition, ch.Positions[i].ID, ch.Positions[i].Version)
	}
	for _, id := range joined(ch) {
		if !fresh[id] {
			w.places = append(w.places, registry.Place{Kind: registry.AtPosition, ID: id})
		}
	}
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

// spokenOf lists the anchors that a change itself speaks of.
func spokenOf(ch *registry.Change) []uuid.UUID {
	list := convert(ch.Anchors, func(a registry.Anchor) uuid.UUID { return a.ID })
	list = append(list, convert(ch.Fittings, func(f registry.Fitting) uuid.UUID { return f.AnchorID })...)
	list = append(list, convert(ch.Installations, func(r registry.Installation) uuid.UUID { return r.AnchorID })...)
	list = append(list, convert(ch.Cures, func(r registry.Cure) uuid.UUID { return r.AnchorID })...)
	list = append(list, convert(ch.FirstUses, func(r registry.FirstUse) uuid.UUID { return r.AnchorID })...)
	list = append(list, convert(ch.Inspections, func(r registry.Inspection) uuid.UUID { return r.AnchorID })...)
	list = append(list, convert(ch.Maintenance, func(r registry.Maintenance) uuid.UUID { return r.AnchorID })...)
	list = append(list, convert(ch.Markings, func(r registry.Marking) uuid.UUID { return r.AnchorID })...)
	list = append(list, convert(ch.Removals, func(r registry.Removal) uuid.UUID { return r.AnchorID })...)
	list = append(list, convert(ch.Settlements, func(r registry.Settlement) uuid.UUID { return r.AnchorID })...)
	list = append(list, convert(ch.Retractions, func(r registry.Retraction) uuid.UUID { return r.AnchorID })...)
	for _, n := range ch.Notices {
		list = append(list, n.AnchorIDs...)
	}
	return list
}

const deleteDue = `DELETE FROM assessment_due WHERE anchor_id = @id`

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

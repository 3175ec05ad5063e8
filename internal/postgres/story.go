package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// storyRows are the rows behind one anchor's story.
type storyRows struct {
	facts       factRows
	place       placeRow
	routes      []routeRow
	persons     []personRow
	products    []productRow
	batches     []batchRow
	assessments assessmentRows
	history     []historyReadRow
	others      []anchorRow
}

type historyReadRow struct {
	At       time.Time     `json:"at"`
	Standing word          `json:"standing"`
	DueOn    calendar.Date `json:"due_on"`
	DueState word          `json:"due_state"`
	Rules    []string      `json:"rules"`
	Settled  []string      `json:"settled"`
}

func (r historyReadRow) noun() registry.HistoryRow {
	return registry.HistoryRow{
		At: r.At.UTC(), Standing: registry.Standing(r.Standing), DueOn: r.DueOn, DueState: registry.DueState(r.DueState),
		Rules: r.Rules, Settled: r.Settled,
	}
}

// Sources of what one anchor's story names besides its facts.
const (
	storyPosition = `(SELECT a.position_id AS id FROM anchor AS a WHERE a.id = @id OFFSET 0)`
	storyRoutes   = `(
  SELECT rp.route_id AS id
  FROM ` + storyPosition + ` AS a
  CROSS JOIN LATERAL (SELECT rp.route_id FROM route_position AS rp WHERE rp.position_id = a.id OFFSET 0) AS rp)`
	storyPersons = `(
  SELECT person_id AS id FROM installation WHERE anchor_id = @id
  UNION SELECT unnest(ARRAY[g.set_by_id, g.supervised_by_id, g.checked_by_id])` + storySessionsNamed + `
  UNION SELECT person_id FROM cure WHERE anchor_id = @id
  UNION SELECT person_id FROM first_use WHERE anchor_id = @id
  UNION SELECT person_id FROM inspection WHERE anchor_id = @id
  UNION SELECT person_id FROM maintenance WHERE anchor_id = @id
  UNION SELECT person_id FROM removal WHERE anchor_id = @id
  UNION SELECT person_id FROM marking WHERE anchor_id = @id
  UNION SELECT person_id FROM settlement WHERE anchor_id = @id
  UNION SELECT person_id FROM retraction WHERE anchor_id = @id)`
	storyProducts = `(
  SELECT product_id AS id FROM anchor WHERE id = @id
  UNION SELECT hardware_id FROM installation WHERE anchor_id = @id
  UNION SELECT product_id FROM fitting WHERE anchor_id = @id
  UNION SELECT adhesive_id FROM installation WHERE anchor_id = @id
  UNION SELECT g.adhesive_id` + storySessionsNamed + `
  UNION
  SELECT b.product_id
  FROM ` + storyBatches + ` AS n
  CROSS JOIN LATERAL (SELECT b.product_id FROM batch AS b WHERE b.id = n.id OFFSET 0) AS b)`
	storyBatches = `(
  SELECT batch_id AS id FROM installation WHERE anchor_id = @id
  UNION SELECT batch_id FROM fitting WHERE anchor_id = @id
  UNION SELECT g.batch_id` + storySessionsNamed + `)`
	storySessionsNamed = `
  FROM (
    WITH RECURSIVE named (id) AS (
      SELECT i.session_id FROM installation AS i WHERE i.anchor_id = @id AND i.session_id IS NOT NULL
      UNION
      SELECT g.id
      FROM named AS n
      CROSS JOIN LATERAL (SELECT g.id FROM gluing_session AS g WHERE g.replaces = n.id OFFSET 0) AS g)
    SELECT n.id FROM named AS n) AS s
  CROSS JOIN LATERAL (
    SELECT g.adhesive_id, g.batch_id, g.set_by_id, g.supervised_by_id, g.checked_by_id
    FROM gluing_session AS g
    WHERE g.id = s.id
    OFFSET 0) AS g`
)

// selectHistory is served by assessment_history_of_anchor_idx.
const selectHistory = `
SELECT h.at, h.standing, h.due_on, h.due_state, h.rules, h.settled
FROM assessment_history AS h
WHERE h.anchor_id = @id
ORDER BY h.id DESC`

func (r *storyRows) queue(b *pgx.Batch, id uuid.UUID) {
	args := pgx.StrictNamedArgs{"id": id}
	one(b, &r.place, selectPlaces("(SELECT @id::uuid AS id)"), args)
	r.facts.queue(b, []uuid.UUID{id})
	all(b, &r.routes, routes.of("id", storyRoutes)+"\nORDER BY t.name, t.id", args)
	all(b, &r.persons, persons.of("id", storyPersons)+byIDs, args)
	all(b, &r.products, products.of("id", storyProducts)+byIDs, args)
	all(b, &r.batches, batches.of("id", storyBatches)+byIDs, args)
	r.assessments.queue(b, "(SELECT @id::uuid AS id)", args)
	all(b, &r.history, selectHistory, args)
	all(b, &r.others, anchors.of("position_id", storyPosition)+"\nWHERE t.id <> @id AND NOT t.mistaken"+byIDs, args)
}

// AnchorStory returns everything on record about one anchor, or
// fault.NotFound. Its assessment is as stored; one that was never assessed has
// an empty one.
func (s *Store) AnchorStory(ctx context.Context, group, id uuid.UUID) (registry.AnchorStory, error) {
	var rows storyRows
	err := s.read(ctx, group, "read anchor "+id.String(), func(b *pgx.Batch) { rows.queue(b, id) })
	if err != nil {
		return registry.AnchorStory{}, err
	}
	return rows.story(id), nil
}

func (r *storyRows) story(id uuid.UUID) registry.AnchorStory {
	story := registry.AnchorStory{
		Facts:     *r.facts.facts()[id],
		Sector:    r.place.Sector,
		Routes:    convert(r.routes, routeRow.noun),
		Landowner: r.place.Landowner,
		Persons:   make(map[uuid.UUID]string, len(r.persons)),
		Products:  make(map[uuid.UUID]registry.Product, len(r.products)),
		Batches:   make(map[uuid.UUID]registry.Batch, len(r.batches)),
		History:   convert(r.history, historyReadRow.noun),
		Others:    convert(r.others, anchorRow.noun),
	}
	for _, p := range r.persons {
		story.Persons[p.ID] = p.Name
	}
	for _, p := range r.products {
		story.Products[p.ID] = p.noun()
	}
	for _, b := range r.batches {
		story.Batches[b.ID] = b.noun()
	}
	if a := r.assessments.assessments()[id]; a != nil {
		story.Assessment = *a
	}
	return story
}

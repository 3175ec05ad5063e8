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
}

func (r historyReadRow) noun() registry.HistoryRow {
	return registry.HistoryRow{
		At: r.At.UTC(), Standing: registry.Standing(r.Standing), DueOn: r.DueOn, DueState: registry.DueState(r.DueState),
		Rules: r.Rules,
	}
}

// Conditions that pick what one anchor's story names besides its facts.
const (
	storyRoutes = `
WHERE t.id IN (
  SELECT rp.route_id
  FROM route_position AS rp
  JOIN anchor AS a ON a.position_id = rp.position_id
  WHERE a.id = @id)
ORDER BY t.name, t.id`
	storyPersons = `
WHERE t.id IN (
  SELECT person_id FROM installation WHERE anchor_id = @id
  UNION SELECT person_id FROM first_use WHERE anchor_id = @id
  UNION SELECT person_id FROM inspection WHERE anchor_id = @id
  UNION SELECT person_id FROM removal WHERE anchor_id = @id)
ORDER BY t.id`
	storyProducts = `
WHERE t.id IN (
  SELECT product_id FROM anchor WHERE id = @id
  UNION SELECT adhesive_id FROM installation WHERE anchor_id = @id
  UNION SELECT b.product_id FROM installation AS i JOIN batch AS b ON b.id = i.batch_id WHERE i.anchor_id = @id)
ORDER BY t.id`
	storyBatches = `
WHERE t.id IN (SELECT batch_id FROM installation WHERE anchor_id = @id)
ORDER BY t.id`
	storyOthers = `
WHERE t.position_id = (SELECT position_id FROM anchor WHERE id = @id)
  AND t.id <> @id
ORDER BY t.id`
)

// selectHistory is served by assessment_history_of_anchor_idx.
const selectHistory = `
SELECT h.at, h.standing, h.due_on, h.due_state, h.rules
FROM assessment_history AS h
WHERE h.anchor_id = @id
ORDER BY h.id DESC`

func (r *storyRows) queue(b *pgx.Batch, id uuid.UUID) {
	args := pgx.StrictNamedArgs{"id": id}
	one(b, &r.place, selectPlaces+"\nWHERE t.id = @id", args)
	r.facts.queue(b, []uuid.UUID{id})
	all(b, &r.routes, routes.selectSQL+storyRoutes, args)
	all(b, &r.persons, persons.selectSQL+storyPersons, args)
	all(b, &r.products, products.selectSQL+storyProducts, args)
	all(b, &r.batches, batches.selectSQL+storyBatches, args)
	r.assessments.queue(b, "\nWHERE t.anchor_id = @id", args)
	all(b, &r.history, selectHistory, args)
	all(b, &r.others, anchors.selectSQL+storyOthers, args)
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

package postgres

import (
	"context"
	"encoding/json"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// selectListed gives the ids of the group's anchors, but for those entered by
// mistake, in the order of a list:
// site, sector and route by name, then the order on the route, then label; at
// one position the anchor in the rock first, then the youngest.
const selectListed = `
SELECT k.id
FROM (
  SELECT a.id, a.position_id, a.site_id, a.removed FROM anchor AS a WHERE a.id > @after AND NOT a.mistaken ORDER BY a.id OFFSET 0) AS k
CROSS JOIN LATERAL (
  SELECT p.id, p.label, p.sector_id FROM position AS p WHERE p.id = k.position_id OFFSET 0) AS p
CROSS JOIN LATERAL (SELECT s.name FROM site AS s WHERE s.id = k.site_id OFFSET 0) AS site
LEFT JOIN LATERAL (SELECT s.name FROM sector AS s WHERE s.id = p.sector_id OFFSET 0) AS sector ON true
LEFT JOIN LATERAL (
  SELECT r.id, r.name, rp.rank
  FROM (SELECT rp.route_id, rp.rank FROM route_position AS rp WHERE rp.position_id = p.id OFFSET 0) AS rp
  CROSS JOIN LATERAL (SELECT r.id, r.name FROM route AS r WHERE r.id = rp.route_id OFFSET 0) AS r
  ORDER BY r.name, r.id
  LIMIT 1) AS route ON true
ORDER BY lower(site.name), k.site_id, lower(sector.name) NULLS FIRST, p.sector_id, lower(route.name) NULLS FIRST, route.id,
  route.rank, lower(p.label), p.id, k.removed, k.id DESC`

// selectRouteNames gives the names of the routes of anchors' positions.
const selectRouteNames = `
SELECT k.id AS position_id, r.name
FROM ` + theirPositions + ` AS k
CROSS JOIN LATERAL (SELECT rp.route_id FROM route_position AS rp WHERE rp.position_id = k.id OFFSET 0) AS rp
CROSS JOIN LATERAL (SELECT r.id, r.name FROM route AS r WHERE r.id = rp.route_id OFFSET 0) AS r
ORDER BY k.id, r.name, r.id`

type routeNameRow struct {
	PositionID uuid.UUID `json:"position_id"`
	Name       string    `json:"name"`
}

// selectWritten reads what the latest list row about each cave position of the
// anchors @ids had for its coordinates; served by import_row_of_anchor_idx. Each
// anchor at the position may be the one that the row is about: of one replaced,
// the successor has no row of its own.
const selectWritten = `
SELECT k.id AS position_id, r.words
FROM ` + theirPositions + ` AS k
CROSS JOIN LATERAL (
  SELECT p.site_id FROM position AS p WHERE p.id = k.id OFFSET 0) AS p
CROSS JOIN LATERAL (
  SELECT FROM site AS s WHERE s.id = p.site_id AND s.kind = 'cave' OFFSET 0) AS s
CROSS JOIN LATERAL (
  SELECT r.words
  FROM (SELECT a.id FROM anchor AS a WHERE a.position_id = k.id AND NOT a.mistaken OFFSET 0) AS a
  CROSS JOIN LATERAL (
    SELECT COALESCE(r.taken->>'CoordinateWords', '') AS words, r.import_id, r.line
    FROM import_row AS r
    WHERE r.anchor_id = a.id AND ` + inForce + `
    ORDER BY r.import_id DESC, r.line DESC
    LIMIT 1) AS r
  ORDER BY r.import_id DESC, r.line DESC
  LIMIT 1) AS r
ORDER BY k.id`

type writtenRow struct {
	PositionID uuid.UUID `json:"position_id"`
	Words      string    `json:"words"`
}

// anchorsByID goes through the group's anchors, but for those entered by mistake.
const anchorsByID = `(SELECT a.position_id FROM anchor AS a WHERE a.id > @after AND NOT a.mistaken ORDER BY a.id OFFSET 0)`

// selectPlacing says whether any anchor is in a sector, and on a route.
const selectPlacing = `
SELECT
  EXISTS (
    SELECT FROM ` + anchorsByID + ` AS k
    CROSS JOIN LATERAL (SELECT FROM position AS p WHERE p.id = k.position_id AND p.sector_id IS NOT NULL OFFSET 0) AS p) AS in_sector,
  EXISTS (
    SELECT FROM ` + anchorsByID + ` AS k
    CROSS JOIN LATERAL (SELECT FROM route_position AS rp WHERE rp.position_id = k.position_id OFFSET 0) AS rp) AS on_route`

type placingRow struct {
	InSector bool `json:"in_sector"`
	OnRoute  bool `json:"on_route"`
}

// selectEnteredRows is served by import_row_pkey. The cells stay one text each
// until they are asked for: a long list is held here as a whole.
const selectEnteredRows = `
SELECT r.line, to_json(r.cells)::text AS cells, r.anchor_id
FROM import_row AS r
WHERE r.import_id = @id
ORDER BY r.line`

type enteredRow struct {
	Line     int       `json:"line"`
	Cells    string    `json:"cells"`
	AnchorID uuid.UUID `json:"anchor_id"`
}

// texts returns the row's cells, nil if there are none.
func (r enteredRow) texts() []string {
	var cells []string
	_ = json.Unmarshal([]byte(r.Cells), &cells) // the database wrote it
	return cells
}

// newestImport passes over lists that were taken back. It is served by
// import_pkey: ids made later sort later.
const newestImport = `
WHERE t.id > @after AND NOT EXISTS (SELECT FROM import_undo AS u WHERE u.import_id = t.id)
ORDER BY t.id DESC
LIMIT 1`

// EachListed calls fn with every anchor of the group, removed ones too but none
// entered by mistake, in the order of site, sector, route and stop. If ask is for a list's own headings it
// calls begin with that list first, or returns fault.NotFound if there is no
// such list. All of it is as of one instant; an error of begin or fn ends it
// and is returned as it is.
func (s *Store) EachListed(ctx context.Context, group uuid.UUID, ask registry.ListAsk,
	begin func(registry.PastList) error, fn func(registry.ListEntry) error,
) error {
	err := onWire(ctx, s.pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(l *wire) error {
		w := &writer{wire: l, group: group}
		var listed []uuid.UUID
		err := w.ask(ctx, "list anchors", func(b *pgx.Batch) {
			b.Queue(setGroup, group.String())
			ids(b, &listed, selectListed, pgx.StrictNamedArgs{"after": uuid.Nil})
		})
		if err != nil {
			return err
		}
		rows, err := w.pastList(ctx, ask, begin)
		if err != nil {
			return err
		}
		for part := range slices.Chunk(listed, stride) {
			if err := w.eachListed(ctx, part, rows, fn); err != nil {
				return err
			}
		}
		return nil
	})
	if d, ok := err.(decided); ok { //nolint:errorlint // it is ours and never wrapped
		return d.error
	}
	return translate(err, "read the list of anchors")
}

// pastList finds the list asked for, hands it to begin, and returns its rows by
// anchor.
func (w *writer) pastList(ctx context.Context, ask registry.ListAsk, begin func(registry.PastList) error) (map[uuid.UUID]*enteredRow, error) {
	if !ask.Own {
		return nil, nil //nolint:nilnil // no list, no rows
	}
	var past importRow
	q := query{"find the newest list taken over", imports.selectSQL + newestImport, pgx.StrictNamedArgs{"after": uuid.Nil}}
	if ask.ImportID != nil {
		q = byID("find list", imports.selectSQL, *ask.ImportID)
	}
	if err := w.ask(ctx, q.doing, func(b *pgx.Batch) { one(b, &past, q.sql, q.args) }); err != nil {
		return nil, err
	}
	var (
		entered []enteredRow
		placing placingRow
	)
	err := w.ask(ctx, "read the rows of list "+past.ID.String(), func(b *pgx.Batch) {
		all(b, &entered, selectEnteredRows, pgx.StrictNamedArgs{"id": past.ID})
		one(b, &placing, selectPlacing, pgx.StrictNamedArgs{"after": uuid.Nil})
	})
	if err != nil {
		return nil, err
	}
	byAnchor := make(map[uuid.UUID]*enteredRow, len(entered))
	for i := range entered {
		byAnchor[entered[i].AnchorID] = &entered[i]
	}
	list := registry.PastList{Import: past.noun(), InSector: placing.InSector, OnRoute: placing.OnRoute, Cells: func(yield func([]string) bool) {
		for i := range entered {
			if !yield(entered[i].texts()) {
				return
			}
		}
	}}
	if err := begin(list); err != nil {
		return nil, decided{err}
	}
	return byAnchor, nil
}

func (r importRow) noun() registry.Import {
	return registry.Import{
		ID: r.ID, FileName: r.FileName, FileHash: r.FileHash, Headings: r.Headings, Encoding: r.Encoding,
		Delimiter: r.Delimiter, Report: r.Report, At: r.At.UTC(),
	}
}

// listedRows are the rows behind some entries of a list.
type listedRows struct {
	places   []placeRow
	facts    factRows
	routes   []routeNameRow
	written  []writtenRow
	persons  []personRow
	products []productRow
	batches  []batchRow
}

func (w *writer) eachListed(ctx context.Context, anchorIDs []uuid.UUID, entered map[uuid.UUID]*enteredRow, fn func(registry.ListEntry) error) error {
	var rows listedRows
	err := w.ask(ctx, "load facts", func(b *pgx.Batch) {
		args := pgx.StrictNamedArgs{"ids": anchorIDs}
		all(b, &rows.places, selectPlaces(theseIDs), args)
		rows.facts.queue(b, anchorIDs)
		all(b, &rows.routes, selectRouteNames, args)
		all(b, &rows.written, selectWritten, args)
	})
	if err != nil {
		return err
	}
	if err := w.named(ctx, &rows); err != nil {
		return err
	}
	entries := rows.entries()
	for _, id := range anchorIDs {
		e := entries[id]
		if r := entered[id]; r != nil {
			e.Row = &registry.ImportRow{Line: r.Line, Cells: r.texts(), AnchorID: id}
		}
		if err := fn(e); err != nil {
			return decided{err}
		}
	}
	return nil
}

// named loads who and what the installations and their sessions name.
func (w *writer) named(ctx context.Context, rows *listedRows) error {
	var personIDs, productIDs, batchIDs []uuid.UUID
	for _, r := range rows.facts.installations {
		personIDs = appendID(personIDs, r.PersonID)
		productIDs = appendID(productIDs, r.AdhesiveID)
		batchIDs = appendID(batchIDs, r.BatchID)
	}
	for _, r := range rows.facts.glue.sessions {
		personIDs = appendID(personIDs, r.SetByID)
		productIDs = appendID(productIDs, r.AdhesiveID)
		batchIDs = appendID(batchIDs, r.BatchID)
	}
	err := w.ask(ctx, "load persons and batches", func(b *pgx.Batch) {
		all(b, &rows.persons, persons.of("id", theseIDs)+byIDs, pgx.StrictNamedArgs{"ids": distinct(personIDs)})
		all(b, &rows.batches, batches.of("id", theseIDs)+byIDs, pgx.StrictNamedArgs{"ids": distinct(batchIDs)})
	})
	if err != nil {
		return err
	}
	for _, r := range rows.batches {
		productIDs = appendID(productIDs, r.ProductID)
	}
	return w.ask(ctx, "load products", func(b *pgx.Batch) {
		all(b, &rows.products, products.of("id", theseIDs)+byIDs, pgx.StrictNamedArgs{"ids": distinct(productIDs)})
	})
}

func appendID(list []uuid.UUID, id *uuid.UUID) []uuid.UUID {
	if id == nil {
		return list
	}
	return append(list, *id)
}

// entries puts the rows together, by anchor. They share the maps of names.
func (r *listedRows) entries() map[uuid.UUID]registry.ListEntry {
	routes := make(map[uuid.UUID][]string)
	for _, n := range r.routes {
		routes[n.PositionID] = append(routes[n.PositionID], n.Name)
	}
	written := make(map[uuid.UUID]*string)
	for i := range r.written {
		written[r.written[i].PositionID] = &r.written[i].Words
	}
	shared := registry.ListEntry{
		Persons: make(map[uuid.UUID]string), Products: make(map[uuid.UUID]string), Batches: make(map[uuid.UUID]registry.Batch),
	}
	for _, p := range r.persons {
		shared.Persons[p.ID] = p.Name
	}
	for _, p := range r.products {
		shared.Products[p.ID] = p.Name
	}
	for _, b := range r.batches {
		shared.Batches[b.ID] = b.noun()
	}
	facts := r.facts.facts()
	entries := make(map[uuid.UUID]registry.ListEntry, len(r.places))
	for _, p := range r.places {
		e := shared
		e.Line = registry.ReportLine{Place: p.noun(), Landowner: p.Landowner}
		e.Facts, e.Routes, e.Written = *facts[p.ID], routes[p.PositionID], written[p.PositionID]
		entries[p.ID] = e
	}
	return entries
}

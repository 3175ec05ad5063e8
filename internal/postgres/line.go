package postgres

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// lineRow is an anchor with its place and how it stands.
type lineRow struct {
	anchorRow
	Site     string        `json:"site"`
	Sector   string        `json:"sector"`
	Route    string        `json:"route"`
	Label    string        `json:"label"`
	Role     word          `json:"role"`
	Standing word          `json:"standing"`
	DueOn    calendar.Date `json:"due_on"`
	DueState word          `json:"due_state"`
	Band     word          `json:"band"`
}

func (r lineRow) noun() registry.AnchorLine {
	return registry.AnchorLine{
		Anchor: r.anchorRow.noun(), Site: r.Site, Sector: r.Sector, Route: r.Route, Label: r.Label,
		Role: registry.PositionRole(r.Role), Standing: registry.Standing(r.Standing), DueOn: r.DueOn,
		DueState: registry.DueState(r.DueState), Band: registry.Band(r.Band),
	}
}

// lineColumns make up a line. Of an anchor's routes the first by name stands in
// it.
var lineColumns = selectList[anchorRow]("t") + `,
  site.name AS site, COALESCE(sector.name, '') AS sector, COALESCE(route.name, '') AS route, p.label, p.role,
  x.standing, x.due_on, x.due_state, x.band`

// What a line is looked up from, one by one: the anchor t of the id k.id, its
// position p, its assessment x, and its site, sector and route.
var (
	lineAnchor = anchors.by("id", "k.id")

	linePlace = `
CROSS JOIN LATERAL (
  SELECT p.id, p.site_id, p.label, p.role, p.sector_id, p.parcel_id FROM position AS p WHERE p.id = t.position_id OFFSET 0) AS p
CROSS JOIN LATERAL (SELECT s.name FROM site AS s WHERE s.id = t.site_id OFFSET 0) AS site`

	lineAssessment = `
LEFT JOIN LATERAL (
  SELECT x.standing, x.due_on, x.due_state, x.band FROM assessment AS x WHERE x.anchor_id = t.id OFFSET 0) AS x ON true`

	lineNames = `
LEFT JOIN LATERAL (SELECT s.name FROM sector AS s WHERE s.id = p.sector_id OFFSET 0) AS sector ON true
LEFT JOIN LATERAL (
  SELECT r.name
  FROM (SELECT rp.route_id FROM route_position AS rp WHERE rp.position_id = p.id OFFSET 0) AS rp
  CROSS JOIN LATERAL (SELECT r.id, r.name FROM route AS r WHERE r.id = rp.route_id OFFSET 0) AS r
  ORDER BY r.name, r.id
  LIMIT 1) AS route ON true`

	lineTables = lineAnchor + linePlace + lineAssessment + lineNames
)

// sessionsOfBatch are the sessions that glued with the batch, as they were last
// corrected, and those that they replace; served by gluing_session_by_batch_idx
// and gluing_session_by_replaces_idx.
const sessionsOfBatch = `(
    WITH RECURSIVE glued (id) AS (
      SELECT g.id
      FROM gluing_session AS g
      WHERE g.batch_id = @batch_id
        AND NOT EXISTS (SELECT FROM gluing_session AS n WHERE n.replaces = g.id OFFSET 0)
      UNION
      SELECT r.replaces
      FROM glued AS s
      CROSS JOIN LATERAL (SELECT r.replaces FROM gluing_session AS r WHERE r.id = s.id AND r.replaces IS NOT NULL OFFSET 0) AS r)
    SELECT s.id FROM glued AS s)`

// Where a list of anchors begins: what narrows it most gives the ids, k.
const (
	everyAnchor = `(SELECT a.id FROM anchor AS a WHERE a.id > @after ORDER BY a.id OFFSET 0)`

	anchorsOfSite = `(SELECT a.id FROM anchor AS a WHERE a.site_id = @site_id AND a.id > @after ORDER BY a.id OFFSET 0)`

	anchorsOfBatch = `(
  SELECT i.anchor_id AS id
  FROM installation AS i
  WHERE i.batch_id = @batch_id AND i.anchor_id > @after
  UNION
  SELECT i.anchor_id
  FROM ` + sessionsOfBatch + ` AS s
  CROSS JOIN LATERAL (
    SELECT i.anchor_id FROM installation AS i WHERE i.session_id = s.id AND i.batch_id IS NULL AND i.anchor_id > @after OFFSET 0) AS i)`

	anchorsOnRoute = `(
  SELECT a.id
  FROM (SELECT rp.position_id FROM route_position AS rp WHERE rp.route_id = @route_id OFFSET 0) AS rp
  CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.position_id = rp.position_id AND a.id > @after OFFSET 0) AS a)`

	anchorsOfSector = `(
  SELECT a.id
  FROM (SELECT p.id FROM position AS p WHERE p.sector_id = @sector_id OFFSET 0) AS p
  CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.position_id = p.id AND a.id > @after OFFSET 0) AS a)`

	anchorsInBox = `(
  SELECT a.id
  FROM position_in_box(@group_id, @west, @south, @east, @north) AS p (id)
  CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.position_id = p.id AND a.id > @after OFFSET 0) AS a)`
)

// Conditions of a list of anchors. OFFSET 0 keeps what EXISTS asks from being
// joined.
const (
	anchorInSector = `p.sector_id = @sector_id`
	anchorOnRoute  = `EXISTS (SELECT FROM route_position AS rp WHERE rp.route_id = @route_id AND rp.position_id = p.id OFFSET 0)`
	anchorOfBatch  = `(EXISTS (SELECT FROM installation AS i WHERE i.anchor_id = t.id AND i.batch_id = @batch_id OFFSET 0)
    OR EXISTS (
      SELECT FROM (SELECT i.session_id AS id FROM installation AS i WHERE i.anchor_id = t.id AND i.batch_id IS NULL OFFSET 0) AS i
      CROSS JOIN LATERAL (SELECT s.id FROM ` + sessionsOfBatch + ` AS s WHERE s.id = i.id OFFSET 0) AS s
      OFFSET 0))`
	anchorStands     = `x.standing = @standing`
	anchorDueState   = `x.due_state = @due_state`
	anchorDueBefore  = `x.due_on < @due_before`
	anchorCanBe      = `@metal = ANY (t.metal)`
	anchorSpeaksOfIt = `(strpos(lower(p.label), @text) > 0 OR strpos(lower(site.name), @text) > 0 OR strpos(lower(t.notes), @text) > 0
    OR EXISTS (
      SELECT FROM (SELECT rp.route_id FROM route_position AS rp WHERE rp.position_id = p.id OFFSET 0) AS rp
      CROSS JOIN LATERAL (SELECT r.name FROM route AS r WHERE r.id = rp.route_id OFFSET 0) AS r
      WHERE strpos(lower(r.name), @text) > 0
      OFFSET 0))`
)

// Anchors lists anchors, removed ones too but none entered by mistake, in the order of ids. The filter's
// metal finds those whose recorded grades include it; an anchor whose metal is
// not known is not among them. What narrows the list most serves it: box,
// batch, route, sector, site, standing; the rest is looked at row by row.
func (s *Store) Anchors(ctx context.Context, group uuid.UUID, filter registry.AnchorFilter, page registry.Page) ([]registry.AnchorLine, error) {
	f := anchorPage(group, filter, page)
	sql := "\nSELECT " + lineColumns + "\nFROM " + anchorSource(filter) + " AS k" + lineTables + f.where +
		"\nORDER BY k.id\nLIMIT @max_rows"
	return list(ctx, s, group, query{"list anchors", sql, f.args}, lineRow.noun)
}

// anchorSource picks where the list begins.
func anchorSource(filter registry.AnchorFilter) string {
	switch {
	case filter.Box != nil:
		return anchorsInBox
	case filter.BatchID != nil:
		return anchorsOfBatch
	case filter.RouteID != nil:
		return anchorsOnRoute
	case filter.SectorID != nil:
		return anchorsOfSector
	case filter.SiteID != nil:
		return anchorsOfSite
	case filter.Standing != "" || filter.DueState != "" || !filter.DueBefore.IsZero():
		return anchorsAssessed(filter)
	}
	return everyAnchor
}

// anchorsAssessed asks of the assessment all that can be asked of it, so that
// of an anchor that stands otherwise nothing more is looked up. Served by the
// primary key, or by assessment_suspect_idx.
func anchorsAssessed(filter registry.AnchorFilter) string {
	where := "x.anchor_id > @after"
	if filter.Standing == registry.StandingSuspect || filter.Standing == registry.StandingOutOfUse {
		where += " AND x.standing IN ('suspect', 'out-of-use')"
	}
	if filter.Standing != "" {
		where += " AND " + anchorStands
	}
	if filter.DueState != "" {
		where += " AND " + anchorDueState
	}
	if !filter.DueBefore.IsZero() {
		where += " AND " + anchorDueBefore
	}
	return "(SELECT x.anchor_id AS id FROM assessment AS x WHERE " + where + " ORDER BY x.anchor_id OFFSET 0)"
}

// anchorPage gathers the conditions, those of the source once more.
func anchorPage(group uuid.UUID, filter registry.AnchorFilter, page registry.Page) *filter {
	f := pageOf(page)
	f.where = "\nWHERE NOT t.mistaken"
	f.andID(ofSite, "site_id", filter.SiteID)
	f.andID(anchorInSector, "sector_id", filter.SectorID)
	f.andID(anchorOnRoute, "route_id", filter.RouteID)
	f.andID(anchorOfBatch, "batch_id", filter.BatchID)
	if filter.Standing != "" {
		f.and(anchorStands, "standing", string(filter.Standing))
	}
	if filter.DueState != "" {
		f.and(anchorDueState, "due_state", string(filter.DueState))
	}
	if !filter.DueBefore.IsZero() {
		f.and(anchorDueBefore, "due_before", filter.DueBefore)
	}
	if filter.Metal != "" {
		f.and(anchorCanBe, "metal", string(filter.Metal))
	}
	if text := registry.Fold(filter.Text); text != "" {
		f.and(anchorSpeaksOfIt, "text", text)
	}
	if b := filter.Box; b != nil {
		f.args["group_id"], f.args["west"], f.args["south"], f.args["east"], f.args["north"] = group, b.West, b.South, b.East, b.North
	}
	return f
}

package postgres

import (
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// factRows are the rows behind the facts of some anchors.
type factRows struct {
	anchors       []anchorRow
	positions     []positionRow
	sites         []siteRow
	traffic       []trafficRow
	assembled     []uuid.UUID // positions
	fittings      []fittingRow
	installations []installationRow
	firstUses     []firstUseRow
	inspections   []inspectionRow
	removals      []removalRow
}

// trafficRow is a class of traffic on one of a position's routes.
type trafficRow struct {
	PositionID uuid.UUID `json:"position_id"`
	Traffic    word      `json:"traffic"`
}

// Conditions that narrow the tables to the anchors @ids; served by the primary
// keys and the indexes called of_anchor.
const (
	ofTheseAnchors   = "\nWHERE t.id = ANY (@ids)\nORDER BY t.id"
	atTheirPositions = "\nWHERE t.id IN (SELECT a.position_id FROM anchor AS a WHERE a.id = ANY (@ids))\nORDER BY t.id"
	atTheirSites     = "\nWHERE t.id IN (SELECT a.site_id FROM anchor AS a WHERE a.id = ANY (@ids))\nORDER BY t.id"
	onTheseAnchors   = "\nWHERE t.anchor_id = ANY (@ids)\nORDER BY t.id"
)

const selectTraffic = `
SELECT rp.position_id, r.traffic
FROM route_position AS rp
JOIN route AS r ON r.id = rp.route_id
WHERE rp.position_id IN (SELECT a.position_id FROM anchor AS a WHERE a.id = ANY (@ids))
  AND r.traffic IS NOT NULL
ORDER BY rp.position_id, r.id`

const selectAssembled = `
SELECT DISTINCT ap.position_id
FROM assembly_position AS ap
WHERE ap.position_id IN (SELECT a.position_id FROM anchor AS a WHERE a.id = ANY (@ids))
ORDER BY ap.position_id`

// queue adds the queries for the facts of the given anchors.
func (f *factRows) queue(b *pgx.Batch, anchorIDs []uuid.UUID) {
	args := pgx.StrictNamedArgs{"ids": anchorIDs}
	all(b, &f.anchors, anchors.selectSQL+ofTheseAnchors, args)
	all(b, &f.positions, positions.selectSQL+atTheirPositions, args)
	all(b, &f.sites, sites.selectSQL+atTheirSites, args)
	all(b, &f.traffic, selectTraffic, args)
	ids(b, &f.assembled, selectAssembled, args)
	all(b, &f.fittings, fittings.selectSQL+onTheseAnchors, args)
	all(b, &f.installations, installations.selectSQL+onTheseAnchors, args)
	all(b, &f.firstUses, firstUses.selectSQL+onTheseAnchors, args)
	all(b, &f.inspections, inspections.selectSQL+onTheseAnchors, args)
	all(b, &f.removals, removals.selectSQL+onTheseAnchors, args)
}

// facts puts the rows together, by anchor.
func (f *factRows) facts() map[uuid.UUID]*registry.Facts {
	places := f.places()
	byAnchor := make(map[uuid.UUID]*registry.Facts, len(f.anchors))
	for _, r := range f.anchors {
		facts := places[r.PositionID]
		facts.Anchor = r.noun()
		byAnchor[r.ID] = &facts
	}
	for _, r := range f.fittings {
		facts := byAnchor[r.AnchorID]
		facts.Fittings = append(facts.Fittings, r.noun())
	}
	for _, r := range f.installations {
		facts := byAnchor[r.AnchorID]
		facts.Installations = append(facts.Installations, r.noun())
	}
	for _, r := range f.firstUses {
		facts := byAnchor[r.AnchorID]
		facts.FirstUses = append(facts.FirstUses, r.noun())
	}
	for _, r := range f.inspections {
		facts := byAnchor[r.AnchorID]
		facts.Inspections = append(facts.Inspections, r.noun())
	}
	for _, r := range f.removals {
		facts := byAnchor[r.AnchorID]
		facts.Removals = append(facts.Removals, r.noun())
	}
	return byAnchor
}

// places returns the facts of each position, without those of its anchors.
func (f *factRows) places() map[uuid.UUID]registry.Facts {
	bySite := make(map[uuid.UUID]registry.Site, len(f.sites))
	for _, r := range f.sites {
		bySite[r.ID] = r.noun()
	}
	byPosition := make(map[uuid.UUID]registry.Facts, len(f.positions))
	for _, r := range f.positions {
		byPosition[r.ID] = registry.Facts{Position: r.noun(), Site: bySite[r.SiteID]}
	}
	for _, r := range f.traffic {
		facts := byPosition[r.PositionID]
		facts.Traffic = busier(facts.Traffic, registry.Traffic(r.Traffic))
		byPosition[r.PositionID] = facts
	}
	for _, id := range f.assembled {
		facts := byPosition[id]
		facts.InAssembly = true
		byPosition[id] = facts
	}
	return byPosition
}

// busier returns the busier of two classes of traffic; "not known" is less
// than any.
func busier(a, b registry.Traffic) registry.Traffic {
	busiest := a
	for _, t := range registry.Traffics() { // least first
		if t == a || t == b {
			busiest = t
		}
	}
	return busiest
}

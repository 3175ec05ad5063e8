package postgres

import (
	"context"

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
	glue          glueRows
	cures         []cureRow
	firstUses     []firstUseRow
	inspections   []inspectionRow
	maintenance   []maintenanceRow
	removals      []removalRow
	markings      []markingRow
	settlements   []settlementRow
	retractions   []retractionRow
	environments  []environmentRow
	events        []eventRow
	notices       []anchorNoticeRow
	criteria      criteriaRows
	zone          []zoneRow
}

// zoneRow is the group's time zone.
type zoneRow struct {
	TimeZone string `json:"time_zone"`
}

// selectZone is served by the primary key. Groups are no tenant table.
const selectZone = `
SELECT g.time_zone
FROM anchor_group AS g
WHERE g.id = current_setting('rockledger.group_id')::uuid`

// trafficRow is one of a position's routes with its traffic.
type trafficRow struct {
	PositionID uuid.UUID `json:"position_id"`
	RouteID    uuid.UUID `json:"route_id"`
	Traffic    word      `json:"traffic"`
}

// anchorNoticeRow is a notice that names an anchor.
type anchorNoticeRow struct {
	noticeRow
	AnchorID uuid.UUID `json:"anchor_id"`
}

const selectTraffic = `
SELECT k.id AS position_id, rp.route_id, r.traffic
FROM ` + theirPositions + ` AS k
CROSS JOIN LATERAL (SELECT rp.route_id FROM route_position AS rp WHERE rp.position_id = k.id OFFSET 0) AS rp
CROSS JOIN LATERAL (SELECT r.traffic FROM route AS r WHERE r.id = rp.route_id OFFSET 0) AS r
ORDER BY k.id, rp.route_id`

// selectAssembled leaves out assemblies that were taken apart.
const selectAssembled = `
SELECT DISTINCT k.id
FROM ` + theirPositions + ` AS k
CROSS JOIN LATERAL (SELECT ap.assembly_id FROM assembly_position AS ap WHERE ap.position_id = k.id OFFSET 0) AS ap
CROSS JOIN LATERAL (SELECT FROM assembly AS a WHERE a.id = ap.assembly_id AND a.ended_on IS NULL OFFSET 0) AS a
ORDER BY k.id`

var selectAnchorNotices = "\nSELECT k.id AS anchor_id, " + selectList[noticeRow]("t") + `
FROM ` + theseIDs + ` AS k
CROSS JOIN LATERAL (SELECT na.notice_id FROM notice_anchor AS na WHERE na.anchor_id = k.id OFFSET 0) AS na` +
	notices.by("id", "na.notice_id") + `
ORDER BY k.id, t.id`

// Facts returns what is known of each of the anchors; one that is not there is
// left out. See queue for what serves it.
func (s *Store) Facts(ctx context.Context, group uuid.UUID, anchorIDs []uuid.UUID) (map[uuid.UUID]*registry.Facts, error) {
	var rows factRows
	err := s.read(ctx, group, "read facts of anchors", func(b *pgx.Batch) { rows.queue(b, distinct(anchorIDs)) })
	if err != nil {
		return nil, err
	}
	return rows.facts(), nil
}

// queue adds the queries for the facts of the given anchors, each named once;
// served by the primary keys and the indexes called of_anchor, of_place,
// at_position and by_site.
func (f *factRows) queue(b *pgx.Batch, anchorIDs []uuid.UUID) {
	args := pgx.StrictNamedArgs{"ids": uuidArray(anchorIDs)}
	all(b, &f.anchors, anchors.of("id", theseIDs)+byIDs, args)
	all(b, &f.positions, positions.of("id", theirPositions)+byIDs, args)
	all(b, &f.sites, sites.of("id", theirSites)+byIDs, args)
	all(b, &f.traffic, selectTraffic, args)
	ids(b, &f.assembled, selectAssembled, args)
	all(b, &f.fittings, fittings.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.installations, installations.of("anchor_id", theseIDs)+byIDs, args)
	f.glue.queue(b, args)
	all(b, &f.cures, cures.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.firstUses, firstUses.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.inspections, inspections.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.maintenance, maintenance.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.removals, removals.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.markings, markings.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.settlements, settlements.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.retractions, retractions.of("anchor_id", theseIDs)+byIDs, args)
	all(b, &f.environments, environments.of("place_id", theirPlaces)+byIDs, args)
	all(b, &f.events, events.of("site_id", theirSites)+byIDs, args)
	all(b, &f.notices, selectAnchorNotices, args)
	f.criteria.queue(b)
	all(b, &f.zone, selectZone, pgx.StrictNamedArgs{})
}

// facts puts the rows together, by anchor.
func (f *factRows) facts() map[uuid.UUID]*registry.Facts {
	places := f.places()
	byAnchor := make(map[uuid.UUID]*registry.Facts, len(f.anchors))
	for _, r := range f.anchors {
		facts := places[r.PositionID]
		facts.Anchor = r.noun()
		for _, z := range f.zone {
			facts.TimeZone = z.TimeZone
		}
		byAnchor[r.ID] = &facts
	}
	for _, r := range f.fittings {
		facts := byAnchor[r.AnchorID]
		facts.Fittings = append(facts.Fittings, r.noun())
	}
	f.addNotices(byAnchor)
	f.addRecords(byAnchor)
	f.glue.spread(byAnchor)
	return byAnchor
}

func (f *factRows) addRecords(byAnchor map[uuid.UUID]*registry.Facts) {
	for _, r := range f.installations {
		facts := byAnchor[r.AnchorID]
		facts.Installations = append(facts.Installations, r.noun())
	}
	for _, r := range f.cures {
		facts := byAnchor[r.AnchorID]
		facts.Cures = append(facts.Cures, r.noun())
	}
	for _, r := range f.firstUses {
		facts := byAnchor[r.AnchorID]
		facts.FirstUses = append(facts.FirstUses, r.noun())
	}
	for _, r := range f.inspections {
		facts := byAnchor[r.AnchorID]
		facts.Inspections = append(facts.Inspections, r.noun())
	}
	for _, r := range f.maintenance {
		facts := byAnchor[r.AnchorID]
		facts.Maintenance = append(facts.Maintenance, r.noun())
	}
	for _, r := range f.removals {
		facts := byAnchor[r.AnchorID]
		facts.Removals = append(facts.Removals, r.noun())
	}
	for _, r := range f.markings {
		facts := byAnchor[r.AnchorID]
		facts.Markings = append(facts.Markings, r.noun())
	}
	for _, r := range f.settlements {
		facts := byAnchor[r.AnchorID]
		facts.Settlements = append(facts.Settlements, r.noun())
	}
	for _, r := range f.retractions {
		facts := byAnchor[r.AnchorID]
		facts.Retractions = append(facts.Retractions, r.noun())
	}
}

// places returns the facts of each position, without those of its anchors.
func (f *factRows) places() map[uuid.UUID]registry.Facts {
	bySite := make(map[uuid.UUID]registry.Site, len(f.sites))
	for _, r := range f.sites {
		bySite[r.ID] = r.noun()
	}
	onSite := make(map[uuid.UUID][]registry.Event)
	for _, r := range f.events {
		onSite[r.SiteID] = append(onSite[r.SiteID], r.noun())
	}
	climate := f.climate()
	byPosition := make(map[uuid.UUID]registry.Facts, len(f.positions))
	for _, r := range f.positions {
		byPosition[r.ID] = registry.Facts{
			Position: r.noun(), Site: bySite[r.SiteID], Events: onSite[r.SiteID], Environments: climate[r.ID],
		}
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

// climate returns what is said of each position's climate.
func (f *factRows) climate() map[uuid.UUID][]registry.Environment {
	at := make(map[uuid.UUID][]registry.Environment)
	if len(f.environments) == 0 {
		return at
	}
	said := make(map[uuid.UUID][]registry.Environment)
	for _, r := range f.environments {
		said[r.PlaceID] = append(said[r.PlaceID], r.noun())
	}
	for _, r := range f.positions {
		at[r.ID] = append(at[r.ID], said[r.SiteID]...)
		at[r.ID] = append(at[r.ID], said[r.ID]...)
		if r.SectorID != nil {
			at[r.ID] = append(at[r.ID], said[*r.SectorID]...)
		}
	}
	for _, r := range f.traffic {
		at[r.PositionID] = append(at[r.PositionID], said[r.RouteID]...)
	}
	return at
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

package postgres

import (
	"encoding/json"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// replay puts rows together from the log.
type replay struct {
	storyRows
	sectors    []sectorRow
	stops      []stopRow
	assemblies []assemblyRow
	members    []memberRow
	notices    []noticeRow
	named      []namedRow
}

// replays says where the rows of a table go. Those of pictures, whose story is
// told from the lines themselves, go nowhere.
var replays = map[string]func(*replay, string) error{
	anchors.name:         into(func(r *replay) *[]anchorRow { return &r.facts.anchors }),
	positions.name:       into(func(r *replay) *[]positionRow { return &r.facts.positions }),
	sites.name:           into(func(r *replay) *[]siteRow { return &r.facts.sites }),
	sectors.name:         into(func(r *replay) *[]sectorRow { return &r.sectors }),
	routes.name:          into(func(r *replay) *[]routeRow { return &r.routes }),
	stops.name:           into(func(r *replay) *[]stopRow { return &r.stops }),
	assemblies.name:      into(func(r *replay) *[]assemblyRow { return &r.assemblies }),
	members.name:         into(func(r *replay) *[]memberRow { return &r.members }),
	fittings.name:        into(func(r *replay) *[]fittingRow { return &r.facts.fittings }),
	sessions.name:        into(func(r *replay) *[]sessionRow { return &r.facts.glue.sessions }),
	installations.name:   into(func(r *replay) *[]installationRow { return &r.facts.installations }),
	cures.name:           into(func(r *replay) *[]cureRow { return &r.facts.cures }),
	firstUses.name:       into(func(r *replay) *[]firstUseRow { return &r.facts.firstUses }),
	inspections.name:     into(func(r *replay) *[]inspectionRow { return &r.facts.inspections }),
	maintenance.name:     into(func(r *replay) *[]maintenanceRow { return &r.facts.maintenance }),
	removals.name:        into(func(r *replay) *[]removalRow { return &r.facts.removals }),
	markings.name:        into(func(r *replay) *[]markingRow { return &r.facts.markings }),
	settlements.name:     into(func(r *replay) *[]settlementRow { return &r.facts.settlements }),
	retractions.name:     into(func(r *replay) *[]retractionRow { return &r.facts.retractions }),
	environments.name:    into(func(r *replay) *[]environmentRow { return &r.facts.environments }),
	events.name:          into(func(r *replay) *[]eventRow { return &r.facts.events }),
	notices.name:         into(func(r *replay) *[]noticeRow { return &r.notices }),
	named.name:           into(func(r *replay) *[]namedRow { return &r.named }),
	products.name:        into(func(r *replay) *[]productRow { return &r.products }),
	productVersions.name: into(func(r *replay) *[]productVersionRow { return &r.facts.glue.sheets }),
	batches.name:         into(func(r *replay) *[]batchRow { return &r.batches }),
}

func into[R any](list func(*replay) *[]R) func(*replay, string) error {
	return func(r *replay, text string) error {
		var row R
		if err := json.Unmarshal([]byte(text), &row); err != nil {
			return fault.Wrap(fault.Internal, err, "read a row from the log")
		}
		*list(r) = append(*list(r), row)
		return nil
	}
}

// recalled reads the notices that go by a criterion from lines of the log, with
// the batches and products that these name.
func recalled(lines []registry.LedgerLine) (criteriaRows, error) {
	var r replay
	if err := r.read(lines); err != nil {
		return criteriaRows{}, err
	}
	out := criteriaRows{notices: picked(r.notices, func(n *noticeRow) bool { return n.given() })}
	batchIDs, productIDs := make(map[uuid.UUID]bool), make(map[uuid.UUID]bool)
	for _, n := range out.notices {
		for _, id := range n.BatchIDs {
			batchIDs[id] = true
		}
		for _, id := range n.ProductIDs {
			productIDs[id] = true
		}
	}
	out.batches = picked(r.batches, func(b *batchRow) bool { return batchIDs[b.ID] })
	for _, b := range out.batches {
		if b.ProductID != nil {
			productIDs[*b.ProductID] = true
		}
	}
	out.products = picked(r.products, func(p *productRow) bool { return productIDs[p.ID] })
	return out, nil
}

// replayed reads the rows that lines of the log hold and ties them together as
// queries would.
func replayed(lines []registry.LedgerLine) (*storyRows, error) {
	var r replay
	if err := r.read(lines); err != nil {
		return nil, err
	}
	r.tie()
	return &r.storyRows, nil
}

func (r *replay) read(lines []registry.LedgerLine) error {
	for i := range lines {
		read, kept := replays[lines[i].Noun]
		if !kept {
			continue
		}
		if err := read(r, lines[i].After); err != nil {
			return err
		}
	}
	return nil
}

// tie narrows what was read to what bears on the anchor as it is in these rows.
func (r *replay) tie() {
	if len(r.facts.anchors) == 0 {
		return
	}
	anchor := r.facts.anchors[0]
	position := anchor.PositionID
	r.facts.positions = picked(r.facts.positions, func(p *positionRow) bool { return p.ID == position })
	r.facts.sites = picked(r.facts.sites, func(s *siteRow) bool { return s.ID == anchor.SiteID })
	r.facts.events = picked(r.facts.events, func(e *eventRow) bool { return e.SiteID == anchor.SiteID })
	for _, p := range r.facts.positions {
		for _, s := range r.sectors {
			if p.SectorID != nil && *p.SectorID == s.ID {
				r.place.Sector = s.Name
			}
		}
	}
	r.routes = picked(r.routes, func(route *routeRow) bool { return r.on(position, route) })
	for _, m := range r.members {
		for _, a := range r.assemblies {
			if m.PositionID == position && m.AssemblyID == a.ID && a.EndedOn.IsZero() {
				r.facts.assembled = append(r.facts.assembled, position)
			}
		}
	}
	for _, n := range r.notices {
		for _, of := range r.named {
			if of.NoticeID == n.ID && of.AnchorID == anchor.ID {
				r.facts.notices = append(r.facts.notices, anchorNoticeRow{n, anchor.ID})
			}
		}
	}
	r.facts.glue.batches = r.batches
}

// on says that a position is on a route, and notes its traffic if so.
func (r *replay) on(position uuid.UUID, route *routeRow) bool {
	for _, s := range r.stops {
		if s.PositionID == position && s.RouteID == route.ID {
			r.facts.traffic = append(r.facts.traffic, trafficRow{position, route.ID, route.Traffic})
			return true
		}
	}
	return false
}

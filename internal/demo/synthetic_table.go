package demo

import (
	"fmt"
	"iter"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// Table is the rows of one table of the database, to be copied into it: UUIDs,
// texts, numbers, instants (dates too, at midnight UTC), lists of texts, and
// nil for NULL. A row is good until the next one.
type Table struct {
	Name    string
	Columns []string
	Rows    iter.Seq[[]any]
}

// Tables lists the register's tables, those that others refer to first. The
// ledger stays empty.
func (s *Synthetic) Tables() []Table {
	return append(s.inventory(), append(s.inTheRock(), s.computed()...)...)
}

type emit func(row ...any) bool

// rows gives the values of n things, each by one call of fn, which may emit any
// number of rows.
func rows(n int, fn func(i int, emit emit) bool) iter.Seq[[]any] {
	return func(yield func([]any) bool) {
		for i := range n {
			if !fn(i, func(row ...any) bool { return yield(row) }) {
				return
			}
		}
	}
}

func (s *Synthetic) group(n int) uuid.UUID { return syntheticID(sortGroup, n) }

// inventory is groups, people, stock and places.
func (s *Synthetic) inventory() []Table {
	return append([]Table{
		{"anchor_group", []string{"id", "slug", "name", "time_zone"}, rows(s.Groups, func(i int, emit emit) bool {
			return emit(s.group(i), fmt.Sprintf("synthetic-%d", i+1), fmt.Sprintf("Synthetic group %d (invented)", i+1), "UTC")
		})},
		{"house_rules", []string{"group_id", "version", "rules"}, rows(s.Groups, func(i int, emit emit) bool {
			return emit(s.group(i), 1, s.Rules)
		})},
		{"person", []string{"group_id", "id", "version", "name"}, rows(s.Groups*groupPersons, func(i int, emit emit) bool {
			return emit(s.group(i/groupPersons), syntheticID(sortPerson, i), 1, fmt.Sprintf("Person %d (invented)", i+1))
		})},
		{"product", []string{"group_id", "id", "version", "kind", "name", "maker", "form", "metal", "chemistry", "notes", "shipped"}, s.products()},
		{"batch", []string{"group_id", "id", "version", "product_id", "text", "text_key", "received_on", "quantity"}, s.batches()},
	}, s.places()...)
}

// Each group has the hardware of each fashion and one resin, which is last.
var groupProducts = len(cragFashions) + 1

func (s *Synthetic) products() iter.Seq[[]any] {
	return rows(s.Groups*groupProducts, func(i int, emit emit) bool {
		group, id, k := s.group(i/groupProducts), syntheticID(sortProduct, i), i%groupProducts
		if k == len(cragFashions) {
			return emit(group, id, 1, string(registry.Adhesive), resins[0].name, "", nil, nil, resins[0].chemistry, "", false)
		}
		f := cragFashions[k]
		return emit(group, id, 1, string(registry.Hardware), fmt.Sprintf("%s, %s, generic (invented)", f.form, f.words), "", string(f.form), gradeTexts(f.metal), "", "", false)
	})
}

func (s *Synthetic) batches() iter.Seq[[]any] {
	return rows(s.Groups*groupBatches, func(i int, emit emit) bool {
		group, k := i/groupBatches, i%groupBatches
		text := fmt.Sprintf("S%03d", k)
		return emit(s.group(group), syntheticID(sortBatch, i), 1, s.resin(group), text, text, s.AsOf.AddDays(-200*(k+1)).Time(), "20 cartridges")
	})
}

func (s *Synthetic) resin(group int) uuid.UUID {
	return syntheticID(sortProduct, group*groupProducts+len(cragFashions))
}

func gradeTexts(set metal.Set) []string {
	texts := make([]string, len(set))
	for i, g := range set {
		texts[i] = string(g)
	}
	return texts
}

func (s *Synthetic) places() []Table {
	return []Table{
		{"site", []string{"group_id", "id", "version", "name", "kind", "rock", "rock_words", "lat", "lon", "coordinate_words", "notes"}, s.eachSite(s.site)},
		{"environment", []string{"group_id", "id", "version", "site_id", "place_kind", "place_id", "from_on", "preset", "source", "sea_km", "washed"}, s.eachSite(s.climate)},
		{"sector", []string{"group_id", "id", "version", "site_id", "name"}, s.eachSite(s.sectors)},
		{"route", []string{"group_id", "id", "version", "site_id", "sector_id", "name", "kind", "traffic"}, s.eachSite(s.routes)},
		{"position", []string{
			"group_id", "id", "version", "site_id", "sector_id", "label", "role", "face", "lat", "lon", "how_to", "parcel_by_hand", "notes",
		}, rows(s.Anchors, s.position)},
		{"route_position", []string{"group_id", "route_id", "position_id", "rank"}, rows(s.Anchors, func(n int, emit emit) bool {
			at := s.stance(n)
			return emit(s.group(at.group), syntheticID(sortRoute, at.route), syntheticID(sortPosition, n), at.at%routeAnchors+1)
		})},
	}
}

// eachSite calls fn for each site, by its group, its number there and its
// number in the register.
func (s *Synthetic) eachSite(fn func(group, at, n int, emit emit) bool) iter.Seq[[]any] {
	return rows(s.Groups, func(group int, emit emit) bool {
		for at := range s.sitesOf(group) {
			if !fn(group, at, s.sitesBefore(group)+at, emit) {
				return false
			}
		}
		return true
	})
}

// kindOf makes every tenth site a cave, without coordinates, and every seventh
// of the others a sea cliff.
func kindOf(at int) registry.SiteKind {
	switch {
	case at%10 == 9:
		return registry.Cave
	case at%7 == 3:
		return registry.SeaCliff
	}
	return registry.Crag
}

func (s *Synthetic) site(group, at, n int, emit emit) bool {
	kind := kindOf(at)
	var lat, lon any
	if kind != registry.Cave {
		lat, lon = groundOf(group, at)
	}
	return emit(s.group(group), syntheticID(sortSite, n), 1, fmt.Sprintf("Site %d (invented)", at+1), string(kind), string(registry.RockHard), "limestone", lat, lon, "", "")
}

func (s *Synthetic) climate(group, at, n int, emit emit) bool {
	seaKm := float64(20 + at%80)
	if kindOf(at) == registry.SeaCliff {
		seaKm = 0
	}
	site := syntheticID(sortSite, n)
	return emit(s.group(group), syntheticID(sortEnvironment, n), 1, site, string(registry.AtSite), site,
		s.AsOf.AddYears(-firstSet-1).Time(), "", "invented", seaKm, true)
}

func (s *Synthetic) sectors(group, _, n int, emit emit) bool {
	for k := range siteSectors {
		if !emit(s.group(group), syntheticID(sortSector, n*siteSectors+k), 1, syntheticID(sortSite, n), fmt.Sprintf("Sector %d", k+1)) {
			return false
		}
	}
	return true
}

func (s *Synthetic) routes(group, _, n int, emit emit) bool {
	traffic := registry.Traffics()
	for k := range siteRoutes {
		sector := n*siteSectors + k*routeAnchors*siteSectors/siteAnchors
		if !emit(s.group(group), syntheticID(sortRoute, n*siteRoutes+k), 1, syntheticID(sortSite, n), syntheticID(sortSector, sector),
			fmt.Sprintf("Route %d", k+1), string(registry.Climb), string(traffic[(n+k)%len(traffic)])) {
			return false
		}
	}
	return true
}

func (s *Synthetic) position(n int, emit emit) bool {
	at, t := s.stance(n), s.traits(n)
	site := at.at / siteAnchors
	var lat, lon any
	if kindOf(site) != registry.Cave {
		m := chanceOf(sortPosition, n)
		siteLat, siteLon := groundOf(at.group, site)
		lat, lon = siteLat+float64(m.between(-1000, 1000))*1e-6, siteLon+float64(m.between(-1000, 1000))*1e-6
	}
	return emit(s.group(at.group), syntheticID(sortPosition, n), 1, syntheticID(sortSite, at.site), syntheticID(sortSector, at.sector),
		fmt.Sprintf("%d", at.at%routeAnchors+1), string(t.role), "wall", lat, lon, "", false, "")
}

// evening is when what happened on a day was entered.
func evening(day time.Time) time.Time { return day.Add(20 * time.Hour) }

package demo

import (
	"fmt"
	"math"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// freshRoute is where the group was last week.
const freshRoute = "Narrow Gauge"

// firstYear is the year in which the invented group began.
const firstYear = 1996

// scene collects the scenario while it is being invented.
type scene struct {
	*maker
	change   registry.Change
	persons  []uuid.UUID
	resins   []uuid.UUID
	hardware map[string]uuid.UUID
	batches  map[string]uuid.UUID
	owners   map[string]uuid.UUID
	fresh    int // anchors still to be replaced last week
}

// Scenario invents the register as of a day: what stands in the rock, who set
// it, and what was seen since. It returns the same nouns for the same day.
func Scenario(asOf calendar.Date, at time.Time) registry.Change {
	s := &scene{
		maker:    newMaker(asOf, 1),
		hardware: map[string]uuid.UUID{}, batches: map[string]uuid.UUID{}, owners: map[string]uuid.UUID{},
	}
	s.change.What, s.change.At = "invented scenario", at
	s.people()
	for _, p := range plan {
		s.site(p)
	}
	s.gluings()
	s.climates()
	s.agreements()
	s.restrictions()
	s.flood()
	s.warning()
	s.cartridge()
	s.recall()
	return s.change
}

func (s *scene) people() {
	for _, name := range people {
		id := s.id()
		s.persons = append(s.persons, id)
		s.change.Persons = append(s.change.Persons, registry.Person{ID: id, Name: name})
	}
	for _, r := range resins {
		id := s.id()
		s.resins = append(s.resins, id)
		s.change.Products = append(s.change.Products, registry.Product{ID: id, Kind: registry.Adhesive, Name: r.name, Chemistry: r.chemistry})
	}
}

func (s *scene) site(p sitePlan) {
	site := registry.Site{
		ID: s.id(), Name: p.name, Kind: p.kind, Rock: p.rock, RockWords: p.words,
		Notes: "Invented for the demonstration.",
	}
	if p.kind != registry.Cave {
		site.Lat, site.Lon = &p.lat, &p.lon
	}
	s.change.Sites = append(s.change.Sites, site)
	parcel := s.parcel(p)
	for _, sec := range p.sectors {
		sector := registry.Sector{ID: s.id(), SiteID: site.ID, Name: sec.name}
		s.change.Sectors = append(s.change.Sectors, sector)
		for _, name := range sec.routes {
			s.route(ground{p, site, sector, parcel}, name)
		}
	}
}

// ground is where something is being invented.
type ground struct {
	sitePlan
	site    registry.Site
	sector  registry.Sector
	ofOwner uuid.UUID // the parcel
}

// route invents one route with its positions, all set in one season.
func (s *scene) route(g ground, name string) {
	r := registry.Route{
		ID: s.id(), SiteID: g.site.ID, SectorID: &g.sector.ID, Name: name, Kind: registry.Climb,
		Traffic: pick(s.maker, append(registry.Traffics(), "")),
	}
	spots := s.climbSpots()
	if g.kind == registry.Cave {
		r.Kind, spots = registry.Pitch, s.caveSpots()
	}
	s.change.Routes = append(s.change.Routes, r)
	season := s.season()
	if name == freshRoute {
		s.fresh = 4
	}
	var belay []uuid.UUID
	for rank, spot := range spots {
		position := s.position(g, spot, rank)
		s.change.Stops = append(s.change.Stops, registry.Stop{RouteID: r.ID, PositionID: position.ID, Rank: rank + 1})
		if spot.role == registry.Belay || spot.role == registry.LowerOff || spot.role == registry.YHangLeg {
			belay = append(belay, position.ID)
		}
		s.anchor(g, position, season)
	}
	s.change.Assemblies = append(s.change.Assemblies, registry.Assembly{
		ID: s.id(), SiteID: g.site.ID, Name: name + ", belay", Kind: registry.Equalised, PositionIDs: belay,
	})
}

// season is a day in the months when the group works, from its first year to
// last autumn.
func (s *scene) season() calendar.Date {
	year, _, _ := s.asOf.Civil()
	day := calendar.NewDate(s.between(firstYear, year), time.Month(s.between(4, 9)), s.between(1, 28))
	if day > s.asOf.AddMonths(-2) {
		day = day.AddYears(-1)
	}
	return day
}

type spot struct {
	label string
	role  registry.PositionRole
	face  registry.Face
}

func (s *scene) climbSpots() []spot {
	var out []spot
	for i := range s.between(8, 11) {
		out = append(out, spot{fmt.Sprintf("Runner %d", i+1), registry.Runner, pick(s.maker, []registry.Face{registry.Wall, registry.Slab, registry.Overhang})})
	}
	if s.oneIn(2) {
		return append(out, spot{"Lower-off left", registry.LowerOff, registry.Wall}, spot{"Lower-off right", registry.LowerOff, registry.Wall})
	}
	return append(out, spot{"Belay left", registry.Belay, registry.Wall}, spot{"Belay right", registry.Belay, registry.Wall})
}

func (s *scene) caveSpots() []spot {
	out := []spot{{"Traverse 1", registry.Traverse, registry.Wall}, {"Traverse 2", registry.Traverse, registry.Wall}}
	out = append(out, spot{"Y-hang left", registry.YHangLeg, registry.Wall}, spot{"Y-hang right", registry.YHangLeg, registry.Wall})
	for i := range s.between(2, 5) {
		out = append(out, spot{fmt.Sprintf("Rebelay %d", i+1), registry.Rebelay, registry.Wall})
	}
	for i := range s.between(1, 2) {
		out = append(out, spot{fmt.Sprintf("Deviation %d", i+1), registry.Deviation, registry.Overhang})
	}
	return out
}

// position invents a spot. In a cave its parcel is named by hand, elsewhere it
// is the one whose outline the coordinates lie in.
func (s *scene) position(g ground, at spot, rank int) registry.Position {
	pos := registry.Position{
		ID: s.id(), SiteID: g.site.ID, SectorID: &g.sector.ID, Label: at.label, Role: at.role, Face: at.face,
		ParcelID: &g.ofOwner, ParcelByHand: g.kind == registry.Cave,
	}
	if g.kind != registry.Cave {
		lat, lon := scatter(s.maker, g.lat, rank), scatter(s.maker, g.lon, rank)
		pos.Lat, pos.Lon = &lat, &lon
	}
	s.change.Positions = append(s.change.Positions, pos)
	return pos
}

// scatter moves a coordinate by up to about 100 m, to five decimals.
func scatter(m *maker, degrees float64, rank int) float64 {
	return math.Round((degrees+float64(m.between(-80, 80)+rank)/1e5)*1e5) / 1e5
}

func millimetres(v float64) *quantity.Length {
	l := quantity.Length(v)
	return &l
}

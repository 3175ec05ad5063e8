package demo

import (
	"fmt"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// freshSpots is how many anchors one cartridge of the invented resin sets.
const freshSpots = 6

// cartridge invents a new route of six anchors, glued two days ago from one
// cartridge of a resin with a sheet: all but the last may be used; the second
// hole was drilled too narrow, the fourth cleaned too few times.
func (s *scene) cartridge() {
	s.maker = newMaker(s.asOf, 5)
	day := s.asOf.AddDays(-2)
	resin := s.briskResin()
	batch := s.id()
	onHand, received := 7, 8
	s.change.Batches = append(s.change.Batches, registry.Batch{
		ID: batch, ProductID: &resin, Text: "BR-0417", ReceivedOn: day.AddMonths(-2), ExpiresOn: day.AddMonths(9),
		Quantity: "8 cartridges", Received: &received, OnHand: &onHand,
	})
	like := s.change.Positions[0]
	session := s.briskSession(like.SiteID, resin, batch, day)
	route := registry.Route{ID: s.id(), SiteID: like.SiteID, SectorID: like.SectorID, Name: "Wet Paint", Kind: registry.Climb, Traffic: registry.TrafficMostWeekends}
	s.change.Routes = append(s.change.Routes, route)
	for n := range freshSpots {
		pos := registry.Position{
			ID: s.id(), SiteID: like.SiteID, SectorID: like.SectorID, Label: fmt.Sprintf("Runner %d", n+1), Role: registry.Runner,
			Face: registry.Wall, ParcelID: like.ParcelID,
		}
		lat, lon := scatter(s.maker, *like.Lat, n), scatter(s.maker, *like.Lon, n)
		pos.Lat, pos.Lon = &lat, &lon
		s.change.Positions = append(s.change.Positions, pos)
		s.change.Stops = append(s.change.Stops, registry.Stop{RouteID: route.ID, PositionID: pos.ID, Rank: n + 1})
		s.glued(pos, &session, n)
	}
}

// briskResin is an adhesive with a sheet, both invented: the figures are those
// of no product and of no published table.
func (s *scene) briskResin() uuid.UUID {
	id, wet, ml := s.id(), 2.0, 290.0
	cycles, months := 4, 14
	s.change.Products = append(s.change.Products, registry.Product{
		ID: id, Kind: registry.Adhesive, Name: "Brisk resin with an invented sheet (invented)", Chemistry: "vinylester",
	})
	s.change.ProductVersions = append(s.change.ProductVersions, registry.ProductVersion{
		ID: s.id(), ProductID: id, From: calendar.NewDate(firstYear, time.January, 1), Source: "Invented sheet, for the demonstration only",
		CureRows: []registry.CureRow{
			{FromC: -3, ToC: 3, WorkMinutes: 33, CureMinutes: 410},
			{FromC: 4, ToC: 11, WorkMinutes: 17, CureMinutes: 170},
			{FromC: 12, ToC: 21, WorkMinutes: 8, CureMinutes: 75},
			{FromC: 22, ToC: 31, WorkMinutes: 3, CureMinutes: 40},
		},
		WetFactor: &wet, Moistures: []registry.Moisture{registry.HoleDry, registry.HoleDamp},
		CleaningCycles: &cycles, ShelfMonths: &months, CartridgeML: &ml,
	})
	return id
}

func (s *scene) briskSession(site, resin, batch uuid.UUID, day calendar.Date) registry.GluingSession {
	yes := true
	g := registry.GluingSession{
		ID: s.id(), SiteID: site, DoneOn: calendar.Exactly(day), AdhesiveID: &resin, BatchID: &batch, ExpiresOn: s.expiry(batch),
		Cartridge: "1", NozzleNew: &yes, OpenedAt: around(day, 10, 0, "about 10"), FirstMixDiscarded: &yes,
		RockC:      &registry.Reading{C: 13, How: registry.Measured},
		AirC:       &registry.Reading{C: 15, How: registry.Measured},
		CartridgeC: &registry.Reading{C: 18, How: registry.Measured},
		NightC:     &registry.Reading{C: 7, How: registry.Measured},
		SetByID:    &s.persons[1], SupervisedByID: &s.persons[4], CheckedByID: &s.persons[2],
		MethodStatement: "Invented method statement, issue 2", SampleKept: &yes, SampleWhere: "Beside the first runner", SampleAtRock: &yes,
		Words: "Invented for the demonstration.", Origin: registry.Recorded, RecordedAt: day.Time().Add(20 * time.Hour),
	}
	s.change.Sessions = append(s.change.Sessions, g)
	return g
}

// glued invents the n-th anchor of the cartridge.
func (s *scene) glued(pos registry.Position, g *registry.GluingSession, n int) {
	f := cragFashions[len(cragFashions)-1]
	product, day := s.product(f), g.DoneOn.From
	a := registry.Anchor{
		ID: s.id(), SiteID: pos.SiteID, PositionID: pos.ID, Form: f.form, Metal: f.metal, MetalWords: f.words, ProductID: &product,
		Shank: millimetres(f.shank), Length: millimetres(f.length), SetOn: g.DoneOn, Origin: registry.Recorded, EnteredOn: day,
	}
	s.change.Anchors = append(s.change.Anchors, a)
	no, hole := false, f.hole
	if n == 1 {
		hole -= 2
	}
	i := registry.Installation{
		Record: s.record(a, day, ""), SessionID: &g.ID, HoleDiameter: millimetres(hole), HoleDepth: millimetres(f.length + 10),
		RockSound: registry.Ringing, CracksSeen: &no, NeighbourDistance: millimetres(1500),
	}
	i.PersonID = nil // the session's
	s.describe(s.maker, &i, n)
	if n == 3 {
		few := 2
		i.CleaningCycles = &few
	}
	s.change.Installations = append(s.change.Installations, i)
	if n == freshSpots-1 {
		return
	}
	u := registry.FirstUse{Record: s.record(a, day.AddDays(1), "Kept sample hard."), At: around(day.AddDays(1), 11, 0, "about 11"), Sample: registry.SampleHard}
	u.PersonID = &s.persons[3]
	s.change.FirstUses = append(s.change.FirstUses, u)
}

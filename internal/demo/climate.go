package demo

import (
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// climates invents the environment of three sites, of one sector and of one
// position. The quarry is left without, which is a task on Today.
func (s *scene) climates() {
	since := calendar.NewDate(firstYear, time.January, 1)
	say := func(p sitePlan, at registry.Place, e registry.Environment) {
		e.ID, e.SiteID, e.Place, e.From = s.id(), s.siteOf(p).ID, at, since
		s.change.Environments = append(s.change.Environments, e)
	}
	atSite := func(p sitePlan) registry.Place { return registry.Place{Kind: registry.AtSite, ID: s.siteOf(p).ID} }
	crag, cliff, cave := plan[0], plan[1], plan[2]

	say(crag, atSite(crag), registry.Environment{
		Source:       "Invented weather station at the car park, 2004 to 2014; distances from a map",
		TemperatureC: number(8.5), HumidityPct: number(81), SulphurDioxide: number(2), Chloride: number(4),
		SeaKm: number(62), RoadKm: number(1.4), Washed: yes(true), SurfaceMaxC: number(44),
	})
	atSea := registry.Preset(registry.SeaCliff)
	atSea.Source += "; salt candles on the headland, invented, 2016"
	atSea.TemperatureC, atSea.HumidityPct, atSea.SulphurDioxide, atSea.Chloride = number(11), number(83), number(1), number(160)
	atSea.Washed, atSea.SurfaceMaxC = yes(true), number(37)
	say(cliff, atSite(cliff), atSea)
	roof := s.underRoof(cliff)
	say(cliff, registry.Place{Kind: registry.AtPosition, ID: roof.ID}, registry.Environment{
		Source: "Seen on every visit: dry and white with salt under the roof (invented)", Washed: yes(false),
	})
	say(cave, atSite(cave), registry.Preset(registry.Cave))
	say(cave, registry.Place{Kind: registry.AtSector, ID: s.sector("Far Series").ID}, registry.Environment{
		Source: "Stream passage (invented)", Wetness: registry.Stream,
	})
}

// underRoof finds the first position under an overhang of a site with a living
// anchor of stainless steel.
func (s *scene) underRoof(p sitePlan) registry.Position {
	stainless := map[string]bool{"304": true, "316L": true}
	site := s.siteOf(p)
	return first(s.change.Positions, func(pos registry.Position) bool {
		if pos.SiteID != site.ID || pos.Face != registry.Overhang {
			return false
		}
		a := first(s.change.Anchors, func(a registry.Anchor) bool { return a.PositionID == pos.ID && !a.Removed })
		return stainless[a.MetalWords]
	})
}

func number(v float64) *float64 { return &v }

func yes(v bool) *bool { return &v }

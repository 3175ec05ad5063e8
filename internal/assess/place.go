package assess

import (
	"rockledger/internal/corrosion"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// place is where an anchor sits, as corrosion asks it, with room for what it
// points to.
type place struct {
	corrosion.Place
	sea, road quantity.Length
	surface   quantity.Temperature
	chloride  corrosion.ChlorideClass
	sulphur   float64
}

// fill takes over a site's kind and its environment.
func (p *place) fill(k registry.SiteKind, e *registry.Environment) {
	p.SeaCliff = k == registry.SeaCliff
	p.SeaDistance = distance(&p.sea, e.SeaKm)
	p.RoadDistance = distance(&p.road, e.RoadKm)
	p.Coast = corrosion.Coast(e.Coast)
	p.MineralSalts = e.MineralSalts
	if e.Washed != nil {
		p.Washing = corrosion.Never
		if *e.Washed {
			p.Washing = corrosion.Rain
		}
	}
	if e.SurfaceMaxC != nil {
		p.surface = quantity.Temperature(*e.SurfaceMaxC)
		p.SurfaceTemperature = &p.surface
	}
	if e.Chloride != nil {
		p.chloride, _ = corrosion.ChlorideClassOf(*e.Chloride) // validated when entered
		p.Chloride = &p.chloride
	}
	if e.SulphurDioxide != nil {
		p.sulphur = *e.SulphurDioxide / corrosion.Deposition(1)
		p.SulphurDioxide = &p.sulphur
	}
	if k == registry.Cave {
		p.Cave = caveOf(e.Wetness)
	}
}

func distance(room *quantity.Length, km *float64) *quantity.Length {
	if km == nil {
		return nil
	}
	*room = quantity.Length(*km) * quantity.Kilometre
	return room
}

// caveOf returns the part of a cave that is as wet as that.
func caveOf(w registry.Wetness) corrosion.Cave {
	switch w {
	case registry.Dry:
		return corrosion.CaveDry
	case registry.Dripping:
		return corrosion.CaveDripping
	case registry.Stream:
		return corrosion.CaveStream
	}
	return corrosion.CaveNotKnown
}

// category returns the category of the place for one metal: as stated, in a
// cave the default that stands in for the atmosphere, or else computed from a
// climate that is wholly on record; 0 if not known.
func (p *place) category(m corrosion.Metal, stated registry.Category, e *registry.Environment) corrosion.Category {
	if stated != "" {
		c, _ := corrosion.ParseCategory(string(stated))
		return c
	}
	if p.Cave != "" {
		return corrosion.CaveCategory(p.Cave)
	}
	if !climateKnown(e) {
		return 0
	}
	climate, _ := corrosion.Climate{
		Temperature: quantity.Temperature(*e.TemperatureC), Humidity: *e.HumidityPct,
		SulphurDioxide: *e.SulphurDioxide, Chloride: *e.Chloride,
	}.Fitted()
	rate, err := corrosion.Rate(m, climate)
	if err != nil {
		return 0
	}
	c, _ := corrosion.Classify(m, rate)
	return c
}

func climateKnown(e *registry.Environment) bool {
	return e.TemperatureC != nil && e.HumidityPct != nil && e.SulphurDioxide != nil && e.Chloride != nil
}

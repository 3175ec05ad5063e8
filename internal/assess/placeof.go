package assess

import (
	"rockledger/internal/calendar"
	"rockledger/internal/corrosion"
	"rockledger/internal/registry"
)

// PlaceOf returns where an anchor sits on a day, as corrosion asks it: the kind
// of its site, and its environment as far as it is on record.
func PlaceOf(f *registry.Facts, asOf calendar.Date) corrosion.Place {
	var p place
	e := registry.ResolveEnvironment(f.Environments, asOf)
	p.fill(f.Site.Kind, &e)
	return p.Place
}

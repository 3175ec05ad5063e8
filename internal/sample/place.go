package sample

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Environment is a statement about the site as a whole, in force since 2010:
// inland, washed by rain.
func Environment(s registry.Site, changes ...func(*registry.Environment)) registry.Environment {
	return made(registry.Environment{
		ID: ID(), SiteID: s.ID, Place: registry.Place{Kind: registry.AtSite, ID: s.ID}, From: calendar.NewDate(2010, time.January, 1),
		Source: "invented", SteelCategory: "C2", SeaKm: Of(40.0), RoadKm: Of(2.5), MineralSalts: Of(false), Washed: Of(true),
		SurfaceMaxC: Of(35.0),
	}, changes)
}

// Event is a rockfall at the site a month before Day, with a date by which to
// inspect.
func Event(s registry.Site, changes ...func(*registry.Event)) registry.Event {
	return made(registry.Event{
		ID: ID(), SiteID: s.ID, Kind: registry.Rockfall, HappenedOn: Day.AddDays(-30), InspectBy: Day.AddDays(60), Words: "below the wall",
	}, changes)
}

// Notice is a warning about the anchors, issued a week before Day.
func Notice(anchors ...registry.Anchor) registry.Notice {
	n := registry.Notice{
		ID: ID(), Title: "Example warning", Words: "look at the eyes", IssuedOn: Day.AddDays(-7), InspectBy: Day.AddDays(90),
	}
	for _, a := range anchors {
		n.AnchorIDs = append(n.AnchorIDs, a.ID)
	}
	return n
}

// Agreement is the landowner's permission since 2020, without end.
func Agreement(l registry.Landowner, changes ...func(*registry.Agreement)) registry.Agreement {
	return made(registry.Agreement{
		ID: ID(), LandownerID: Of(l.ID), Kind: registry.Permission, Issuer: "the invented bailiff", Conditions: "no drilling on Sundays",
		From: calendar.NewDate(2020, time.January, 1),
	}, changes)
}

// Restriction bars climbing at a place every year over new year.
func Restriction(kind registry.PlaceKind, place uuid.UUID, changes ...func(*registry.Restriction)) registry.Restriction {
	return made(registry.Restriction{
		ID: ID(), Place: &registry.Place{Kind: kind, ID: place}, Kind: registry.NoClimbing, Why: "bats", Weight: registry.ByAgreement,
		Yearly: &calendar.Window{FromMonth: time.November, FromDay: 1, ToMonth: time.February, ToDay: 28}, ConfirmedOn: Day,
	}, changes)
}

// ProductVersion is the product's sheet from 2012 on.
func ProductVersion(p registry.Product, changes ...func(*registry.ProductVersion)) registry.ProductVersion {
	return made(registry.ProductVersion{
		ID: ID(), ProductID: p.ID, From: calendar.NewDate(2012, time.January, 1), Source: "issue 2012-01",
		Hole: Of(quantity.Length(14)), Shank: Of(quantity.Length(12)), Length: Of(quantity.Length(100)),
		Embedded: Of(quantity.Length(80)), AxialKN: Of(quantity.Force(15)), RadialKN: Of(quantity.Force(25)), Drawing: "eye upright",
	}, changes)
}

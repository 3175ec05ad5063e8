package demo

import (
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// owner makes a landowner at its first parcel.
func (s *scene) owner(name string) uuid.UUID {
	if id, ok := s.owners[name]; ok {
		return id
	}
	id := s.id()
	s.owners[name] = id
	s.change.Landowners = append(s.change.Landowners, registry.Landowner{
		ID: id, Name: name, Contact: fmt.Sprintf("Write to land%d@demo.invalid before every visit.", len(s.owners)),
	})
	return id
}

// parcel invents the land a site lies on. A cave's is not drawn.
func (s *scene) parcel(p sitePlan) uuid.UUID {
	parcel := registry.Parcel{ID: s.id(), LandownerID: s.owner(p.owner), Name: p.parcel}
	if p.kind != registry.Cave {
		parcel.Outline = outline(p.lat, p.lon)
	}
	s.change.Parcels = append(s.change.Parcels, parcel)
	return parcel.ID
}

// corners of an outline, degrees of longitude and latitude from its middle,
// anticlockwise. All positions of a site lie within 0.0012 degrees of it.
var corners = [][2]float64{
	{-0.0030, -0.0016},
	{0.0012, -0.0021},
	{0.0034, -0.0014},
	{0.0029, 0.0017},
	{-0.0008, 0.0024},
	{-0.0031, 0.0015},
}

// outline draws a piece of land as a GeoJSON polygon.
func outline(lat, lon float64) string {
	var ring []string
	for _, c := range append(corners, corners[0]) {
		ring = append(ring, fmt.Sprintf("[%.5f,%.5f]", lon+c[0], lat+c[1]))
	}
	return `{"type":"Polygon","coordinates":[[` + strings.Join(ring, ",") + `]]}`
}

// agreements invents what the group may do on whose land: one permission with
// years to go, one open, and a consent that soon ends.
func (s *scene) agreements() {
	commons, parish, farm := s.owners[plan[0].owner], s.owners[plan[1].owner], s.owners[plan[2].owner]
	s.change.Agreements = append(s.change.Agreements,
		registry.Agreement{
			ID: s.id(), LandownerID: &commons, Kind: registry.Permission, Issuer: plan[0].owner,
			Conditions: "Replace like for like in old holes where possible; a list of the work each January; no new routes.",
			From:       s.asOf.AddYears(-3), Until: s.asOf.AddYears(2),
		},
		registry.Agreement{
			ID: s.id(), LandownerID: &parish, Kind: registry.Consent, Issuer: "Coast and Moor Office (invented)",
			Conditions: "No drilling while birds nest; titanium or stainless steel only.",
			From:       s.asOf.AddYears(-5), Until: s.asOf.AddDays(80),
		},
		registry.Agreement{
			ID: s.id(), LandownerID: &farm, Kind: registry.Permission, Issuer: plan[2].owner,
			Conditions: "Park in the yard, shut the gate, say how many went down and how many came up.",
			From:       s.asOf.AddYears(-11),
		},
	)
}

// restrictions invents when what is barred: birds on a sea cliff, a cave closed
// over new year for its bats, lambs below a quarry.
func (s *scene) restrictions() {
	yearly := func(fromMonth time.Month, fromDay int, toMonth time.Month, toDay int) *calendar.Window {
		return &calendar.Window{FromMonth: fromMonth, FromDay: fromDay, ToMonth: toMonth, ToDay: toDay}
	}
	birds := registry.Place{Kind: registry.AtSector, ID: s.sector("Lantern Wall").ID}
	bats := registry.Place{Kind: registry.AtSite, ID: s.siteOf(plan[2]).ID}
	lambs := s.change.Parcels[3].ID
	s.change.Restrictions = append(s.change.Restrictions,
		registry.Restriction{
			ID: s.id(), Place: &birds, Kind: registry.NoClimbing, Weight: registry.ByAgreement, Why: "birds nest on the ledges",
			Yearly: yearly(time.March, 1, time.July, 31), ConfirmedOn: s.asOf.AddMonths(-4),
		},
		registry.Restriction{
			ID: s.id(), Place: &bats, Kind: registry.NoEntry, Weight: registry.ByLaw, Why: "bats sleep in the entrance series",
			Yearly: yearly(time.December, 1, time.February, 28), ConfirmedOn: s.asOf.AddMonths(-2),
		},
		registry.Restriction{
			ID: s.id(), ParcelID: &lambs, Kind: registry.NoDrilling, Weight: registry.ByRequest, Why: "ewes with lambs below the face",
			Yearly: yearly(time.April, 1, time.May, 31),
		},
	)
}

// siteOf finds the site made of a plan.
func (s *scene) siteOf(p sitePlan) registry.Site {
	return first(s.change.Sites, func(x registry.Site) bool { return x.Name == p.name })
}

func (s *scene) sector(name string) registry.Sector {
	return first(s.change.Sectors, func(x registry.Sector) bool { return x.Name == name })
}

// first returns the first of list that is wanted. The scenario's own plan
// holds one.
func first[T any](list []T, wanted func(T) bool) T {
	for _, v := range list {
		if wanted(v) {
			return v
		}
	}
	var none T
	return none
}

package assess

import (
	"rockledger/internal/calendar"
	"rockledger/internal/corrosion"
	"rockledger/internal/houserules"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// dates sets the days by which the zinc is used up, the lost section reaches
// its shares and the service life ends. They rest on the day the anchor was
// set, the earliest one, and are not known without it.
func (x *exposing) dates() {
	set := x.facts.SetDay().From
	if set.IsZero() {
		return
	}
	x.out.CoatingGoneOn = x.coatingGone(set)
	x.sections(set)
	if years, ok := x.serviceLife(); ok {
		x.out.ServiceEndsOn = set.AddYears(years)
	}
}

// coatingGone returns the day by which the thinnest coating that the anchor can
// have is used up in the open, at the fastest rate of its category for zinc.
//
// Source: ISO 9223:2012, Table 2; ISO 9224:2012. The thickness is that of the
// house rules. In the hole zinc is taken to be gone from the first day.
func (x *exposing) coatingGone(set calendar.Date) calendar.Date {
	if x.zinc == 0 || !x.has(coatedSteel) {
		return 0
	}
	var first calendar.Date
	for _, g := range x.facts.Anchor.Metal {
		if traitsOf[g].kind != 1<<coatedSteel {
			continue
		}
		thickness := quantity.Length(x.rules.Coating[string(g)].Value) * quantity.Micrometre
		years := 0.0
		if rate, ok := fastest(corrosion.Zinc, x.zinc); ok {
			life, _ := corrosion.ZincLife(thickness, rate) // neither is negative
			years = life.Least()
		}
		first = earlier(first, yearsAfter(set, years))
	}
	return first
}

// sections sets the days by which the exposed part of a round shank has lost
// the shares of its area, at the fastest rate of its category for steel and
// with the exponent for upper limits. Bare steel begins when it was set, coated
// steel when its zinc is used up.
//
// Source: ISO 9223:2012, Table 2; ISO 9224:2012, exponent B2. Uniform loss in
// the open: it says nothing of the shank in the hole and is no remaining life.
func (x *exposing) sections(set calendar.Date) {
	shank := x.facts.Anchor.Shank
	if x.steel == 0 || shank == nil || !(*shank > 0) {
		return
	}
	start := x.out.CoatingGoneOn
	if x.has(bareSteel) {
		start = set
	}
	if start.IsZero() {
		return
	}
	x.out.SectionWatchOn = x.sectionGone(start, *shank, registry.Watch)
	x.out.SectionSuspectOn = x.sectionGone(start, *shank, registry.Suspect)
}

func (x *exposing) sectionGone(start calendar.Date, shank quantity.Length, s registry.Severity) calendar.Date {
	rate, ok := fastest(corrosion.CarbonSteel, x.steel)
	if !ok {
		return start
	}
	exponents, _ := corrosion.ExponentsOf(corrosion.CarbonSteel)
	depth, err := corrosion.DepthForSection(shank, float64(x.rules.Section[string(s)].Value)/100)
	if err != nil {
		return 0
	}
	years, _ := corrosion.YearsUntil(depth, rate, exponents.B2) // neither is negative
	return yearsAfter(start, years)
}

// fastest returns the highest rate of a category; false where there is none,
// above CX.
func fastest(m corrosion.Metal, c corrosion.Category) (corrosion.PerYear, bool) {
	band, err := corrosion.BandOf(m, c)
	if err != nil || band.High == nil {
		return 0, false
	}
	return *band.High, true
}

// yearsAfter returns the day a number of years of 365.25 days after another,
// rounded down; none if that is more than two centuries ahead.
func yearsAfter(d calendar.Date, years float64) calendar.Date {
	if !(years <= 200) {
		return 0
	}
	return d.AddDays(int(years * 365.25))
}

// earlier returns the earlier of two days; "no date" is none.
func earlier(a, b calendar.Date) calendar.Date {
	if a.IsZero() || !b.IsZero() && b < a {
		return b
	}
	return a
}

// serviceLife returns the expected life in years, the least of the grades that
// the metal can be. There is none for a metal that does not suit its place, or
// of which that is not known.
func (x *exposing) serviceLife() (int, bool) {
	form := x.facts.Anchor.Form
	least := 0
	for _, g := range x.facts.Anchor.Metal {
		t := traitsOf[g]
		row := ""
		switch {
		case t.kind == 1<<titanium && form.Bonded():
			row = houserules.TitaniumBonded
		case t.kind == 1<<stainless && form.Bonded() && x.suits(&t):
			row = houserules.StainlessBonded
		case t.kind == 1<<stainless && form.Expansion() && x.suits(&t):
			row = houserules.StainlessExpansion
		default:
			return 0, false
		}
		if n := x.rules.ServiceLife[row].Value; least == 0 || n < least {
			least = n
		}
	}
	return least, least > 0
}

// suits says whether a stainless grade suits the place.
func (x *exposing) suits(t *traits) bool {
	if x.mayCrack(t) {
		return false
	}
	if x.place.Cave != "" {
		return t.lasts
	}
	return x.required > 0 && !x.atLeast && t.class >= x.required
}

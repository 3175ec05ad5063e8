package assess

import (
	"slices"

	"rockledger/internal/calendar"
	"rockledger/internal/corrosion"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// exposing is one run for one anchor.
type exposing struct {
	out   registry.Exposure
	facts *registry.Facts
	rules *houserules.Rules
	place place
	bits  struct{ kinds, concerns, materials int }
	// required is the class asked of stainless steel; 0: not asked, as in a
	// cave. atLeast says that it is that of the same place far from the sea,
	// whose distance is not on record.
	required    corrosion.Class
	atLeast     bool
	zinc, steel corrosion.Category // 0: not known, or not asked
	risk        corrosion.Risk
}

// expose sets the zero value to what the place of an anchor does to its metal,
// for every grade that it can be, on a day.
//
// Stainless steel and titanium are judged by the class that the place asks for
// where the distance of the sea is on record, at a sea cliff, and in a cave;
// carbon steel by its category, stated or computed; all other combinations have
// the house rules' rows for an environment that is not known. A metal that is
// not known counts as coated carbon steel. Steel that may crack has the rows of
// cracking besides, also where an expert is needed.
func (x *exposing) expose(f *registry.Facts, r *houserules.Rules, asOf calendar.Date) {
	x.facts, x.rules = f, r
	x.out.Environment = registry.ResolveEnvironment(f.Environments, asOf)
	x.place.fill(f.Site.Kind, &x.out.Environment)
	for _, g := range f.Anchor.Metal {
		t := traitsOf[g]
		x.bits.kinds |= t.kind
		x.bits.concerns |= t.concern
		x.bits.materials |= t.material
	}
	x.out.Kinds = kindsOf[x.bits.kinds]
	x.judgePlace()
	x.rows()
	x.short()
	x.dates()
	x.out.Couples = couples(f, x.bits.materials, asOf)
}

// has says whether the metal can be of a kind.
func (x *exposing) has(kind int) bool { return x.bits.kinds&(1<<kind) != 0 }

// judgePlace asks of the place what matters to the metal.
func (x *exposing) judgePlace() {
	e := &x.out.Environment
	if x.place.Cave == "" && (x.has(stainless) || x.has(titanium)) {
		x.atLeast = !x.seaKnown()
		x.required = x.requiredClass()
	}
	if x.has(stainless) {
		x.out.Concerns = concernsOf[x.bits.concerns]
		if x.risk = corrosion.Cracking(&x.place.Place); x.risk != corrosion.RiskNotAsked {
			x.out.Cracking = string(x.risk)
		}
	}
	if x.has(coatedSteel) || x.has(bareSteel) || x.bits.kinds == 0 {
		x.zinc = x.place.category(corrosion.Zinc, e.ZincCategory, e)
		x.steel = x.place.category(corrosion.CarbonSteel, e.SteelCategory, e)
		x.out.Atmosphere = categoryWord(x.category())
	}
	x.out.EnvironmentKnown = x.place.Cave != "" || x.seaKnown() || x.category() != 0 ||
		e.AluminiumCategory != "" || climateKnown(e)
}

// farInland is the class that a place asks for of which nothing is on record but
// that the sea is far.
var farInland = func() corrosion.Class {
	far := corrosion.Far()
	r, err := corrosion.Required(&corrosion.Place{SeaDistance: &far})
	if err != nil {
		panic(err) // a place that is always valid
	}
	return r.Class
}()

// requiredClass is the class that the place asks for, the sea far away if its
// distance is not on record; 0 for a place that cannot be.
func (x *exposing) requiredClass() corrosion.Class {
	p := x.place.Place
	if x.atLeast {
		if p.RoadDistance == nil && p.SulphurDioxide == nil {
			return farInland
		}
		far := corrosion.Far()
		p.SeaDistance = &far
	}
	r, err := corrosion.Required(&p)
	if err != nil {
		return 0
	}
	return r.Class
}

// seaKnown says whether the distance of the sea is on record.
func (x *exposing) seaKnown() bool { return x.place.SeaCliff || x.place.SeaDistance != nil }

// category is the worse of those for zinc and for steel.
func (x *exposing) category() corrosion.Category { return max(x.zinc, x.steel) }

// categoryWord writes a category; what lies above CX counts as CX.
func categoryWord(c corrosion.Category) registry.Category {
	return registry.Category(min(c, corrosion.CX).String())
}

// rows gathers the rows of the house rules that the grades fall in.
func (x *exposing) rows() {
	x.out.Rows = make([]registry.MetalRow, 0, 4)
	if !x.facts.Anchor.Metal.Known() {
		x.add(x.coatedRow(houserules.NotKnown))
		return
	}
	for _, g := range x.facts.Anchor.Metal {
		t := traitsOf[g]
		x.addRows(g, &t)
		if x.mayCrack(&t) {
			x.add(registry.MetalRow{Environment: houserules.Cracking, Row: string(x.risk)})
		}
	}
}

func (x *exposing) add(row registry.MetalRow) {
	if !slices.Contains(x.out.Rows, row) {
		x.out.Rows = append(x.out.Rows, row)
	}
}

// mayCrack says whether a grade sits where it may crack.
func (x *exposing) mayCrack(t *traits) bool {
	return t.kind == 1<<stainless && t.concern != 1<<2 &&
		(x.risk == corrosion.RiskMedium || x.risk == corrosion.RiskHigh)
}

// addRows adds the rows of one grade.
func (x *exposing) addRows(g metal.Grade, t *traits) {
	switch t.kind {
	case 1 << coatedSteel:
		x.add(x.coatedRow(t.notKnown))
	case 1 << bareSteel:
		x.add(x.wasting(houserules.Bare, x.category() != 0, t.notKnown))
	case 1 << aluminium:
		x.add(x.wasting(houserules.Aluminium, x.out.EnvironmentKnown, t.notKnown))
	case 0: // a grade that no table lists
		x.add(x.coatedRow(houserules.NotKnown))
	default:
		x.addResistant(g, t)
	}
}

// addResistant adds the rows of titanium or a stainless grade. Where the
// distance of the sea is not on record that is the row for an environment not
// known and, as it may be no better, that of the same place far from the sea.
func (x *exposing) addResistant(g metal.Grade, t *traits) {
	if cave := x.caveTable(); cave != "" {
		x.add(registry.MetalRow{Environment: cave, Row: caveRow(t)})
		return
	}
	fit := corrosion.FitOf(g, x.required)
	if x.atLeast || fit == corrosion.NotRated {
		x.add(registry.MetalRow{Environment: houserules.EnvironmentNotKnown, Row: t.notKnown})
	}
	if fit != corrosion.NotRated {
		x.add(registry.MetalRow{Environment: houserules.RequiredClass, Row: string(fit)})
	}
}

// caveTable is the table of the cave the anchor sits in; blank outside caves.
func (x *exposing) caveTable() string {
	switch x.place.Cave {
	case "":
		return ""
	case corrosion.CaveDry:
		return houserules.CaveDry
	}
	return houserules.CaveDripping
}

// caveRow is the row of titanium or stainless steel in a cave.
func caveRow(t *traits) string {
	switch {
	case t.kind == 1<<titanium:
		return houserules.Titanium
	case t.lasts:
		return houserules.LastingCave
	}
	return houserules.LowerCave
}

// coatedRow is the row of coated carbon steel; notKnown is that for an
// environment that is not known.
func (x *exposing) coatedRow(notKnown string) registry.MetalRow {
	if cave := x.caveTable(); cave != "" {
		return registry.MetalRow{Environment: cave, Row: houserules.Coated}
	}
	row := houserules.CoatedC5
	switch x.category() {
	case 0:
		return registry.MetalRow{Environment: houserules.EnvironmentNotKnown, Row: notKnown}
	case corrosion.C1, corrosion.C2:
		row = houserules.CoatedC2
	case corrosion.C3:
		row = houserules.CoatedC3
	case corrosion.C4:
		row = houserules.CoatedC4
	}
	return registry.MetalRow{Environment: houserules.Atmosphere, Row: row}
}

// wasting is the row of bare steel or aluminium.
func (x *exposing) wasting(row string, known bool, notKnown string) registry.MetalRow {
	if cave := x.caveTable(); cave != "" {
		return registry.MetalRow{Environment: cave, Row: row}
	}
	if !known {
		return registry.MetalRow{Environment: houserules.EnvironmentNotKnown, Row: notKnown}
	}
	return registry.MetalRow{Environment: houserules.Atmosphere, Row: row}
}

// shortBy are the numbers of classes that a grade can be short.
var shortBy = [...]float64{0, 1, 2, 3, 4}

// short says how far the worst stainless grade is below the required class. It
// says nothing of a place of which neither the sea nor anything else on record
// asks for more than any place does.
func (x *exposing) short() {
	if x.required == 0 || !x.has(stainless) || x.atLeast && x.required <= farInland {
		return
	}
	x.out.RequiredClass = x.required.String()
	most := corrosion.Class(-1)
	for _, g := range x.facts.Anchor.Metal {
		if t := traitsOf[g]; t.class > 0 {
			most = max(most, x.required-t.class, 0)
		}
	}
	if most >= 0 {
		x.out.ClassesShort = &shortBy[most]
	}
}

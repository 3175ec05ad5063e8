package assess_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/assess"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/schedule"
)

// placed returns an anchor of a metal with nothing against it but its place,
// every other factor in its longest row, inspected hands-on on 1 May 2024.
func placed(m metal.Set, edit ...func(*registry.Facts)) registry.Facts {
	f := runner(here("2024-05-01"))
	f.Anchor.Metal, f.Anchor.Origin = m, registry.Recorded
	f.Site.Rock, f.Traffic = registry.RockHard, registry.TrafficSeldom
	f.Installations = []registry.Installation{{RockSound: registry.Ringing}}
	for _, e := range edit {
		e(&f)
	}
	return f
}

func site(k registry.SiteKind) func(*registry.Facts) {
	return func(f *registry.Facts) { f.Site.Kind = k }
}

// at states the environment of the site.
func at(edit func(*registry.Environment)) func(*registry.Facts) {
	e := registry.Environment{Place: registry.Place{Kind: registry.AtSite}}
	edit(&e)
	return func(f *registry.Facts) { f.Environments = append(f.Environments, e) }
}

func sea(km float64) func(*registry.Facts) {
	return at(func(e *registry.Environment) { e.SeaKm = &km })
}

// rainy is a place that rain washes and the sun does not warm.
func rainy(f *registry.Facts) {
	yes := true
	at(func(e *registry.Environment) { e.Washed, e.SurfaceMaxC = &yes, number(15) })(f)
}

func zinc(c registry.Category) func(*registry.Facts) {
	return at(func(e *registry.Environment) { e.ZincCategory = c })
}

func steel(c registry.Category) func(*registry.Facts) {
	return at(func(e *registry.Environment) { e.SteelCategory = c })
}

func wet(w registry.Wetness) func(*registry.Facts) {
	return at(func(e *registry.Environment) { e.Wetness = w })
}

func road(km float64) func(*registry.Facts) {
	return at(func(e *registry.Environment) { e.RoadKm = &km })
}

// climate is that of the worked example of ISO 9223: 21.9 µm of carbon steel in
// the first year, C2.
func climate(e *registry.Environment) {
	e.TemperatureC, e.HumidityPct, e.SulphurDioxide, e.Chloride = number(10), number(75), number(5), number(3)
}

var (
	a4       = metal.NewSet("1.4404")
	a2       = metal.NewSet("1.4301")
	duplex   = metal.NewSet("1.4462")
	alloy    = metal.NewSet("1.4529")
	tough    = metal.NewSet("titanium-2")
	plated   = metal.NewSet(metal.SteelElectroplated)
	bare     = metal.NewSet(metal.SteelBare)
	light    = metal.NewSet(metal.Aluminium)
	anything metal.Set
)

// Rows and months: house rules, metal against environment, default of this
// project. Classes: EN 1993-1-4:2006+A1:2015, Annex A (its limits and the classes
// of the grades from memory); cracking: UIAA Safety Commission, notices of 2009
// and 2015, by the rule of this project.
func TestMetalAgainstEnvironment(t *testing.T) {
	t.Parallel()
	cave, cliff := site(registry.Cave), site(registry.SeaCliff)
	tests := []struct {
		name     string
		facts    registry.Facts
		months   int
		env, row string
		findings []string
	}{
		{"titanium on a sea cliff", placed(tough, cliff), 60, "required-class", "above-class", nil},
		{"316L far from the sea", placed(a4, sea(20)), 60, "required-class", "above-class", nil},
		{"304 far from the sea", placed(a2, sea(20)), 48, "required-class", "of-class", nil},
		{"304 in the rain at 500 m", placed(a2, sea(0.5), rainy), 12, "required-class", "one-class-short", []string{"one-class-short"}},
		{"304 in the rain at 100 m", placed(a2, sea(0.1), rainy), 6, "required-class", "two-or-more-classes-short", []string{"two-classes-short"}},
		{"316L in the rain at 100 m", placed(a4, sea(0.1), rainy), 12, "required-class", "one-class-short", []string{"one-class-short"}},
		{"316L on a sea cliff", placed(a4, cliff), 6, "required-class", "two-or-more-classes-short", []string{"stress-corrosion-high", "two-classes-short"}},
		{"1.4529 on a sea cliff", placed(alloy, cliff), 48, "required-class", "of-class", nil},
		{"316L at 5 km", placed(a4, sea(5)), 12, "cracking", "medium", []string{"stress-corrosion-medium"}},
		{"duplex at 5 km", placed(duplex, sea(5)), 12, "cracking", "medium", []string{"stress-corrosion-expert"}},
		{"316L at 500 m, not washed", placed(a4, sea(0.5)), 6, "cracking", "high", []string{"stress-corrosion-high"}},
		{"316L, the sea not on record", placed(a4), 12, "environment-not-known", "stainless", nil},
		{"1.4529, the sea not on record", placed(alloy), 48, "environment-not-known", "stainless-high-alloy", nil},
		{"titanium, nothing on record", placed(tough), 60, "environment-not-known", "titanium", nil},
		{"304 by a salted road, the sea not on record", placed(a2, road(0.05), rainy), 12, "environment-not-known", "stainless", nil},
		{"316L by a salted road, not washed", placed(a4, road(0.05)), 6, "cracking", "high", []string{"stress-corrosion-high"}},
		{"a category never clears stainless steel", placed(a4, steel("C1"), zinc("C1")), 12, "environment-not-known", "stainless", nil},

		{"plated in C2", placed(plated, zinc("C2")), 36, "atmosphere", "coated-c1-c2", []string{"coating-used-up", "plan-replacement"}},
		{"plated in C3", placed(plated, zinc("C3")), 24, "atmosphere", "coated-c3", []string{"coating-used-up", "plan-replacement"}},
		{"plated in C4", placed(plated, zinc("C4")), 12, "atmosphere", "coated-c4", []string{"coating-used-up", "plan-replacement"}},
		{"plated in CX", placed(plated, zinc("CX")), 6, "atmosphere", "coated-c5-cx", []string{"coating-used-up", "plan-replacement"}},
		{"the worse of zinc and steel", placed(plated, zinc("C2"), steel("C4")), 12, "atmosphere", "coated-c4", []string{"coating-used-up", "plan-replacement"}},
		{"computed from the climate", placed(plated, at(climate)), 24, "atmosphere", "coated-c3", []string{"coating-used-up", "plan-replacement"}},
		{"plated, nothing on record", placed(plated), 6, "environment-not-known", "carbon-steel", []string{"plan-replacement-place-not-known"}},
		{"plated, only the sea on record", placed(plated, sea(20)), 6, "environment-not-known", "carbon-steel", []string{"plan-replacement"}},
		{"bare counts as coated in C5", placed(bare, steel("C2")), 6, "atmosphere", "bare", []string{"plan-replacement"}},
		{"aluminium", placed(light, sea(20)), 6, "atmosphere", "aluminium", []string{"plan-replacement"}},
		{"metal not known counts as coated", placed(anything, zinc("C3")), 24, "atmosphere", "coated-c3", []string{"metal-not-recorded"}},
		{"metal and place not known", placed(anything), 6, "environment-not-known", "not-known", []string{"metal-not-recorded"}},

		{"plated in a dry cave", placed(plated, cave, wet(registry.Dry)), 12, "cave-dry", "coated", []string{"coating-used-up", "plan-replacement"}},
		{"plated in a cave", placed(plated, cave), 6, "cave-dripping", "coated", []string{"coating-used-up", "plan-replacement"}},
		{"316L in a cave", placed(a4, cave), 48, "cave-dripping", "stainless-lasting", nil},
		{"304 in a dry cave", placed(a2, cave, wet(registry.Dry)), 12, "cave-dry", "stainless-lower", nil},
		{"titanium in a cave", placed(tough, cave), 60, "cave-dripping", "titanium", nil},
		{"bare in a dry cave", placed(bare, cave, wet(registry.Dry)), 6, "cave-dry", "bare", []string{"plan-replacement"}},
		{"aluminium in a cave", placed(light, cave), 6, "cave-dripping", "aluminium", []string{"plan-replacement"}},
		{"metal not known in a dry cave", placed(anything, cave, wet(registry.Dry)), 12, "cave-dry", "coated", []string{"metal-not-recorded"}},
		{"316L in a cave by the sea", placed(a4, cave, sea(0.2)), 6, "cracking", "high", []string{"stress-corrosion-high"}},

		{"the worst grade of a set", placed(a4.Union(plated), sea(20)), 6, "environment-not-known", "carbon-steel", []string{"plan-replacement"}},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			a := anchor(test.facts, day("2024-06-01"))
			c := candidate(a, schedule.RuleInterval)
			if want := day("2024-05-01").AddMonths(test.months); c.On != want {
				t.Errorf("interval ends %v, want %v", c.On, want)
			}
			if got, want := c.Values.Text("environment")+" "+c.Values.Text("row"), test.env+" "+test.row; got != want {
				t.Errorf("row = %v, want %v", got, want)
			}
			if d := cmp.Diff(test.findings, matters(a)); d != "" {
				t.Errorf("findings (-want +got):\n%s", d)
			}
		})
	}
}

// candidate returns the candidate of a rule, the zero one without it.
func candidate(a registry.Assessment, rule string) registry.Candidate {
	for _, c := range a.Candidates {
		if c.Rule == rule {
			return c
		}
	}
	return registry.Candidate{}
}

// matters lists the rules of the findings but for those of sizes and batches.
func matters(a registry.Assessment) []string {
	var rules []string
	for _, f := range a.Findings {
		if f.Rule != "hole-not-recorded" && f.Rule != "batch-not-recorded" {
			rules = append(rules, f.Rule)
		}
	}
	return rules
}

func TestASaltedRoadAsksForMoreWhereverTheSeaIs(t *testing.T) {
	t.Parallel()
	// 10 m from the road, not washed: F1 -7, F3 -7, class III (EN 1993-1-4, Annex
	// A, from memory); 304 is of class II.
	f := placed(a2, road(0.01))
	if got := matters(anchor(f, day("2024-06-01"))); !cmp.Equal(got, []string{"stress-corrosion-high", "one-class-short"}) {
		t.Errorf("findings = %v, want cracking and one class short", got)
	}
}

func shank(mm quantity.Length) func(*registry.Facts) {
	return func(f *registry.Facts) { f.Anchor.Shank = &mm }
}

// Set on 2 June 2010. Zinc of 5 µm (ISO 2081:2018, from memory) at 2.1 µm a
// year, carbon steel at 50 µm a year: the upper limits of C3 in ISO 9223:2012,
// Table 2. Lost section: ISO 9224:2012, equation (1) with exponent B2, 0.575; 5
// and 10 % of the area of a bar of 10 mm. Worked out by hand.
func TestDatesOfTheMetal(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name             string
		facts            registry.Facts
		coating, section string
	}{
		{"plated in C3", placed(plated, shank(10), zinc("C3"), steel("C3")), "2012-10-18", "2017-10-29"},
		{"bare in C3", placed(bare, shank(10), steel("C3")), "", "2015-06-13"},
		{"shank not known", placed(bare, steel("C3")), "", ""},
		{"category not known", placed(plated, shank(10)), "", ""},
		{"stainless", placed(a4, shank(10), zinc("C3"), steel("C3")), "", ""},
		{"set on a day not known", placed(plated, shank(10), zinc("C3"), func(f *registry.Facts) { f.Anchor.SetOn.From = 0 }), "", ""},
	}
	for _, test := range tests {
		f := test.facts
		f.Inspections = nil // nobody has seen it since
		a := anchor(f, day("2011-01-01"))
		if got := candidate(a, schedule.RuleCoating).On.String(); got != test.coating {
			t.Errorf("%s: coating gone by %q, want %q", test.name, got, test.coating)
		}
		if got := candidate(a, schedule.RuleSection).On.String(); got != test.section {
			t.Errorf("%s: section lost by %q, want %q", test.name, got, test.section)
		}
	}
}

func TestLostSectionTurnsSuspect(t *testing.T) {
	t.Parallel()
	f := placed(bare, shank(10), steel("C3"))
	for on, want := range map[string][]string{
		"2015-06-12": {"plan-replacement"},
		"2015-06-13": {"plan-replacement", "section-lost"},
		"2027-08-09": {"plan-replacement", "section-lost"},
		"2027-08-10": {"section-lost-far", "plan-replacement"},
	} {
		if d := cmp.Diff(want, matters(anchor(f, day(on)))); d != "" {
			t.Errorf("on %s (-want +got):\n%s", on, d)
		}
	}
}

// 75, 50 and 30 years: house rules.
func TestServiceLife(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		facts registry.Facts
		ends  string
	}{
		{"titanium, bonded", placed(tough), "2085-06-02"},
		{"suiting stainless, bonded", placed(a4, sea(20)), "2060-06-02"},
		{"suiting stainless, expansion", placed(a4, sea(20), func(f *registry.Facts) { f.Anchor.Form = registry.ThroughBolt }), "2040-06-02"},
		{"in a cave", placed(a4, site(registry.Cave)), "2060-06-02"},
		{"too low for a cave", placed(a2, site(registry.Cave)), ""},
		{"may crack", placed(a4, sea(5)), ""},
		{"place not known", placed(a4), ""},
		{"plated", placed(plated, zinc("C1")), ""},
	}
	for _, test := range tests {
		passed := func(on string) bool {
			for _, f := range anchor(test.facts, day(on)).Findings {
				if f.Rule == "service-life-passed" {
					return true
				}
			}
			return false
		}
		switch {
		case test.ends == "" && passed("2200-01-01"):
			t.Errorf("%s: has a service life, want none", test.name)
		case test.ends != "" && (!passed(test.ends) || passed((day(test.ends) - 1).String())):
			t.Errorf("%s: want its service life to end on %s", test.name, test.ends)
		}
	}
}

func hangs(k registry.FittingKind, m metal.Set) func(*registry.Facts) {
	return func(f *registry.Facts) {
		f.Fittings = append(f.Fittings, registry.Fitting{ID: [16]byte{byte(len(f.Fittings) + 1)}, Kind: k, Presence: registry.Present, Metal: m})
	}
}

// One material: EN 959:2018, 4.2.7 and 4.2.8; 0.15 V outdoors: anodic index of
// equipment design charts; titanium with stainless steel is low: ASTM G82.
func TestMetalsThatTouch(t *testing.T) {
	t.Parallel()
	mixed, far := []string{"mixed-metals"}, []string{"mixed-metals-far-apart"}
	tests := []struct {
		name  string
		facts registry.Facts
		want  []string
	}{
		{"plated hanger on a stainless bolt", placed(a4, sea(20), hangs(registry.Hanger, plated)), far},
		{"the same metal", placed(a4, sea(20), hangs(registry.Hanger, a4)), nil},
		{"another stainless grade of one group", placed(a4, sea(20), hangs(registry.Hanger, a2)), nil},
		{"stainless hanger on titanium", placed(tough, sea(20), hangs(registry.Hanger, a4)), mixed},
		{"a plated maillon in a stainless hanger", placed(anything, hangs(registry.Hanger, a4), hangs(registry.Maillon, plated)), append([]string{"mixed-metals-far-apart", "mixed-metals-far-apart"}, "metal-not-recorded")},
		{"metal of the hanger not known", placed(a4, sea(20), hangs(registry.Hanger, nil)), nil},
		{"can be the same", placed(a4, sea(20), hangs(registry.Hanger, metal.Stainless())), nil},
		{"left off", placed(a4, sea(20), hangs(registry.Hanger, plated), func(f *registry.Facts) { f.Fittings[0].Presence = registry.LeftOff }), nil},
	}
	for _, test := range tests {
		if d := cmp.Diff(test.want, matters(anchor(test.facts, day("2024-06-01")))); d != "" {
			t.Errorf("%s: findings (-want +got):\n%s", test.name, d)
		}
	}
}

func TestTheNearestEnvironmentDecidesFromItsDayOn(t *testing.T) {
	t.Parallel()
	near := 0.1
	f := placed(a4, sea(20), rainy)
	f.Environments = append(f.Environments, registry.Environment{
		Place: registry.Place{Kind: registry.AtPosition}, From: day("2024-07-01"), Until: day("2024-07-31"), SeaKm: &near,
	})
	for on, want := range map[string]string{"2024-06-30": "2024-06-30", "2024-07-01": "2024-07-31"} {
		if got := anchor(f, day(on)).ValidUntil.String(); got != want {
			t.Errorf("as of %s valid until %s, want %s", on, got, want)
		}
	}
	before, after := anchor(f, day("2024-06-30")), anchor(f, day("2024-07-01"))
	if before.Standing != registry.NoProblem || after.Standing != registry.StandingWatch {
		t.Errorf("standing %v and then %v, want watch once the sea is near", before.Standing, after.Standing)
	}
}

func TestASettledFindingIsShownAndWeighsNothing(t *testing.T) {
	t.Parallel()
	f := placed(a4, site(registry.SeaCliff))
	for _, finding := range anchor(f, day("2024-06-01")).Findings {
		s := registry.Settlement{Rule: finding.Rule, Values: finding.Values, Until: day("2024-08-31")}
		f.Settlements = append(f.Settlements, s)
	}
	a := anchor(f, day("2024-06-01"))
	if a.Standing != registry.NoProblem || a.ValidUntil != day("2024-08-31") || len(a.Findings) == 0 || a.Findings[0].SettledBy == nil {
		t.Errorf("settled: %v until %v, %+v", a.Standing, a.ValidUntil, a.Findings)
	}
	if got := anchor(f, day("2024-09-01")).Standing; got != registry.StandingSuspect {
		t.Errorf("standing after the settlement ended = %v, want suspect again", got)
	}
	a4wet := f
	at(func(e *registry.Environment) { e.SurfaceMaxC = number(30) })(&a4wet)
	if got := anchor(a4wet, day("2024-06-01")).Standing; got != registry.StandingSuspect {
		t.Errorf("standing once the values changed = %v, want suspect again", got)
	}
}

func BenchmarkAnchorWithItsPlace(b *testing.B) {
	f := placed(metal.NewSet(metal.SteelElectroplated), at(climate), shank(10), hangs(registry.Hanger, plated), rainy)
	r := houserules.Default()
	b.ReportAllocs()
	for b.Loop() {
		assess.Anchor(f, r, entered+1000)
	}
}

package assess_test

import (
	"slices"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// fact is one fact with the named order of "worse": the values it can be known
// to have, best first, and the value for not known (nil: always known). The
// order is that of the house rules ("Worse, for the property test"): the later
// row of its factor, a later severity, an earlier date set, an earlier last
// inspection, a lower level.
type fact struct {
	name    string
	ordered []func(*registry.Facts)
	unknown func(*registry.Facts)
	// unseen says that nothing is seen at the anchor. So for the form, whose
	// rows are ordered by interval: what puts a glue-in that spins out of use
	// makes an expansion bolt suspect, and cracked glue weighs by the form.
	unseen bool
	// alone says that neither the place nor what hangs there nor wear comes into
	// it: where stainless steel cracks carbon steel stands better, a plated ring
	// suits a plated bolt, and what was set earlier wears more slowly.
	alone bool
	// undated says that the day set is not known. So where a worse value has
	// the zinc used up sooner: an inspection made after that day has seen it,
	// and the date falls away, while a later one would still have stood.
	undated bool
	// dates says that not knowing is only compared by its dates: a place of
	// which nothing is on record is a task for the site, no finding.
	dates bool
	// unset says that no setting is on record: its day would stand in.
	unset bool
}

// draw draws facts to vary the fact in.
func (f fact) draw(t *rapid.T) registry.Facts {
	facts := anyFacts(t)
	if f.unset {
		facts.Installations, facts.Sessions, facts.Cures = nil, nil, nil
	}
	if f.unseen {
		for i := range facts.Inspections {
			facts.Inspections[i].Observations = nil
		}
		facts.Position.Face = ""  // in a roof a bonded anchor creeps
		facts.Installations = nil // nor is "not in use yet" a matter of the interval
	}
	if f.alone {
		facts.Environments, facts.Fittings, facts.Site.Kind = nil, nil, registry.Crag
		notMeasured(&facts)
	}
	if f.undated {
		facts.Anchor.SetOn, facts.Installations, facts.Sessions = calendar.Span{}, nil, nil
	}
	facts.Settlements = nil // of values that are about to change
	return facts
}

func set[T any](at func(*registry.Facts) *T, values ...T) []func(*registry.Facts) {
	var out []func(*registry.Facts)
	for _, v := range values {
		out = append(out, func(f *registry.Facts) { *at(f) = v })
	}
	return out
}

func facts() []fact {
	form := func(f *registry.Facts) *registry.Form { return &f.Anchor.Form }
	grades := func(f *registry.Facts) *metal.Set { return &f.Anchor.Metal }
	rock := func(f *registry.Facts) *registry.RockClass { return &f.Site.Rock }
	traffic := func(f *registry.Facts) *registry.Traffic { return &f.Traffic }
	role := func(f *registry.Facts) *registry.PositionRole { return &f.Position.Role }
	face := func(f *registry.Facts) *registry.Face { return &f.Position.Face }
	setOn := func(f *registry.Facts) *calendar.Span { return &f.Anchor.SetOn }
	no, yes := false, true
	backedUp := func(f *registry.Facts) **bool { return &f.Position.BackedUp }
	return []fact{
		{
			name: "metal", alone: true, unknown: set(grades, metal.Set(nil))[0],
			ordered: set(grades, metal.NewSet("titanium-2"), metal.NewSet("1.4547"), metal.NewSet("1.4404"), metal.NewSet(metal.SteelBare)),
		},
		{
			name: "set of grades", alone: true, unknown: set(grades, metal.Set(nil))[0],
			ordered: set(grades, metal.NewSet("titanium-2"), metal.NewSet("titanium-2", "1.4404"), metal.NewSet("titanium-2", "1.4404", metal.Aluminium)),
		},
		{
			name: "form", unseen: true, unknown: set(form, registry.Form(""))[0],
			ordered: set(form, registry.Staple, registry.BondedStud, registry.ThroughBolt, registry.DriveIn, registry.Piton),
		},
		{name: "rock", unknown: set(rock, registry.RockClass(""))[0], ordered: set(rock, registry.RockClasses()...)},
		{name: "traffic", unknown: set(traffic, registry.Traffic(""))[0], ordered: set(traffic, registry.Traffics()...)},
		{
			name: "role", unknown: set(role, registry.PositionRole(""))[0],
			ordered: set(role, registry.Runner, registry.Handline, registry.Rebelay, registry.Deviation, registry.Belay, registry.MainHang, registry.LowerOff),
		},
		{name: "backed up", unknown: set(backedUp, nil)[0], ordered: set(backedUp, &yes, &no)},
		{name: "rock's sound", unknown: sounds("")[0], ordered: sounds(registry.Sounds()...)},
		{
			name: "day set", alone: true, unset: true, unknown: set(setOn, calendar.Span{})[0],
			ordered: set(setOn, calendar.Exactly(entered), span("2023-02-01", "2024-02-29"), span("2023-02-01", "2023-02-01"),
				span("2004-06-01", "2010-01-01"), span("1994-01-01", "1994-01-01"), span("1971-01-01", "1980-01-01")),
		},
		{name: "face", unknown: set(face, registry.Face(""))[0], ordered: set(face, registry.Wall, registry.Roof)},
		{
			name: "sea", dates: true, unknown: stated(func(e *registry.Environment) { e.SeaKm = nil }),
			ordered: seas(20, 5, 0.5, 0.1),
		},
		{name: "washed", unknown: washed(nil), ordered: []func(*registry.Facts){washed(&yes), washed(&no)}},
		{name: "surface", unknown: surfaces(nil), ordered: []func(*registry.Facts){surfaces(number(10)), surfaces(number(35))}},
		{name: "category", undated: true, dates: true, unknown: categories("")[0], ordered: categories(registry.Categories()...)},
		{name: "wetness", undated: true, unknown: wetnesses("")[0], ordered: wetnesses(registry.Wetnesses()...)},
		{name: "wear of the eye", unknown: worn(0), ordered: []func(*registry.Facts){worn(10), worn(9), worn(8.6), worn(8.5), worn(7)}, dates: true},
	}
}

// stated changes every statement about the environment, and makes one if there
// is none.
func stated(edit func(*registry.Environment)) func(*registry.Facts) {
	return func(f *registry.Facts) {
		f.Environments = append(slices.Clone(f.Environments), registry.Environment{Place: registry.Place{Kind: registry.AtSite}})
		for i := range f.Environments {
			edit(&f.Environments[i])
		}
	}
}

func number(n float64) *float64 { return &n }

func seas(km ...float64) []func(*registry.Facts) {
	var out []func(*registry.Facts)
	for i := range km {
		out = append(out, stated(func(e *registry.Environment) { e.SeaKm = &km[i] }))
	}
	return out
}

func washed(w *bool) func(*registry.Facts) {
	return stated(func(e *registry.Environment) { e.Washed = w })
}

func surfaces(c *float64) func(*registry.Facts) {
	return stated(func(e *registry.Environment) { e.SurfaceMaxC = c })
}

// categories state one for every metal that has one, and no climate.
func categories(list ...registry.Category) []func(*registry.Facts) {
	var out []func(*registry.Facts)
	for _, c := range list {
		edit := stated(func(e *registry.Environment) { e.SteelCategory, e.ZincCategory, e.TemperatureC = c, c, nil })
		out = append(out, func(f *registry.Facts) {
			f.Site.Kind = registry.Crag
			edit(f)
		})
	}
	return out
}

// wetnesses state that of a cave.
func wetnesses(list ...registry.Wetness) []func(*registry.Facts) {
	var out []func(*registry.Facts)
	for _, w := range list {
		edit := stated(func(e *registry.Environment) { e.Wetness = w })
		out = append(out, func(f *registry.Facts) {
			f.Site.Kind = registry.Cave
			edit(f)
		})
	}
	return out
}

func notMeasured(f *registry.Facts) {
	f.Inspections = slices.Clone(f.Inspections)
	for i := range f.Inspections {
		f.Inspections[i].Measured = nil
	}
}

// worn lets the first inspection, if it found the anchor, find that much of the
// eye's 10 mm, and no other anything, 0: not measured.
func worn(left quantity.Length) func(*registry.Facts) {
	return func(f *registry.Facts) {
		notMeasured(f)
		if len(f.Inspections) == 0 || left == 0 || f.Inspections[0].NotFound() {
			return
		}
		ten := 10 * quantity.Millimetre
		f.Inspections[0].Measured = []registry.Measurement{{Left: left, New: &ten}}
	}
}

func span(from, to string) calendar.Span { return calendar.Span{From: day(from), To: day(to)} }

// sounds give each installation that rock.
func sounds(list ...registry.Sound) []func(*registry.Facts) {
	var out []func(*registry.Facts)
	for _, s := range list {
		out = append(out, func(f *registry.Facts) {
			f.Installations = slices.Clone(f.Installations)
			for i := range f.Installations {
				f.Installations[i].RockSound = s
			}
		})
	}
	return out
}

func with(f registry.Facts, edit func(*registry.Facts)) registry.Facts {
	edit(&f)
	return f
}

// notBetter fails if the worse facts give a later date, or a better standing.
func notBetter(t *rapid.T, what string, better, worse registry.Assessment) {
	notLater(t, what, better, worse)
	if betterStanding(worse.Standing, better.Standing) {
		t.Fatalf("%s: %v, want no better than %v", what, worse.Standing, better.Standing)
	}
}

// betterStanding says whether one standing is better than another. Not located
// stands outside the order: it is only better than suspect and out of use,
// which it never hides.
func betterStanding(s, than registry.Standing) bool {
	switch {
	case than == registry.StandingNotLocated:
		return false
	case s == registry.StandingNotLocated:
		return than == registry.StandingSuspect || than == registry.StandingOutOfUse
	}
	return s.Rank() < than.Rank()
}

func notLater(t *rapid.T, what string, better, worse registry.Assessment) {
	if worse.DueOn > better.DueOn || worse.SoonestOn > better.SoonestOn {
		t.Fatalf("%s: due %v (soonest %v), want no later than %v (%v)", what, worse.DueOn, worse.SoonestOn, better.DueOn, better.SoonestOn)
	}
}

func TestAWorseFactNeverGivesALaterDateOrBetterStanding(t *testing.T) {
	t.Parallel()
	for _, fact := range facts() {
		t.Run(fact.name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				f, asOf := fact.draw(t), anyDay(t)
				for i := 1; i < len(fact.ordered); i++ {
					better, worse := with(f, fact.ordered[i-1]), with(f, fact.ordered[i])
					notBetter(t, fact.name, anchor(better, asOf), anchor(worse, asOf))
				}
			})
		})
	}
}

func TestNotKnownLiesBetweenTheBestAndTheWorst(t *testing.T) {
	t.Parallel()
	for _, fact := range facts() {
		t.Run(fact.name, func(t *testing.T) {
			t.Parallel()
			rapid.Check(t, func(t *rapid.T) {
				f, asOf := fact.draw(t), anyDay(t)
				best, worst := with(f, fact.ordered[0]), with(f, fact.ordered[len(fact.ordered)-1])
				unknown := anchor(with(f, fact.unknown), asOf)
				compare := notBetter
				if fact.dates {
					compare = notLater
				}
				compare(t, fact.name+" not known against the best", anchor(best, asOf), unknown)
				compare(t, fact.name+" at its worst against not known", unknown, anchor(worst, asOf))
			})
		})
	}
}

// withLast draws facts whose last inspection, later than all others, was
// recorded here after entry and counts. It has none but a planned end of the
// first round behind it: to lose an inspection would otherwise be to wait for
// that round again, as the house rules want it.
func withLast(t *rapid.T) registry.Facts {
	f := anyFacts(t)
	notMeasured(&f) // what was measured before entry would have to wait too
	f.Site.FirstRoundEnds = entered
	f.Anchor.SetOn.To = min(f.Anchor.SetOn.To, entered)
	f.Anchor.SetOn.From = min(f.Anchor.SetOn.From, entered)
	last := anyInspection(t)
	last.Origin, last.Ticked, last.Found = registry.Recorded, true, nil
	last.DoneOn = calendar.Exactly(day("2028-01-01") + calendar.Date(rapid.IntRange(0, 500).Draw(t, "last on")))
	last.InspectBy, last.Verdict = 0, anyOr(t, "last verdict", []registry.Verdict{registry.Keep})
	last.Level = anyOf(t, "last level", []registry.Level{registry.HandsOn, registry.Full})
	for i := range f.FirstUses {
		f.FirstUses[i].DoneOn = calendar.Exactly(entered)
	}
	f.Inspections = append(slices.Clone(f.Inspections), last)
	return f
}

// last changes the last inspection of a copy.
func last(f registry.Facts, edit func(*registry.Inspection)) registry.Facts {
	f.Inspections = slices.Clone(f.Inspections)
	edit(&f.Inspections[len(f.Inspections)-1])
	return f
}

func TestAnEarlierLastInspectionIsWorse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := withLast(t), anyDay(t)
		back := calendar.Date(rapid.IntRange(1, 300).Draw(t, "days earlier"))
		worse := last(f, func(i *registry.Inspection) { i.DoneOn = calendar.Exactly(i.DoneOn.From - back) })
		notBetter(t, "last inspected earlier", anchor(f, asOf), anchor(worse, asOf))
		unsure := last(f, func(i *registry.Inspection) { i.DoneOn.From -= back })
		notBetter(t, "last inspected perhaps earlier", anchor(f, asOf), anchor(unsure, asOf))
	})
}

func TestALowerLevelIsWorse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := withLast(t), anyDay(t)
		full := last(f, func(i *registry.Inspection) { i.Level = registry.Full })
		hands := last(f, func(i *registry.Inspection) { i.Level = registry.HandsOn })
		glance := last(f, func(i *registry.Inspection) { i.Level = registry.Glance })
		notBetter(t, "hands-on for full", anchor(full, asOf), anchor(hands, asOf))
		notBetter(t, "a glance for hands-on", anchor(hands, asOf), anchor(glance, asOf))
		unticked := last(f, func(i *registry.Inspection) { i.Ticked = false })
		notBetter(t, "not ticked", anchor(f, asOf), anchor(unticked, asOf))
	})
}

func TestALaterSeverityIsWorse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := withLast(t), anyDay(t)
		seen := anyOf(t, "seen", registry.Observations())
		worse := last(f, func(i *registry.Inspection) { i.Observations = append(slices.Clone(i.Observations), seen) })
		notBetter(t, "one more observation", anchor(f, asOf), anchor(worse, asOf))

		// What is out of use has its date as computed; it heads every list by
		// its band instead. So the dates are compared up to repair.
		var before registry.Assessment
		for i, v := range registry.Verdicts() {
			now := anchor(last(f, func(i *registry.Inspection) { i.Verdict = v }), asOf)
			switch {
			case v == registry.TakeOutOfUse && now.Standing.Rank() < before.Standing.Rank():
				t.Fatalf("verdict %v: %v, want no better than %v", v, now.Standing, before.Standing)
			case i > 0 && v != registry.TakeOutOfUse:
				notBetter(t, "verdict "+string(v), before, now)
			}
			before = now
		}
	})
}

func TestWhatHappensIsWorse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		f.Settlements = nil
		before := anchor(f, asOf)
		flood := f
		flood.Events = append(slices.Clone(f.Events), anyEvent(t))
		notBetter(t, "one more event", before, anchor(flood, asOf))
		recall := f
		recall.Notices = append(slices.Clone(f.Notices), anyNotice(t))
		notBetter(t, "one more notice", before, anchor(recall, asOf))
	})
}

func TestASettlementIsNeverWorse(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f, asOf := anyFacts(t), anyDay(t)
		f.Settlements = nil
		settled := f
		settled.Settlements = settleOne(t, f)
		answered, open := anchor(settled, asOf), anchor(f, asOf)
		// What is out of use has its date as computed; what the answer uncovers
		// beneath may ask for a sooner one.
		if open.Standing == registry.StandingOutOfUse {
			if answered.Standing != registry.StandingNotLocated && answered.Standing.Rank() > open.Standing.Rank() {
				t.Fatalf("settled: %v, want no worse than %v", answered.Standing, open.Standing)
			}
			return
		}
		notBetter(t, "settled", answered, open)
	})
}

package houserules_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

func day(s string) calendar.Date {
	d, err := calendar.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

// All numbers are defaults of this project.
func TestDefault(t *testing.T) {
	t.Parallel()
	r := houserules.Default()
	got := map[string]int{
		"first inspection": r.FirstInspection.Value, "shortest": r.ShortestGiven.Value, "due soon": r.DueSoon.Value,
		"first round": r.FirstRound.Value, "watch": r.Verdict["watch"].Value, "repair": r.Verdict["repair"].Value,
		"bad state": r.BadState.Value, "not located": r.NotLocated.Value,
	}
	want := map[string]int{
		"first inspection": 12, "shortest": 3, "due soon": 60, "first round": 12, "watch": 6, "repair": 3,
		"bad state": 3, "not located": 12,
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("Default() (-want +got):\n%s", d)
	}
	for rule, want := range map[string]registry.Severity{"imported-spins": "suspect", "rust": "watch", "bond-lost": ""} {
		if got := r.Severity(rule); got != want {
			t.Errorf("Severity(%v) = %q, want %q", rule, got, want)
		}
	}
	if n, ok := r.OnDuty(); ok {
		t.Errorf("OnDuty() = %v, want off by default", n)
	}
}

func TestJSONReadsBack(t *testing.T) {
	t.Parallel()
	data, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	got, err := houserules.Parse(data)
	if err != nil {
		t.Fatalf("Parse(JSON()) = %v", err)
	}
	if d := cmp.Diff(houserules.Default(), got); d != "" {
		t.Errorf("Parse(JSON()) (-want +got):\n%s", d)
	}
}

func TestParseRejects(t *testing.T) {
	t.Parallel()
	data, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	const staple = `"staple": {
        "value": 60,
        "source": "default of this project"
      },`
	const rock = `"coldest_rock_c": {
    "value": 0,`
	const soon = `"due_soon_days": {
    "value": 60,`
	tests := []struct {
		name     string
		old, new string
		want     []string // "field code"
	}{
		{"missing row", staple, "", []string{"longest_interval_months.form.staple required"}},
		{"unknown row", staple, staple + `"rivet": {"value": 60, "source": "x"},`, []string{"longest_interval_months.form.rivet unknown"}},
		{"negative interval", staple, strings.Replace(staple, "60", "-1", 1), []string{"longest_interval_months.form.staple.value not-positive"}},
		{"not whole", staple, strings.Replace(staple, "60", "6.5", 1), []string{"longest_interval_months.form.staple.value not-whole"}},
		{"not a number", staple, strings.Replace(staple, "60", `"60"`, 1), []string{"longest_interval_months.form.staple.value not-a-number"}},
		{"beyond a hundred years", staple, strings.Replace(staple, "60", "1201", 1), []string{"longest_interval_months.form.staple.value out-of-range"}},
		{"blank source", staple, strings.Replace(staple, "default of this project", " ", 1), []string{"longest_interval_months.form.staple.source blank"}},
		{"bare number", staple, `"staple": 60,`, []string{"longest_interval_months.form.staple.value required"}},
		{"unknown word beside", staple, strings.Replace(staple, `"value"`, `"unit": "months", "value"`, 1), []string{"longest_interval_months.form.staple.unit unknown"}},
		{"below the shortest interval", staple, strings.Replace(staple, "60", "2", 1), []string{"longest_interval_months.form.staple.value out-of-range"}},
		{"due soon as long as the shortest interval", soon, strings.Replace(soon, "60", "84", 1), []string{"due_soon_days.value out-of-range"}},
		{"imported state out of use", `"imported-rust": {
      "value": "watch"`, `"imported-rust": {
      "value": "out-of-use"`, []string{"imported_severities.imported-rust.value unknown"}},
		{"negative months of a cave", `"stainless-lower": {
          "value": 12`, `"stainless-lower": {
          "value": -12`, []string{"longest_interval_months.metal.cave-dripping.stainless-lower.value not-positive"}},
		{"rock outdoors colder than any", rock, strings.Replace(rock, "0", "-41", 1), []string{"coldest_rock_c.value out-of-range"}},
		{"rock outdoors in half degrees", rock, strings.Replace(rock, "0", "0.5", 1), []string{"coldest_rock_c.value not-whole"}},
		{"rock outdoors in words", rock, strings.Replace(rock, "0", `"cold"`, 1), []string{"coldest_rock_c.value not-a-number"}},
		{"unknown rule id", `"loose-nut": {`, `"loose-nuts": {"value": "watch", "source": "x"}, "loose-nut": {`, []string{"finding_severities.loose-nuts unknown"}},
		{"a rule that no group weighs", `"loose-nut": {`, `"bond-lost": {"value": "note", "source": "x"}, "loose-nut": {`, []string{"finding_severities.bond-lost unknown"}},
		{"finding out of use", `"loose-nut": {
      "value": "watch"`, `"loose-nut": {
      "value": "out-of-use"`, []string{"finding_severities.loose-nut.value unknown"}},
		{"unknown duty", `"value": "off"`, `"value": "sometimes"`, []string{"duty.value unknown"}},
		{"more worn, but less severe", `"value": 15,`, `"value": 26,`, []string{"wear_lost_percent.out-of-use.value out-of-range"}},
		{"more than all of it worn", `"value": 25,`, `"value": 101,`, []string{"wear_lost_percent.out-of-use.value out-of-range"}},
		{"unknown table", `"event_days": {`, `"quake_days": {"value": 1, "source": "x"}, "event_days": {`, []string{"quake_days unknown"}},
		{
			"every violation", staple + "\n", `"rivet": {"value": 60, "source": "x"},`,
			[]string{"longest_interval_months.form.rivet unknown", "longest_interval_months.form.staple required"},
		},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			if !strings.Contains(string(data), test.old) {
				t.Fatalf("default rules hold no %s", test.old)
			}
			_, err := houserules.Parse([]byte(strings.Replace(string(data), test.old, test.new, 1)))
			if d := cmp.Diff(test.want, violations(err)); d != "" {
				t.Errorf("Parse: violations (-want +got):\n%s", d)
			}
		})
	}
}

func violations(err error) []string {
	e, ok := fault.As(err)
	if !ok || e.Kind != fault.Invalid {
		return nil
	}
	var out []string
	for _, v := range e.Violations {
		out = append(out, v.Field+" "+string(v.Code))
	}
	return out
}

func TestParseRejectsNotKnownBetterThanKnown(t *testing.T) {
	t.Parallel()
	r := houserules.Default()
	r.Intervals.Age = houserules.Table{}
	for row, n := range houserules.Default().Intervals.Age {
		r.Intervals.Age[row] = n
	}
	r.Intervals.Age[houserules.NotKnown] = houserules.Number{Value: 61, Source: "x"}
	data, err := r.JSON()
	if err != nil {
		t.Fatal(err)
	}
	_, err = houserules.Parse(data)
	want := []string{"longest_interval_months.age.not-known.value out-of-range"}
	if d := cmp.Diff(want, violations(err)); d != "" {
		t.Errorf("Parse: violations (-want +got):\n%s", d)
	}
}

func TestParseRejectsOtherText(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"", "null x", "[]", `{"version": 1} {}`, "{"} {
		if _, err := houserules.Parse([]byte(text)); fault.KindOf(err) != fault.Invalid {
			t.Errorf("Parse(%q) = %v, want an error of kind invalid", text, err)
		}
	}
}

// Rows and months: defaults of this project.
func TestInterval(t *testing.T) {
	t.Parallel()
	alone := false
	tests := []struct {
		name   string
		facts  func(*registry.Facts)
		months int
		factor houserules.Factor
		row    string
	}{
		{"titanium, all the best", func(*registry.Facts) {}, 60, houserules.FactorMetal, "titanium"},
		{"nothing known", func(f *registry.Facts) { *f = registry.Facts{} }, 6, houserules.FactorMetal, "not-known"},
		{"high alloy", func(f *registry.Facts) { f.Anchor.Metal = metal.NewSet("1.4529") }, 48, houserules.FactorMetal, "stainless-high-alloy"},
		{"904L is no high alloy here", func(f *registry.Facts) { f.Anchor.Metal = metal.NewSet("1.4539") }, 12, houserules.FactorMetal, "stainless"},
		{"worst of a set", func(f *registry.Facts) { f.Anchor.Metal = metal.NewSet("titanium-2", "1.4404", metal.SteelBare) }, 6, houserules.FactorMetal, "carbon-steel"},
		{"aluminium", func(f *registry.Facts) { f.Anchor.Metal = metal.NewSet(metal.Aluminium) }, 6, houserules.FactorMetal, "aluminium"},
		{"through bolt", func(f *registry.Facts) { f.Anchor.Form = registry.ThroughBolt }, 36, houserules.FactorForm, "through-bolt"},
		{"piton", func(f *registry.Facts) { f.Anchor.Form = registry.Piton }, 12, houserules.FactorForm, "piton"},
		{"form not known", func(f *registry.Facts) { f.Anchor.Form = "" }, 12, houserules.FactorForm, "not-known"},
		{"soft rock", func(f *registry.Facts) { f.Site.Rock = registry.RockSoft }, 24, houserules.FactorRock, "soft"},
		{"hollow", func(f *registry.Facts) { f.Installations[0].RockSound = registry.Hollow }, 12, houserules.FactorRockSound, "hollow"},
		{"sound not known", func(f *registry.Facts) { f.Installations = nil }, 48, houserules.FactorRockSound, "not-known"},
		{"most weekends", func(f *registry.Facts) { f.Traffic = registry.TrafficMostWeekends }, 24, houserules.FactorTraffic, "most-weekends"},
		{"belay", func(f *registry.Facts) { f.Position.Role = registry.Belay }, 36, houserules.FactorRole, "belay"},
		{"nothing backs it up", func(f *registry.Facts) { f.Position.BackedUp = &alone }, 24, houserules.FactorRole, "single-point"},
		{"day before twenty", func(f *registry.Facts) { f.Anchor.SetOn = calendar.Exactly(day("2006-05-04")) }, 60, houserules.FactorMetal, "titanium"},
		{"twenty to the day", func(f *registry.Facts) { f.Anchor.SetOn = calendar.Exactly(day("2006-05-03")) }, 36, houserules.FactorAge, "20-to-30-years"},
		{"thirty", func(f *registry.Facts) { f.Anchor.SetOn = calendar.Exactly(day("1996-05-03")) }, 24, houserules.FactorAge, "30-to-50-years"},
		{"fifty", func(f *registry.Facts) { f.Anchor.SetOn = calendar.Exactly(day("1976-05-03")) }, 12, houserules.FactorAge, "50-years-or-more"},
		{"earliest end of the date set", func(f *registry.Facts) {
			f.Anchor.SetOn = calendar.Span{From: day("2006-01-01"), To: day("2008-12-31")}
		}, 36, houserules.FactorAge, "20-to-30-years"},
		{"age not known", func(f *registry.Facts) { f.Anchor.SetOn = calendar.Span{} }, 12, houserules.FactorAge, "not-known"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			f := best()
			test.facts(&f)
			got := interval(&f, day("2026-05-03"))
			want := houserules.Interval{Months: test.months, Factor: test.factor, Row: test.row, Source: "default of this project"}
			if test.factor == houserules.FactorMetal {
				want.Environment = houserules.EnvironmentNotKnown
			}
			if got != want {
				t.Errorf("Interval = %+v, want %+v", got, want)
			}
		})
	}
}

// interval returns the interval in an environment that is not known.
func interval(f *registry.Facts, asOf calendar.Date) houserules.Interval {
	r := houserules.Default()
	rows := []registry.MetalRow{{Environment: houserules.EnvironmentNotKnown, Row: houserules.NotKnown}}
	for i, g := range f.Anchor.Metal {
		rows = append(rows[:i], registry.MetalRow{Environment: houserules.EnvironmentNotKnown, Row: houserules.MetalRow(g)})
	}
	return r.ForAge(r.IntervalAtAnyAge(f, &registry.Exposure{Rows: rows}), f, asOf)
}

// best returns facts in the longest row of every factor.
func best() registry.Facts {
	return registry.Facts{
		Anchor: registry.Anchor{
			Form: registry.SingleShank, Metal: metal.NewSet("titanium-2"), SetOn: calendar.Exactly(day("2020-06-01")),
		},
		Position:      registry.Position{Role: registry.Runner},
		Site:          registry.Site{Kind: registry.Crag, Rock: registry.RockHard},
		Traffic:       registry.TrafficSeldom,
		Installations: []registry.Installation{{RockSound: registry.Ringing}},
	}
}

func TestIntervalTakesTheLatestSound(t *testing.T) {
	t.Parallel()
	f := best()
	f.Installations = []registry.Installation{
		{Record: registry.Record{DoneOn: calendar.Exactly(day("2024-01-01"))}, RockSound: registry.Ringing},
		{Record: registry.Record{DoneOn: calendar.Exactly(day("2024-01-01"))}, RockSound: registry.Dull},
		{Record: registry.Record{DoneOn: calendar.Exactly(day("2020-01-01"))}, RockSound: registry.Hollow},
		{Record: registry.Record{DoneOn: calendar.Exactly(day("2025-01-01"))}},
	}
	got := interval(&f, day("2026-05-03"))
	if got.Row != "dull" || got.Months != 24 {
		t.Errorf("Interval = %+v, want dull, 24 months", got)
	}
}

func TestBirthdaysAreTheDaysOnWhichTheBandChanges(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		set := calendar.Date(rapid.IntRange(700000, 740000).Draw(t, "set"))
		asOf := set + calendar.Date(rapid.IntRange(0, 20000).Draw(t, "age"))
		f := best()
		f.Anchor.SetOn = calendar.Exactly(set)
		for _, birthday := range houserules.Birthdays(set, asOf) {
			if birthday <= asOf {
				t.Fatalf("Birthdays(%v, %v) holds %v", set, asOf, birthday)
			}
			if before, on := interval(&f, birthday-1), interval(&f, birthday); before == on {
				t.Fatalf("interval the day before %v and then = %v, want a change", birthday, on)
			}
		}
	})
}

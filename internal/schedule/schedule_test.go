package schedule_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/schedule"
)

func day(s string) calendar.Date {
	d, err := calendar.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

func id(name string) uuid.UUID { return uuid.NewSHA1(uuid.Nil, []byte(name)) }

// facts returns a stainless glue-in set on 1 June 2020 and entered the day
// after: interval 12 months by its metal, no inspection yet.
func facts(origin registry.Origin, edit ...func(*registry.Facts)) registry.Facts {
	f := registry.Facts{
		Anchor: registry.Anchor{
			ID: id("anchor"), Form: registry.SingleShank, Metal: metal.NewSet("1.4404"),
			SetOn: calendar.Exactly(day("2020-06-01")), Origin: origin, EnteredOn: day("2020-06-02"),
		},
		Position: registry.Position{Role: registry.Runner},
	}
	for _, e := range edit {
		e(&f)
	}
	return f
}

func inspected(on string, edit ...func(*registry.Inspection)) func(*registry.Facts) {
	i := registry.Inspection{
		Record: registry.Record{ID: id(on), DoneOn: calendar.Exactly(day(on)), Origin: registry.Recorded},
		Level:  registry.HandsOn, Ticked: true,
	}
	for _, e := range edit {
		e(&i)
	}
	return func(f *registry.Facts) { f.Inspections = append(f.Inspections, i) }
}

func glance(i *registry.Inspection) { i.Level = registry.Glance }

func imported(i *registry.Inspection) {
	i.Origin, i.Level, i.Ticked = registry.Imported, registry.Glance, false
}

func missed(i *registry.Inspection) {
	found := false
	i.Found, i.Level = &found, registry.Glance
}

func gives(v registry.Verdict, by string) func(*registry.Inspection) {
	return func(i *registry.Inspection) {
		i.Verdict = v
		if by != "" {
			i.InspectBy = day(by)
		}
	}
}

func plainMetal(f *registry.Facts) { f.Anchor.Metal = metal.NewSet(metal.SteelElectroplated) }

func notSet(f *registry.Facts) { f.Anchor.SetOn = calendar.Span{} }

func round(ends string) func(*registry.Facts) {
	return func(f *registry.Facts) { f.Site.FirstRoundEnds = day(ends) }
}

func firstUse(on string) func(*registry.Facts) {
	return func(f *registry.Facts) {
		f.FirstUses = append(f.FirstUses, registry.FirstUse{Record: registry.Record{DoneOn: calendar.Exactly(day(on))}})
	}
}

var house = houserules.Default()

// exposure returns one whose environment is not known.
func exposure(f *registry.Facts) *registry.Exposure {
	row := registry.MetalRow{Environment: houserules.EnvironmentNotKnown, Row: houserules.MetalRow(f.Anchor.Metal[0])}
	return &registry.Exposure{Rows: []registry.MetalRow{row}}
}

// plan plans as of 3 May 2021, the environment not known.
func plan(f *registry.Facts, findings []registry.Finding) schedule.Plan {
	return schedule.Anchor(f, schedule.Given{Exposure: exposure(f), Findings: findings}, &house, day("2021-05-03"))
}

// bad is a finding of the inspection on that day.
func bad(on string) []registry.Finding {
	record := id(on)
	return []registry.Finding{{Rule: "imported-spins", Severity: registry.Suspect, RecordID: &record}}
}

// Months: defaults of this project (house rules); dates by hand. All as of 3
// May 2021.
func TestAnchor(t *testing.T) {
	t.Parallel()
	const recorded, listed = registry.Recorded, registry.Imported
	tests := []struct {
		name     string
		facts    registry.Facts
		findings []registry.Finding
		due      string
		rule     string
		soonest  string
		raised   bool
	}{
		{"first inspection a year after it was set", facts(recorded), nil, "2021-06-01", "first-inspection", "2021-06-01", false},
		{"a year after first use", facts(recorded, firstUse("2020-08-01"), firstUse("2020-07-01")), nil, "2021-07-01", "first-inspection", "2021-07-01", false},
		{"never later than the interval", facts(recorded, plainMetal), nil, "2020-12-01", "first-inspection", "2020-12-01", false},
		{"set on a day not known: from entry", facts(recorded, notSet), nil, "2021-06-02", "first-inspection", "2021-06-02", false},
		{"set within a year: the earliest day", facts(recorded, func(f *registry.Facts) {
			f.Anchor.SetOn = calendar.Span{From: day("2020-01-01"), To: day("2020-12-31")}
		}), nil, "2021-01-01", "first-inspection", "2021-01-01", false},
		{"interval from the last that counts", facts(recorded, inspected("2021-03-01"), inspected("2021-02-01")), nil, "2022-03-01", "interval", "2022-03-01", false},
		{"leap day has no anniversary", facts(recorded, inspected("2024-02-29")), nil, "2025-02-28", "interval", "2025-02-28", false},
		{"interval from the earliest day", facts(recorded, inspected("2021-03-01", func(i *registry.Inspection) {
			i.DoneOn = calendar.Span{From: day("2021-01-01"), To: day("2021-03-31")}
		})), nil, "2022-01-01", "interval", "2022-01-01", false},
		{"a glance resets nothing", facts(recorded, inspected("2021-03-01", glance)), nil, "2021-06-01", "first-inspection", "2021-06-01", false},
		{"not ticked resets nothing", facts(recorded, inspected("2021-03-01", func(i *registry.Inspection) { i.Ticked = false })), nil, "2021-06-01", "first-inspection", "2021-06-01", false},

		{"watch without a date: six months", facts(recorded, inspected("2021-03-01", gives(registry.KeepWatching, ""))), nil, "2021-09-01", "verdict", "2021-09-01", false},
		{"repair without a date: three months", facts(recorded, inspected("2021-03-01", gives(registry.Repair, ""))), nil, "2021-06-01", "verdict", "2021-06-01", false},
		{"watch with a date", facts(recorded, inspected("2021-03-01", gives(registry.KeepWatching, "2021-04-15"))), nil, "2021-04-15", "verdict", "2021-04-15", false},
		{"a verdict never puts the interval off", facts(recorded, inspected("2021-03-01", gives(registry.KeepWatching, "2025-01-01"))), nil, "2022-03-01", "interval", "2022-03-01", false},
		{"a verdict ends with the next", facts(recorded, inspected("2021-03-01", gives(registry.Repair, "")), inspected("2021-04-01", gives(registry.Keep, ""))), nil, "2022-04-01", "interval", "2022-04-01", false},
		{"a verdict outlasts an inspection without one", facts(recorded, inspected("2021-03-01", gives(registry.Repair, "")), inspected("2021-04-01")), nil, "2021-06-01", "verdict", "2021-06-01", false},
		{"keep sets no date", facts(recorded, inspected("2021-03-01", gives(registry.Keep, ""))), nil, "2022-03-01", "interval", "2022-03-01", false},

		{"an import waits for its first round", facts(listed), nil, "2021-06-02", "first-round", "2021-06-01", true},
		{"as planned for the site", facts(listed, round("2023-01-01")), nil, "2023-01-01", "first-round", "2021-06-01", true},
		{"a round that ended before entry is none", facts(listed, round("2020-06-01")), nil, "2021-06-02", "first-round", "2021-06-01", true},
		{"a round that ends on the day of entry", facts(listed, round("2020-06-02")), nil, "2021-06-01", "first-inspection", "2021-06-01", false},
		{"set on a day not known: due when the round ends", facts(listed, notSet), nil, "2021-06-02", "first-round", "2021-06-02", true},
		{"what the list says was checked resets nothing", facts(listed, inspected("2020-05-01", imported)), nil, "2021-06-02", "first-round", "2021-06-01", true},
		{"a hands-on inspection ends the wait", facts(listed, round("2023-01-01"), inspected("2021-03-01")), nil, "2022-03-01", "interval", "2022-03-01", false},
		{"a verdict is not raised", facts(listed, round("2023-01-01"), inspected("2021-03-01", glance, gives(registry.Repair, ""))), nil, "2021-06-01", "verdict", "2021-06-01", false},
		{"a verdict after the round leaves it", facts(listed, round("2021-05-10"), inspected("2021-03-01", glance, gives(registry.Repair, "")), func(f *registry.Facts) {
			f.Anchor.SetOn = calendar.Exactly(day("2019-01-01"))
		}), nil, "2021-05-10", "first-round", "2020-01-01", true},

		{"bad state: three months after entry", facts(listed, inspected("2020-05-01", imported)), bad("2020-05-01"), "2020-09-02", "bad-state", "2020-09-02", false},
		{"an earlier date stays the soonest", facts(listed, inspected("2019-05-01", imported), func(f *registry.Facts) {
			f.Anchor.SetOn = calendar.Exactly(day("1998-06-01"))
		}), bad("2019-05-01"), "2020-09-02", "bad-state", "1999-06-01", false},
		{"bad state ends with an inspection", facts(listed, inspected("2020-05-01", imported), inspected("2020-07-01")), bad("2020-05-01"), "2021-07-01", "interval", "2021-07-01", false},
		{"but not with one before the list", facts(listed, inspected("2020-05-01", imported), inspected("2020-04-01")), bad("2020-05-01"), "2020-09-02", "bad-state", "2020-09-02", false},
		{"a finding recorded here has no such date", facts(listed, inspected("2021-03-01")), bad("2021-03-01"), "2022-03-01", "interval", "2022-03-01", false},
		{"nor has one that is settled", facts(listed, inspected("2020-05-01", imported)), settled("2020-05-01"), "2021-06-02", "first-round", "2021-06-01", true},
		{"nor has one that is only to be watched", facts(listed, inspected("2020-05-01", imported)), watched("2020-05-01"), "2021-06-02", "first-round", "2021-06-01", true},

		{"a list says not found", facts(listed, inspected("2020-05-01", imported, missed)), nil, "2021-06-02", "first-round", "2021-06-01", true},
		{"not found here: within a year", facts(recorded, inspected("2021-01-01"), inspected("2021-02-01", missed)), nil, "2022-01-01", "interval", "2022-01-01", false},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			p := plan(&test.facts, test.findings)
			got := []any{p.DueOn.String(), p.Reason.Rule, p.SoonestOn.String(), p.Raised}
			want := []any{test.due, test.rule, test.soonest, test.raised}
			if d := cmp.Diff(want, got); d != "" {
				t.Errorf("Anchor: due, reason, soonest, raised (-want +got):\n%s", d)
			}
		})
	}
}

func watched(on string) []registry.Finding {
	list := bad(on)
	list[0].Severity = registry.Watch
	return list
}

func settled(on string) []registry.Finding {
	list, by := bad(on), id("settlement")
	list[0].SettledBy = &by
	return list
}

func TestCandidatesAreAllKeptEarliestFirst(t *testing.T) {
	t.Parallel()
	f := facts(registry.Imported, inspected("2020-05-01", imported), inspected("2021-03-01", glance, gives(registry.KeepWatching, "2021-04-15")),
		inspected("2021-02-01", missed))
	p := plan(&f, bad("2020-05-01"))
	want := []registry.Candidate{
		{
			Rule: "bad-state", On: day("2020-09-02"), Source: "default of this project", Hard: true,
			Values: registry.Values{{Name: "finding", Text: "imported-spins"}, {Name: "entered_on", Text: "2020-06-02"}, {Name: "months", Text: "3"}},
		},
		{
			Rule: "verdict", On: day("2021-04-15"), Source: "set by the inspector", Hard: true,
			Values: registry.Values{{Name: "verdict", Text: "watch"}, {Name: "given_on", Text: "2021-03-01"}},
		},
		{
			Rule: "first-inspection", On: day("2021-06-01"), Source: "default of this project",
			Values: registry.Values{{Name: "counted_from", Text: "set"}, {Name: "counted_on", Text: "2020-06-01"}, {Name: "months", Text: "12"}},
		},
	}
	if d := cmp.Diff(want, p.Candidates); d != "" {
		t.Errorf("Candidates (-want +got):\n%s", d)
	}
}

func TestNotLocatedHasItsDate(t *testing.T) {
	t.Parallel()
	here := facts(registry.Recorded, inspected("2021-02-01", missed))
	p := plan(&here, nil)
	if i := index(p, "not-located"); i < 0 || p.Candidates[i].On != day("2022-02-01") {
		t.Errorf("Candidates = %+v, want not-located by 2022-02-01", p.Candidates)
	}
	listed := facts(registry.Imported, round("2022-10-01"), inspected("2020-05-01", imported, missed))
	p = plan(&listed, nil)
	if i := index(p, "not-located"); i < 0 || p.Candidates[i].On != day("2022-10-01") {
		t.Errorf("Candidates = %+v, want not-located by 2022-10-01", p.Candidates)
	}
}

func index(p schedule.Plan, rule string) int {
	return slices.IndexFunc(p.Candidates, func(c registry.Candidate) bool { return c.Rule == rule })
}

func TestIntervalNamesItsFactor(t *testing.T) {
	t.Parallel()
	f := facts(registry.Recorded, plainMetal, inspected("2021-03-01", func(i *registry.Inspection) {
		i.DoneOn.To = day("2021-03-31")
	}))
	p := plan(&f, nil)
	want := registry.Candidate{
		Rule: "interval", Factor: "metal", On: day("2021-09-01"), Source: "default of this project",
		Values: registry.Values{
			{Name: "last_inspected_on", Text: "2021-03-01"},
			{Name: "last_inspected_until", Text: "2021-03-31"},
			{Name: "level", Text: "hands-on"},
			{Name: "months", Text: "6"},
			{Name: "environment", Text: "environment-not-known"},
			{Name: "row", Text: "carbon-steel"},
		},
	}
	if d := cmp.Diff(want, p.Reason); d != "" {
		t.Errorf("Reason (-want +got):\n%s", d)
	}
}

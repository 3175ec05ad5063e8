package wording_test

import (
	"encoding/json"
	"strings"
	"testing"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/schedule"
	"rockledger/internal/wording"
)

// facts returns an imported stainless anchor, set on 2 June 1997 and entered
// on 25 November 2026.
func facts(edit ...func(*registry.Facts)) registry.Facts {
	f := registry.Facts{
		Anchor: registry.Anchor{
			Form: registry.ThroughBolt, Metal: metal.NewSet("1.4404"), SetOn: calendar.Exactly(day("1997-06-02")),
			Origin: registry.Imported, EnteredOn: day("2026-11-25"),
		},
		Position: registry.Position{Role: registry.Runner},
	}
	for _, e := range edit {
		e(&f)
	}
	return f
}

func inspection(on string, edit ...func(*registry.Inspection)) func(*registry.Facts) {
	i := registry.Inspection{
		Record: registry.Record{DoneOn: calendar.Exactly(day(on)), Origin: registry.Recorded}, Level: registry.HandsOn, Ticked: true,
	}
	i.ID[0] = byte(i.DoneOn.From)
	for _, e := range edit {
		e(&i)
	}
	return func(f *registry.Facts) { f.Inspections = append(f.Inspections, i) }
}

func listed(o ...registry.Observation) func(*registry.Inspection) {
	return func(i *registry.Inspection) {
		i.Origin, i.Level, i.Observations = registry.Imported, registry.Glance, o
	}
}

func missed(i *registry.Inspection) { i.Found = new(bool) }

func gives(v registry.Verdict, by calendar.Date) func(*registry.Inspection) {
	return func(i *registry.Inspection) { i.Verdict, i.InspectBy = v, by }
}

func here(f *registry.Facts) { f.Anchor.Origin = registry.Recorded }

func TestReason(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		facts registry.Facts
		asOf  string
		want  string
	}{
		{
			"interval", facts(inspection("2027-05-02")), "2027-06-01",
			"Inspect by 2 May 2028: last inspected hands-on on 2 May 2027; stainless steel whose environment is not known is looked at every 12 months (default of this project).",
		},
		{
			"first round", facts(), "2026-11-25",
			"Awaiting the first round, which ends on 25 November 2027 (default of this project): nobody has inspected it hands-on since it was entered here; by its age alone it would have been due on 2 June 1998.",
		},
		{
			"first round over", facts(func(f *registry.Facts) { f.Site.FirstRoundEnds = day("2027-01-31") }), "2027-02-01",
			"Overdue since the first round ended on 31 January 2027 (planned for the site): nobody has inspected it hands-on since it was entered here; by its age alone it would have been due on 2 June 1998.",
		},
		{
			"first round, as of a day before the entry", facts(), "2010-06-02",
			"Awaiting the first round, which ends on 25 November 2027 (default of this project): it was entered here only later, on 25 November 2026, and no inspection before that counts; by its age alone it would have been due on 2 June 1998.",
		},
		{
			"first round, set on a day not known", facts(func(f *registry.Facts) { f.Anchor.SetOn = calendar.Span{} }), "2026-11-25",
			"Awaiting the first round, which ends on 25 November 2027 (default of this project): nobody has inspected it hands-on since it was entered here.",
		},
		{
			"first inspection", facts(here, func(f *registry.Facts) { f.Anchor.SetOn.To = day("1997-06-30") }), "2026-11-25",
			"Inspect by 2 June 1998: it was set between 2 and 30 June 1997, and the first inspection follows within 12 months (default of this project).",
		},
		{
			"first inspection by the interval", facts(here, func(f *registry.Facts) { f.Anchor.SetOn, f.Anchor.Metal = calendar.Span{}, nil }), "2026-11-25",
			"Inspect by 25 May 2027: when it was set is not known, and it was entered here on 25 November 2026, and nobody has inspected it hands-on since; an anchor of a metal that is not known is looked at every 6 months (default of this project).",
		},
		{
			"first use", facts(here, func(f *registry.Facts) {
				f.FirstUses = []registry.FirstUse{{Record: registry.Record{DoneOn: calendar.Exactly(day("1997-07-01"))}}}
			}), "2026-11-25",
			"Inspect by 1 July 1998: first use was allowed on 1 July 1997, and the first inspection follows within 12 months (default of this project).",
		},
		{
			"verdict with a date", facts(inspection("2027-05-02", gives(registry.KeepWatching, day("2027-08-01")))), "2027-06-01",
			"Inspect by 1 August 2027: the verdict on 2 May 2027 was “watch”, and the inspector set this date.",
		},
		{
			"verdict without", facts(inspection("2027-05-02", gives(registry.Repair, 0))), "2027-06-01",
			"Inspect by 2 August 2027: the verdict on 2 May 2027 was “repair” without a date, which means within 3 months (default of this project).",
		},
		{
			"bad state", facts(inspection("2005-05-02", listed(registry.Spins))), "2026-12-01",
			"Inspect by 25 February 2027: the list it came from gives it a bad state, and such an anchor is inspected within 3 months of its entry here (default of this project).",
		},
		{"removed", facts(func(f *registry.Facts) { f.Anchor.Removed = true }), "2026-12-01", ""},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			t.Parallel()
			a := assess.Anchor(test.facts, houserules.Default(), day(test.asOf))
			if got := wording.Reason(a); got != test.want {
				t.Errorf("Reason =\n%s\nwant\n%s", got, test.want)
			}
		})
	}
}

func TestCandidateOfAnAnchorNotLocated(t *testing.T) {
	t.Parallel()
	tests := []struct {
		facts registry.Facts
		want  string
	}{
		{
			facts(here, inspection("2027-05-02", missed)),
			"Look for it by 2 May 2028: it was looked for on 2 May 2027 and not found; somebody looks again within 12 months (default of this project).",
		},
		{
			facts(inspection("2005-05-02", listed(), missed)),
			"Look for it by 25 November 2027: the list it came from says that it was not found, and the first round at its site ends then (default of this project).",
		},
	}
	for _, test := range tests {
		for _, c := range assess.Anchor(test.facts, houserules.Default(), day("2027-06-01")).Candidates {
			if got := wording.Candidate(c); c.Rule == "not-located" && got != test.want {
				t.Errorf("Candidate =\n%s\nwant\n%s", got, test.want)
			}
		}
	}
}

func TestEveryRuleThatGivesADateHasItsSentence(t *testing.T) {
	t.Parallel()
	for _, rule := range schedule.Rules() {
		got := wording.Candidate(registry.Candidate{Rule: rule, On: day("2026-05-03")})
		if strings.HasSuffix(got, ": "+strings.ReplaceAll(rule, "-", " ")+".") {
			t.Errorf("Candidate(%v) = %q, want a sentence", rule, got)
		}
	}
}

func TestEveryRowOfTheIntervalsHasItsWords(t *testing.T) {
	t.Parallel()
	data, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	var rules struct {
		Tables map[string]json.RawMessage `json:"longest_interval_months"`
	}
	if err := json.Unmarshal(data, &rules); err != nil {
		t.Fatal(err)
	}
	in := houserules.Default().Intervals
	tables := map[houserules.Factor]houserules.Table{
		houserules.FactorForm: in.Form, houserules.FactorRock: in.Rock, houserules.FactorRockSound: in.RockSound,
		houserules.FactorTraffic: in.Traffic, houserules.FactorRole: in.Role, houserules.FactorAge: in.Age,
	}
	if len(rules.Tables) != len(tables)+1 {
		t.Errorf("the house rules have %d tables of intervals, this test knows %d", len(rules.Tables), len(tables)+1)
	}
	for environment, table := range in.Metal {
		checkRows(t, houserules.FactorMetal, environment, table)
	}
	for factor, table := range tables {
		checkRows(t, factor, "", table)
	}
}

func checkRows(t *testing.T, factor houserules.Factor, environment string, table houserules.Table) {
	t.Helper()
	for row := range table {
		c := registry.Candidate{Rule: "interval", Factor: string(factor), Values: registry.Values{{Name: "environment", Text: environment}, {Name: "row", Text: row}}}
		if got := wording.Candidate(c); strings.Contains(got, "an anchor with "+strings.ReplaceAll(string(factor), "-", " ")) {
			t.Errorf("Candidate of %v, %v, %v = %q, want words of its own", factor, environment, row, got)
		}
	}
}

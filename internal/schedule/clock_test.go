package schedule_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/schedule"
)

// dateOf returns the date of a rule's candidate, "" without one.
func dateOf(p schedule.Plan, rule string) string {
	if i := index(p, rule); i >= 0 {
		return p.Candidates[i].On.String()
	}
	return ""
}

func mm(v quantity.Length) *quantity.Length { return &v }

func event(edit ...func(*registry.Event)) func(*registry.Facts) {
	e := registry.Event{ID: id("event"), Kind: registry.Flood, HappenedOn: day("2021-04-01")}
	for _, change := range edit {
		change(&e)
	}
	return func(f *registry.Facts) { f.Events = append(f.Events, e) }
}

func notice(f *registry.Facts) {
	f.Notices = append(f.Notices, registry.Notice{
		ID: id("notice"), Title: "Invented recall", IssuedOn: day("2021-04-01"), InspectBy: day("2021-05-20"),
	})
}

// Thirty days after an event: house rules, default of this project.
func TestEventsAndNotices(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		facts registry.Facts
		rule  string
		want  string
	}{
		{"thirty days", facts(registry.Recorded, event()), "event", "2021-05-01"},
		{"the steward's date", facts(registry.Recorded, event(func(e *registry.Event) { e.InspectBy = day("2021-04-05") })), "event", "2021-04-05"},
		{"inspected since", facts(registry.Recorded, event(), inspected("2021-04-02")), "event", ""},
		{"inspected that day", facts(registry.Recorded, event(), inspected("2021-04-01")), "event", "2021-05-01"},
		{"taken back", facts(registry.Recorded, event(func(e *registry.Event) { e.EndedOn = day("2021-05-03") })), "event", ""},
		{"notice", facts(registry.Recorded, notice), "notice", "2021-05-20"},
		{"notice, inspected since", facts(registry.Recorded, notice, inspected("2021-04-02")), "notice", ""},
	}
	for _, test := range tests {
		if got := dateOf(plan(&test.facts, nil), test.rule); got != test.want {
			t.Errorf("%s: %s by %q, want %q", test.name, test.rule, got, test.want)
		}
	}
}

func TestAnEventIsNotRaisedToTheFirstRound(t *testing.T) {
	t.Parallel()
	f := facts(registry.Imported, round("2023-01-01"), event())
	if p := plan(&f, nil); p.DueOn != day("2021-05-01") || p.Reason.Rule != "event" || p.Raised {
		t.Errorf("due %v by %v, want 2021-05-01 by the event", p.DueOn, p.Reason.Rule)
	}
}

func TestWhatIsSettledGivesNoDate(t *testing.T) {
	t.Parallel()
	f := facts(registry.Recorded, event(), notice)
	given := schedule.Given{Exposure: exposure(&f), Settled: []uuid.UUID{id("event"), id("notice")}}
	p := schedule.Anchor(&f, given, &house, day("2021-05-03"))
	if dateOf(p, "event") != "" || dateOf(p, "notice") != "" {
		t.Errorf("Candidates = %+v, want neither event nor notice", p.Candidates)
	}
}

// hung adds a fitting of 10 mm.
func hung(kind registry.FittingKind, on string, edit ...func(*registry.Fitting)) func(*registry.Facts) {
	fitting := registry.Fitting{ID: id("fitting"), Kind: kind, Presence: registry.Present, New: mm(10)}
	if on != "" {
		fitting.SetOn = calendar.Exactly(day(on))
	}
	for _, e := range edit {
		e(&fitting)
	}
	return func(f *registry.Facts) { f.Fittings = append(f.Fittings, fitting) }
}

func left(on string, v quantity.Length) func(*registry.Facts) {
	of := id("fitting")
	return inspected(on, func(i *registry.Inspection) {
		i.Measured = []registry.Measurement{{FittingID: &of, Left: v}}
	})
}

// The limit is 15 % of the new thickness (house rules, default of this
// project): 8.5 mm of 10 mm. Days by hand.
func TestWear(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		facts registry.Facts
		want  string
	}{
		// 0.5 mm in 200 days since it was hung, twice that rate: 1 mm more in 200 days
		{"one reading, times two", facts(registry.Recorded, hung(registry.Ring, "2020-09-01"), left("2021-03-20", 9.5)), "2021-10-06"},
		// 0.5 mm in 100 days between readings is faster than 0.6 mm in 300 days since new
		{"between two readings", facts(registry.Recorded, hung(registry.Ring, "2020-06-01"), left("2020-12-18", 9.9), left("2021-03-28", 9.4)), "2021-09-24"},
		// no loss between readings, so that 0.6 mm in 300 days since new counts
		{"since new", facts(registry.Recorded, hung(registry.Ring, "2020-06-01"), left("2020-12-18", 9.4), left("2021-03-28", 9.4)), "2022-06-21"},
		// the thinner reading counts, at the rate since new: 0.5 mm in 200 days, twice that by one reading
		{"a thicker one later lifts nothing", facts(registry.Recorded, hung(registry.Ring, "2020-09-01"), left("2021-03-20", 9.5), left("2021-04-20", 9.9)), "2021-10-06"},
		{"nor one over the limit", facts(registry.Recorded, hung(registry.Ring, "2020-09-01"), left("2021-03-20", 8.5), left("2021-04-20", 9.9)), "2021-03-20"},
		{"from the first day over the limit", facts(registry.Recorded, hung(registry.Ring, "2020-09-01"), left("2021-03-20", 8.5), left("2021-04-20", 8)), "2021-03-20"},
		{"nothing lost", facts(registry.Recorded, hung(registry.Ring, "2020-06-01"), left("2021-03-28", 10)), ""},
		{"hung on a day not known: since the anchor was set", facts(registry.Recorded, hung(registry.Ring, ""), left("2020-12-18", 9.5)), "2021-07-06"},
		{"at the limit", facts(registry.Recorded, hung(registry.Ring, "2020-06-01"), left("2021-03-28", 8.5)), "2021-03-28"},
		{"how thick it was is not known", facts(registry.Recorded, hung(registry.Ring, "2020-06-01", func(f *registry.Fitting) { f.New = nil }), left("2021-03-28", 9)), ""},
		{"taken off", facts(registry.Recorded, hung(registry.Ring, "2020-06-01", func(f *registry.Fitting) { f.EndedOn = day("2021-05-01") }), left("2021-03-28", 9)), ""},
	}
	for _, test := range tests {
		if got := dateOf(plan(&test.facts, nil), "wear"); got != test.want {
			t.Errorf("%s: worn by %q, want %q", test.name, got, test.want)
		}
	}
}

func TestWearThatIsSettledGivesNoDate(t *testing.T) {
	t.Parallel()
	f := facts(registry.Recorded, hung(registry.Ring, "2020-06-01"), left("2021-03-28", 8.5))
	finding := registry.Finding{
		Rule: "worn-far", Severity: registry.Suspect, RecordID: &f.Inspections[0].ID,
		Values: registry.Values{{Name: "point", Text: "ring"}, {Name: "left_mm", Text: "8.5"}, {Name: "fitting_id", Text: id("fitting").String()}},
	}
	if got := dateOf(plan(&f, []registry.Finding{finding}), "wear"); got != "2021-03-28" {
		t.Errorf("not settled: worn by %q, want 2021-03-28", got)
	}
	by := id("settlement")
	finding.SettledBy = &by
	if got := dateOf(plan(&f, []registry.Finding{finding}), "wear"); got != "" {
		t.Errorf("settled: worn by %q, want none", got)
	}
	// 0.4 mm in 100 days, twice that rate by one reading: 8.5 mm after 137 days
	// more, and that is before the settled reading
	left("2020-09-09", 9.6)(&f)
	if got := dateOf(plan(&f, []registry.Finding{finding}), "wear"); got != "2021-03-28" {
		t.Errorf("settled, but another reading: worn by %q, want 2021-03-28", got)
	}
	other := id("other")
	f.Fittings[0].ID = other
	for k := range f.Inspections {
		f.Inspections[k].Measured[0].FittingID = &other
	}
	f.Inspections = f.Inspections[:1]
	if got := dateOf(plan(&f, []registry.Finding{finding}), "wear"); got != "2021-03-28" {
		t.Errorf("another ring is settled: worn by %q, want 2021-03-28", got)
	}
}

// Months by traffic: house rules, default of this project.
func TestFittingsThatRunOnRope(t *testing.T) {
	t.Parallel()
	at := func(role registry.PositionRole, traffic registry.Traffic) func(*registry.Facts) {
		return func(f *registry.Facts) { f.Position.Role, f.Traffic = role, traffic }
	}
	lower := at(registry.LowerOff, registry.TrafficOrdinary)
	tests := []struct {
		name  string
		facts registry.Facts
		want  string
	}{
		{"ring, ordinary traffic", facts(registry.Recorded, lower, hung(registry.Ring, "2021-01-01")), "2022-01-01"},
		{"seldom", facts(registry.Recorded, at(registry.LowerOff, registry.TrafficSeldom), hung(registry.Ring, "2021-01-01")), "2023-01-01"},
		{"most weekends", facts(registry.Recorded, at(registry.LowerOff, registry.TrafficMostWeekends), hung(registry.Ring, "2021-01-01")), "2021-07-01"},
		{"traffic not known", facts(registry.Recorded, at(registry.LowerOff, ""), hung(registry.Maillon, "2021-01-01")), "2022-01-01"},
		{"role not known", facts(registry.Recorded, at("", ""), hung(registry.Ring, "2021-01-01")), "2022-01-01"},
		{"a ring at a runner", facts(registry.Recorded, hung(registry.Ring, "2021-01-01")), ""},
		{"a hook anywhere", facts(registry.Recorded, hung(registry.Hook, "2021-01-01")), "2022-01-01"},
		{"a chain", facts(registry.Recorded, lower, hung(registry.Chain, "2021-01-01")), ""},
		{"left off", facts(registry.Recorded, lower, hung(registry.Ring, "2021-01-01", func(f *registry.Fitting) { f.Presence = registry.LeftOff })), ""},
		{"taken off", facts(registry.Recorded, lower, hung(registry.Ring, "2021-01-01", func(f *registry.Fitting) { f.EndedOn = day("2021-05-03") })), ""},
		{"inspected since", facts(registry.Recorded, lower, hung(registry.Ring, "2021-01-01"), inspected("2021-03-01")), "2022-03-01"},
		{"a glance", facts(registry.Recorded, lower, hung(registry.Ring, "2021-01-01"), inspected("2021-03-01", glance)), "2022-01-01"},
		{"hung after the inspection", facts(registry.Recorded, lower, hung(registry.Ring, "2021-04-01"), inspected("2021-03-01")), "2022-04-01"},
		{"hung on a day not known", facts(registry.Recorded, lower, hung(registry.Ring, "")), "2021-06-01"},
		{"nothing known", facts(registry.Recorded, lower, notSet, hung(registry.Ring, "")), "2021-06-02"},
	}
	for _, test := range tests {
		if got := dateOf(plan(&test.facts, nil), "fitting"); got != test.want {
			t.Errorf("%s: by %q, want %q", test.name, got, test.want)
		}
	}
}

// An inspection on the day or after has seen it: judgement of this project.
func TestCoatingAndSection(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name                string
		facts               registry.Facts
		coating, firstShare string
	}{
		{"ahead and behind", facts(registry.Recorded), "2020-12-01", "2021-08-01"},
		{"inspected on the day", facts(registry.Recorded, inspected("2020-12-01")), "", "2021-08-01"},
		{"inspected the day before", facts(registry.Recorded, inspected("2020-11-30")), "2020-12-01", "2021-08-01"},
		{"inspected between the shares", facts(registry.Recorded, inspected("2021-09-01")), "", "2022-08-01"},
		{"a glance", facts(registry.Recorded, inspected("2021-09-01", glance)), "2020-12-01", "2021-08-01"},
	}
	for _, test := range tests {
		x := exposure(&test.facts)
		x.CoatingGoneOn, x.SectionWatchOn, x.SectionSuspectOn = day("2020-12-01"), day("2021-08-01"), day("2022-08-01")
		p := schedule.Anchor(&test.facts, schedule.Given{Exposure: x}, &house, day("2021-05-03"))
		if got := dateOf(p, "coating"); got != test.coating {
			t.Errorf("%s: coating by %q, want %q", test.name, got, test.coating)
		}
		if got := dateOf(p, "section"); got != test.firstShare {
			t.Errorf("%s: section by %q, want %q", test.name, got, test.firstShare)
		}
	}
}

// Twelve and six months: BS 7883, EN 365 and rope access, borrowed from the
// workplace (house rules).
func TestDuty(t *testing.T) {
	t.Parallel()
	full := func(i *registry.Inspection) { i.Level = registry.Full }
	tests := []struct {
		name  string
		duty  string
		facts registry.Facts
		want  string
	}{
		{"off", houserules.DutyOff, facts(registry.Recorded), ""},
		{"work: from the day it was set", houserules.DutyWork, facts(registry.Recorded), "2021-06-01"},
		{"rope access", houserules.DutyRopeAccess, facts(registry.Recorded), "2020-12-01"},
		{"from the last in full", houserules.DutyWork, facts(registry.Recorded, inspected("2021-01-01", full), inspected("2021-02-01")), "2022-01-01"},
	}
	for _, test := range tests {
		own := house
		own.Duty = houserules.Word{Value: test.duty, Source: "our own"}
		p := schedule.Anchor(&test.facts, schedule.Given{Exposure: exposure(&test.facts)}, &own, day("2021-05-03"))
		if got := dateOf(p, "duty"); got != test.want {
			t.Errorf("%s: by %q, want %q", test.name, got, test.want)
		}
	}
}

package wording_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func london(t *testing.T) *time.Location {
	t.Helper()
	zone, err := time.LoadLocation("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	return zone
}

// 3 May 2026 is a Sunday, and British Summer Time is an hour ahead of UTC.
func TestNotBefore(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, time.May, 3, 13, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		name string
		at   time.Time
		want string
	}{
		{"on the minute", at, "Do not load before Sunday 3 May 2026, 14:00 (BST)."},
		{"never a second early", at.Add(time.Second), "Do not load before Sunday 3 May 2026, 14:01 (BST)."},
		{"past midnight there", at.Add(10 * time.Hour), "Do not load before Monday 4 May 2026, 00:00 (BST)."},
		{"no instant", time.Time{}, wording.CureCardNoTime},
	} {
		if got := wording.NotBefore(registry.CureTime{NotBefore: c.at}, london(t)); got != c.want {
			t.Errorf("%s: NotBefore = %q, want %q", c.name, got, c.want)
		}
	}
}

// Where the adhesive may not cure at all, no label helps.
func TestNotBeforeBeyondTheSheet(t *testing.T) {
	t.Parallel()
	for missing, want := range map[string]string{
		"hole-flooded": wording.CureCardNever, "colder-than-sheet": wording.CureCardNever, "warmer-than-sheet": wording.CureCardNever,
		"no-sheet": wording.CureCardNoTime, "label-for-warmer-rock": wording.CureCardNoTime,
	} {
		if got := wording.NotBefore(registry.CureTime{Missing: missing}, time.UTC); got != want {
			t.Errorf("NotBefore without a time, %s = %q, want %q", missing, got, want)
		}
	}
}

func TestCureRests(t *testing.T) {
	t.Parallel()
	minutes, cold := 90, quantity.Temperature(-2)
	bySheet := registry.CureTime{
		Basis: registry.CureBySheet, Source: "issue 3", CureMinutes: &minutes, LowestC: &cold, LowestBy: registry.LowestNight,
		Assumed: true, Wet: true, NotBefore: time.Date(2026, time.May, 3, 13, 0, 0, 0, time.UTC),
	}
	want := "Cure time 1 hour 30 minutes, by the product's sheet (issue 3). Lowest rock temperature −2 °C, the coldest until release; " +
		"assumed, not measured. Lengthened for a damp or saturated hole."
	if got := wording.CureRests(bySheet); got != want {
		t.Errorf("CureRests = %q, want %q", got, want)
	}
	for _, c := range []struct {
		by             registry.CureBasis
		usual, unknown bool
		want           string
	}{
		{registry.CureBySheet, true, false, "Doubled for a damp or saturated hole (common practice: the sheet gives no wet time)."},
		{registry.CureByLabel, true, false, "Doubled for a damp or saturated hole (common practice: the label gives no wet time)."},
		{registry.CureBySheet, true, true, "(common practice: the sheet gives no wet time), since how wet it was is not recorded."},
		{registry.CureBySheet, false, true, "Lengthened for a damp or saturated hole, since how wet it was is not recorded."},
	} {
		got := wording.CureRests(registry.CureTime{Basis: c.by, CureMinutes: &minutes, LowestC: &cold, Wet: true, UsualDoubling: c.usual, MoistureUnknown: c.unknown, NotBefore: bySheet.NotBefore})
		if !strings.HasSuffix(got, c.want) {
			t.Errorf("CureRests = %q, want it to end in %q", got, c.want)
		}
	}
	for missing, why := range map[string]string{"no-sheet": "There is no sheet", "some-other": "No cure time"} {
		got := wording.CureRests(registry.CureTime{Basis: registry.CureNone, Missing: missing})
		if !strings.Contains(got, why) || !strings.Contains(got, "Read the label, and record what it says.") {
			t.Errorf("CureRests without %s = %q, want that there is no time, and %q", missing, got, why)
		}
	}
	unmeasured := registry.CureTime{Basis: registry.CureByLabel, CureMinutes: &minutes, Missing: "set-time-not-known"}
	if got := wording.CureRests(unmeasured); !strings.Contains(got, "read off the label") || !strings.Contains(got, "How cold the rock became until release is not recorded. Record the lowest rock temperature of the night.") || !strings.Contains(got, wording.CureMissing("set-time-not-known")) {
		t.Errorf("CureRests without temperature or instant = %q", got)
	}
	zero := quantity.Temperature(0)
	unmeasured.Basis, unmeasured.LowestC, unmeasured.LowestBy = registry.CureBySheet, &zero, registry.LowestRow
	if got := wording.CureRests(unmeasured); !strings.Contains(got, "the row for 0 °C counts, the coldest that the house rules reckon with, or that it was at the setting. Record the lowest rock temperature of the night.") {
		t.Errorf("CureRests by the coldest row = %q, want the remedy", got)
	}
}

// Whatever decided the temperature reads differently.
func TestEveryLowestReadsDifferently(t *testing.T) {
	t.Parallel()
	cold, seen := quantity.Temperature(4), map[string]registry.LowestBy{}
	for _, by := range registry.LowestBys() {
		got := wording.CureRests(registry.CureTime{Basis: registry.CureBySheet, LowestC: &cold, LowestBy: by})
		if other, there := seen[got]; there {
			t.Errorf("%s reads like %s: %q", by, other, got)
		}
		seen[got] = by
	}
}

func TestMinutes(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]string{1: "1 minute", 45: "45 minutes", 60: "1 hour", 1440: "24 hours", 61: "1 hour 1 minute"} {
		if got := wording.Minutes(n); got != want {
			t.Errorf("Minutes(%d) = %q, want %q", n, got, want)
		}
	}
}

func TestMoment(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, time.May, 2, 13, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		m    calendar.Moment
		want string
	}{
		{calendar.Moment{}, ""},
		{calendar.Moment{Words: "?"}, "not known (“?”)"},
		{calendar.Moment{From: at, To: at, Words: "14:00"}, "2 May 2026, 14:00"},
		{calendar.Moment{From: at, To: at.Add(time.Hour), Words: "2-3 pm"}, "2 May 2026, between 14:00 and 15:00 (“2-3 pm”)"},
		{calendar.Moment{From: at.Add(9 * time.Hour), To: at.Add(10 * time.Hour)}, "2 May 2026, between 23:00 and 3 May 2026, 00:00"},
	} {
		if got := wording.Moment(c.m, london(t)); got != c.want {
			t.Errorf("Moment(%v) = %q, want %q", c.m, got, c.want)
		}
	}
}

func TestReading(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		r    *registry.Reading
		want string
	}{
		{nil, ""},
		{&registry.Reading{C: 11, How: registry.Measured}, "11 °C, measured"},
		{&registry.Reading{C: -2.5, How: registry.Assumed}, "−2.5 °C, assumed"},
		{&registry.Reading{C: 0}, "0 °C, not said how, so taken as assumed"},
	} {
		if got := wording.Reading(c.r); got != c.want {
			t.Errorf("Reading(%v) = %q, want %q", c.r, got, c.want)
		}
	}
}

func TestOpenFields(t *testing.T) {
	t.Parallel()
	if got := wording.OpenFields(nil); got != "" {
		t.Errorf("OpenFields of none = %q, want nothing", got)
	}
	if got, want := wording.OpenFields([]string{"Hole width", "Set at"}), "Not recorded: hole width, set at."; got != want {
		t.Errorf("OpenFields = %q, want %q", got, want)
	}
	if got, want := wording.OpenFront([]string{"Hole width", "Notes", "Torque tool"}), "Not recorded: hole width, 2 fields of the card's back."; got != want {
		t.Errorf("OpenFront = %q, want %q", got, want)
	}
}

// Two sessions of one day differ at least by when they were recorded.
func TestGluingRow(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, time.May, 2, 18, 20, 0, 0, time.UTC)
	s := registry.GluingSession{RecordedAt: at}
	if got, want := wording.GluingRow(s, "Marrow Scar", london(t)), "Marrow Scar, recorded 2 May 2026, 19:20"; got != want {
		t.Errorf("GluingRow = %q, want %q", got, want)
	}
	s.OpenedAt, s.Cartridge = calendar.Moment{From: at.Add(-4 * time.Hour), To: at.Add(-4 * time.Hour)}, "3"
	if got, want := wording.GluingRow(s, "Marrow Scar", london(t)), "Marrow Scar, opened 2 May 2026, 15:20, cartridge 3, recorded 2 May 2026, 19:20"; got != want {
		t.Errorf("GluingRow = %q, want %q", got, want)
	}
}

func TestEveryStateOfASampleReadsDifferently(t *testing.T) {
	t.Parallel()
	seen := map[string]bool{wording.SampleMeaning(""): true}
	for _, s := range registry.SampleStates() {
		if got := wording.SampleMeaning(s); seen[got] {
			t.Errorf("SampleMeaning(%s) = %q, like another's", s, got)
		} else {
			seen[got] = true
		}
	}
}

func TestRecordsOfGluingAreToldInFull(t *testing.T) {
	t.Parallel()
	cycles, working, cure, cold := 4, 8, 90, quantity.Temperature(0)
	person := uuid.UUID{1}
	n := wording.Names{Persons: map[uuid.UUID]string{person: "A. Example"}}
	on := registry.Record{DoneOn: calendar.Exactly(calendar.NewDate(2026, time.May, 2)), PersonID: &person, Origin: registry.Recorded, Words: "Windy."}
	at := calendar.Moment{From: time.Date(2026, time.May, 2, 9, 0, 0, 0, time.UTC), Words: "10:00"}
	for _, c := range []struct{ got, want string }{
		{
			wording.Installation(registry.Installation{Record: on, CleaningCycles: &cycles, Moisture: registry.HoleDamp}, n),
			"Set on 2 May 2026 by A. Example. Blown and brushed: 4 rounds. Hole when set: damp. “Windy.”",
		},
		{
			wording.Cure(registry.Cure{Record: on, LowestC: &registry.Reading{C: 4, How: registry.Measured}, LabelWorkingMinutes: &working, LabelCureMinutes: &cure, LabelC: &cold, LoadedAt: at}, n),
			"Cure looked at on 2 May 2026 by A. Example. Coldest rock until release: 4 °C, measured. " +
				"Read off the label: working time 8 minutes, cure time 1 hour 30 minutes, for rock at 0 °C. It was loaded (“10:00”). “Windy.”",
		},
		{
			wording.FirstUse(registry.FirstUse{Record: on, At: at, Sample: registry.SampleNone}, n),
			"First use allowed on 2 May 2026 (“10:00”) by A. Example. The kept sample: none was kept. “Windy.”",
		},
	} {
		if c.got != c.want {
			t.Errorf("told %q, want %q", c.got, c.want)
		}
	}
}

// What an installation leaves open and its session states is told with it.
func TestHistoryTellsTheSessionsAdhesive(t *testing.T) {
	t.Parallel()
	glue, session := uuid.UUID{2}, uuid.UUID{3}
	story := registry.AnchorStory{
		Facts: registry.Facts{
			Installations: []registry.Installation{{Record: registry.Record{ID: uuid.UUID{4}}, SessionID: &session}},
			Sessions:      []registry.GluingSession{{ID: session, AdhesiveID: &glue}},
		},
		Products: map[uuid.UUID]registry.Product{glue: {Name: "Slow resin"}},
	}
	if got := wording.History(story)[0].Words; !strings.Contains(got, "Bonded with Slow resin") {
		t.Errorf("history tells %q, want the session's adhesive", got)
	}
}

package exchange_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// checked is when the anchors of these notes were last looked at.
var checked = calendar.Exactly(calendar.NewDate(2024, time.June, 3))

// noted reads the notes of a row with nothing else in it but its last check.
func noted(text string) []registry.Noted {
	return exchange.NotesOf(&registry.ListRow{Notes: text, CheckedOn: checked}, today)
}

// sayNoted writes what a note would become in short.
func sayNoted(n registry.Noted) string {
	parts := []string{string(n.Kind)}
	for _, p := range []string{string(n.Bars), string(n.Role), string(n.Observation), string(n.Wetness)} {
		if p != "" {
			parts = append(parts, p)
		}
	}
	if w := n.Yearly; w != nil {
		parts = append(parts, fmt.Sprintf("%d-%d..%d-%d", w.FromMonth, w.FromDay, w.ToMonth, w.ToDay))
	}
	if !n.InspectBy.IsZero() {
		parts = append(parts, n.InspectBy.String(), string(n.CountedFrom))
	}
	if n.Washed != nil {
		parts = append(parts, fmt.Sprintf("washed %v", *n.Washed))
	}
	return strings.Join(parts, " ")
}

// What the words mean is common practice, no source. Months are whole ones,
// February's 29 days included (calendar.Window).
func TestNotesOf(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ text, want string }{
		{"bird ban Mar-Jul", "restriction climbing 3-1..7-31"},
		{"Bird ban March – July", "restriction climbing 3-1..7-31"},
		{"bird ban 1 Mar to 31 July", "restriction climbing 3-1..7-31"},
		{"bird ban 1/3-30/6", "restriction climbing 3-1..6-30"},
		{"nesting birds Feb to Jun", "restriction climbing 2-1..6-30"},
		{"no climbing Dec-Feb (ravens)", "restriction climbing 12-1..2-29"},
		{"no drilling March to July", "restriction drilling 3-1..7-31"},
		{"no access in May", "restriction entry 5-1..5-31"},
		{"closed for nesting Mar-Jul", "restriction entry 3-1..7-31"},
		{"bats Nov to Mar", "restriction entry 11-1..3-31"},
		{"peregrines nesting Feb-June", "restriction climbing 2-1..6-30"},

		{"ask farmer first", "agreement"},
		{"Please phone the estate office beforehand", "agreement"},
		{"permission needed from landowner", "agreement"},

		{"low off only", "role lower-off"},
		{"lower-off only", "role lower-off"},
		{"used as back-up", "role backup"},
		{"belay only", "role belay"},

		{"bit hollow sounding", "observation hollow-sound"},
		{"sounds hollow", "observation hollow-sound"},
		{"tea staining", "observation tea-staining"},
		{"loose nut", "observation loose-nut"},
		{"spins", "observation spins"},
		{"do not use", "observation called-unsafe"},

		{"check next yr", "date 2025-12-31 checked-on"},
		{"Check again next year", "date 2025-12-31 checked-on"},
		{"inspect in 6 months", "date 2024-12-03 checked-on"},
		{"re-check in two years", "date 2026-06-03 checked-on"},
		{"check in 2027", "date 2027-12-31 stated"},
		{"check by 2027", "date 2027-01-01 stated"},
		{"check before May 2027", "date 2027-04-30 stated"},
		{"next inspection 2027", "date 2027-12-31 stated"},

		{"drips onto bolt", "environment dripping"},
		{"always wet", "environment dripping"},
		{"in the stream", "environment stream"},
		{"never washed by rain", "environment washed false"},

		{"hollow; ask farmer first. Check next year", "observation hollow-sound|agreement|date 2025-12-31 checked-on"},
		{"drips and sounds hollow", "environment dripping|observation hollow-sound"},
		{"left of ivy, bird ban Mar-Jul", "restriction climbing 3-1..7-31"},
		{"hollow, HOLLOW", "observation hollow-sound"},
	} {
		got := make([]string, 0, 3)
		for _, n := range noted(c.text) {
			got = append(got, sayNoted(n))
		}
		if said := strings.Join(got, "|"); said != c.want {
			t.Errorf("notes %q become %q, want %q", c.text, said, c.want)
		}
	}
}

// Denied, doubted, past and unknown words become nothing.
func TestNotesOfRejects(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"", "café side – left of ivy", "no birds", "no bird ban Mar-Jul", "bird ban", "bird ban lifted Mar-Jul", "bird ban Mar-Jul 2024",
		"bird ban 1/3-4/6", "bird ban 31 Feb to 3 May", "birdsong Mar-Jul", "not hollow", "isn't hollow", "hollow?", "was hollow",
		"no rust, hollow", "not rusty and hollow", "don't lower off", "do not use as lower-off", "below the lower-off", "lower",
		"asked farmer first", "no need to ask farmer", "farmer is friendly", "see topo first", "checked next to tree",
		"don't check next year", "no need to check in 2027", "check 2020", "never drips", "no drips", "not wet", "dry", "wet weather gear needed",
		"replaced hanger", "ok", strings.Repeat("hollow ", 60),
	} {
		if got := noted(text); len(got) > 0 {
			t.Errorf("notes %q become %+v, want nothing", text, got)
		}
	}
}

func TestNotesOfTheRestOfTheRow(t *testing.T) {
	t.Parallel()
	row := registry.ListRow{Notes: "belay only; spins; check next year; bird ban Mar-Jul", Role: registry.Belay, State: registry.StateSpins}
	got := exchange.NotesOf(&row, today)
	if len(got) != 2 || sayNoted(got[0]) != "date 2027-12-31 read-on" || sayNoted(got[1]) != "restriction climbing 3-1..7-31" {
		t.Errorf("beside a role and a state that say the same: %+v, want a date, counted from the day of reading, and a restriction", got)
	}
	row.State = registry.StateRemoved
	if got := exchange.NotesOf(&row, today); len(got) != 1 || got[0].Kind != registry.ProposesRestriction {
		t.Errorf("of an anchor that is gone: %+v, want what is true of its place", got)
	}
}

func FuzzNotesOf(f *testing.F) {
	for _, text := range []string{
		"bird ban Mar-Jul", "no climbing 1/3 - 31/7; hollow", "check in 99 years", "ask farmer, (drips) & spins", "check 2099", "low off only.",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		for _, n := range noted(text) {
			if !strings.Contains(strings.Join(strings.Fields(text), " "), n.Words) || n.Words == "" {
				t.Fatalf("%q: words %q are not in the note", text, n.Words)
			}
			if n.Yearly != nil && n.Yearly.Validate() != nil {
				t.Fatalf("%q: window %+v", text, *n.Yearly)
			}
			if (n.Kind == registry.ProposesDate) != !n.InspectBy.IsZero() || !n.InspectBy.IsZero() && n.InspectBy < checked.From {
				t.Fatalf("%q: %s, by %v", text, n.Kind, n.InspectBy)
			}
			if (n.Kind == registry.ProposesRestriction) != (n.Yearly != nil) || (n.Kind == registry.ProposesRole) != (n.Role != "") {
				t.Fatalf("%q: %+v", text, n)
			}
		}
	})
}

// Whoever imports at a terminal is told how many notes wait, and where.
func TestImportTextTellsOfProposals(t *testing.T) {
	t.Parallel()
	for n, want := range map[int]string{0: "", 1: "1 note waits to be accepted", 174: "174 notes wait to be accepted"} {
		var b strings.Builder
		if err := exchange.WriteImportText(&b, report.Import{FileName: "list.csv", Proposals: n}); err != nil {
			t.Fatal(err)
		}
		if got := strings.Contains(b.String(), wording.ProposalsWhere); got != (n > 0) || !strings.Contains(b.String(), want) {
			t.Errorf("%d proposals: the report says\n%s", n, b.String())
		}
	}
}

package exchange_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// The rows show ways of writing; they are of no product.
func TestParseCureRows(t *testing.T) {
	t.Parallel()
	wet := func(m int) *int { return &m }
	for text, want := range map[string][]registry.CureRow{
		"":                               nil,
		" \n \n":                         nil,
		"5..9: 25 min, 2 h, wet 4 h":     {{FromC: 5, ToC: 9, WorkMinutes: 25, CureMinutes: 120, CureWetMinutes: wet(240)}},
		"5 to 9 °C: 25 minutes, 2 hours": {{FromC: 5, ToC: 9, WorkMinutes: 25, CureMinutes: 120}},
		"−5…−1: 90min,  14h":             {{FromC: -5, ToC: -1, WorkMinutes: 90, CureMinutes: 840}},
		"40: 12 min, 1 h 20 min":         {{FromC: 40, ToC: 40, WorkMinutes: 12, CureMinutes: 80}},
		"4.5..9,5: 25 min, 1,5 h\n10..19: 5 min, 80 min": {
			{FromC: 4.5, ToC: 9.5, WorkMinutes: 25, CureMinutes: 90}, {FromC: 10, ToC: 19, WorkMinutes: 5, CureMinutes: 80},
		},
		"5..9: 25 min, 0.34 h": {{FromC: 5, ToC: 9, WorkMinutes: 25, CureMinutes: 21}}, // 20.4 min, never shortened
	} {
		got, err := exchange.ParseCureRows(text)
		if d := cmp.Diff(want, got); err != nil || d != "" {
			t.Errorf("ParseCureRows(%q): %v (-want +got):\n%s", text, err, d)
		}
	}
}

func TestParseCureRowsRejects(t *testing.T) {
	t.Parallel()
	for _, text := range []string{
		"25 min, 2 h", "5..9 25 min, 2 h", "5..9: 2 h", "5..9: 25, 120", "5..9: 25 min, 2 h, 4 h", "5..9: 25 min, 2 h, wet",
		"5..9: 25 min, 2 h, wet 4 h, wet 5 h", "5..9: 0 min, 2 h", "5..9: 25 min, 99999 h", "warm: 25 min, 2 h", "5..9: min, h", "5..9: 25 min, 2 days",
	} {
		rows, err := exchange.ParseCureRows("0..4: 45 min, 7 h\n" + text)
		e, ok := fault.As(err)
		if rows != nil || !ok || len(e.Violations) != 1 || e.Violations[0].Field != "cure_rows" || e.Violations[0].Code != fault.Malformed ||
			e.Violations[0].Values["line"] != "2" || e.Violations[0].Values["text"] != text {
			t.Errorf("ParseCureRows(%q) = %v, %v, want line 2 malformed", text, rows, err)
		}
	}
}

// Whatever is read is written so that it reads the same again, with times that a
// sheet can have.
func FuzzParseCureRows(f *testing.F) {
	f.Add("5..9: 25 min, 2 h, wet 4 h")
	f.Add("-5 to -1 °C: 1.5 h, 14h\n40: 12 min, 1 h 20 min")
	f.Add("5..9: 25, 2")
	f.Fuzz(func(t *testing.T, text string) {
		rows, err := exchange.ParseCureRows(text)
		if err != nil {
			if fault.KindOf(err) != fault.Invalid || rows != nil {
				t.Fatalf("%q: %v, %v", text, rows, err)
			}
			return
		}
		for _, r := range rows {
			if r.WorkMinutes < 1 || r.CureMinutes < 1 || r.CureMinutes > registry.MaxMinutes {
				t.Fatalf("%q: %+v", text, r)
			}
		}
		again, err := exchange.ParseCureRows(exchange.FormatCureRows(rows))
		if d := cmp.Diff(rows, again); err != nil || d != "" {
			t.Fatalf("%q: %v (-first +again):\n%s", text, err, d)
		}
	})
}

package wording_test

import (
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

func TestFaultHasSentenceForEveryCode(t *testing.T) {
	t.Parallel()
	internal := wording.Fault(fault.InternalCode, nil)
	seen := make(map[string]fault.Code)
	for _, code := range fault.Codes() {
		got := wording.Fault(code, nil)
		if code != fault.InternalCode && got == internal {
			t.Errorf("Fault(%q) has no sentence of its own", code)
		}
		if strings.Count(got, ".") < 2 {
			t.Errorf("Fault(%q) = %q, want what is wrong and what to do", code, got)
		}
		if other, ok := seen[got]; ok {
			t.Errorf("Fault(%q) says the same as Fault(%q)", code, other)
		}
		seen[got] = code
	}
}

func TestFaultOfNoCode(t *testing.T) {
	t.Parallel()
	if got, want := wording.Fault("no-such-code", nil), wording.Fault(fault.InternalCode, nil); got != want {
		t.Errorf("Fault(no-such-code) = %q, want %q", got, want)
	}
}

func TestViolation(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name      string
		violation fault.Violation
		want      string
	}{
		{
			"a date as people write it",
			fault.Violation{Field: "done_on", Code: fault.DateAhead, Values: map[string]string{"today": "2026-05-03"}},
			"This lies ahead of today, 3 May 2026. Give a day that has come.",
		},
		{
			"both limits",
			fault.Violation{Field: "lat", Code: fault.OutOfRange, Values: map[string]string{"from": "-90", "to": "90"}},
			"This lies outside what it can be: from -90 to 90. Check the number and its unit.",
		},
		{
			"limits that are days",
			fault.Violation{Field: "as_of", Code: fault.OutOfRange, Values: map[string]string{"from": "1900-01-01", "to": "2076-05-03"}},
			"This lies outside what it can be: from 1 January 1900 to 3 May 2076. Check the date.",
		},
		{
			"one limit",
			fault.Violation{Field: "shank_diameter_mm", Code: fault.OutOfRange, Values: map[string]string{"to": "100 mm"}},
			"This is more than it can be: at most 100 mm. Check the number and its unit.",
		},
		{
			"a closed list",
			fault.Violation{Field: "level", Code: fault.Unknown, Values: map[string]string{"value": "peek", "allowed": "glance, hands-on, full"}},
			"“peek”: There is no such choice. Give one of: glance, hands-on, full.",
		},
		{
			"nothing known beside the code",
			fault.Violation{Field: "level", Code: fault.Unknown},
			"There is no such choice. Give one from the list.",
		},
		{
			"a list that cannot be read",
			fault.Violation{Field: "file", Code: fault.Blank, Values: map[string]string{"why": "empty"}},
			"The file is empty: send a list with its headings and one row per anchor.",
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			if got := wording.Violation(c.violation); got != c.want {
				t.Errorf("Violation(%v) = %q, want %q", c.violation, got, c.want)
			}
		})
	}
}

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
			"before the anchor was set",
			fault.Violation{Field: "done_on", Code: fault.Order, Values: map[string]string{"set_on": "2016-05-12"}},
			"This lies before the anchor was set, on 12 May 2016. Check the date; if it is right, correct when the anchor was set, or record it for the anchor before it.",
		},
		{
			"before the anchor was set, of which a year was written",
			fault.Violation{Field: "done_on", Code: fault.Order, Values: map[string]string{
				"set_on": "2013-01-01", "set_on_from": "2013-01-01", "set_on_to": "2013-12-31", "set_on_words": "2013",
			}},
			"This lies before the anchor was set, in 2013. Check the date; if it is right, correct when the anchor was set, or record it for the anchor before it.",
		},
		{
			"before the anchor was set, of which little was written",
			fault.Violation{Field: "done_on", Code: fault.Order, Values: map[string]string{
				"set_on": "1995-01-01", "set_on_from": "1995-01-01", "set_on_to": "2001-12-31", "set_on_words": "c. 1998",
			}},
			"This lies before the anchor was set, between 1 January 1995 and 31 December 2001 (“c. 1998”). Check the date; if it is right, correct when the anchor was set, or record it for the anchor before it.",
		},
		{
			"after it was removed, of which a month was written",
			fault.Violation{Field: "done_on", Code: fault.Order, Values: map[string]string{
				"removed_on": "2026-05-31", "removed_on_from": "2026-05-01", "removed_on_to": "2026-05-31",
			}},
			"This lies after the anchor was removed, in May 2026. Check the date; if it is right, record it for the anchor that came after it.",
		},
		{
			"after it was removed",
			fault.Violation{Field: "done_on", Code: fault.Order, Values: map[string]string{"removed_on": "2026-05-03"}},
			"This lies after the anchor was removed, on 3 May 2026. Check the date; if it is right, record it for the anchor that came after it.",
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
			"an outline that crosses itself",
			fault.Violation{Field: "outline", Code: fault.CrossesItself, Values: map[string]string{"lon": "-1.995000", "lat": "54.005000"}},
			"The outline crosses or touches itself near longitude -1.995000, latitude 54.005000. Put its corners in order along the border, each once.",
		},
		{
			"an outline over another",
			fault.Violation{Field: "outline", Code: fault.Overlaps, Values: map[string]string{"name": "Near Field"}},
			"The outline covers part of the parcel “Near Field”. Draw the common border the same in both, or correct that parcel first.",
		},
		{
			"a place that ends with an anchor in it",
			fault.Violation{Field: "ended_on", Code: fault.InUse, Values: map[string]string{"standing": "1"}},
			"One anchor still stands here. Record how it came out before this place is ended.",
		},
		{
			"a place that ends with anchors in it",
			fault.Violation{Field: "ended_on", Code: fault.InUse, Values: map[string]string{"standing": "12"}},
			"12 anchors still stand here. Record how each came out before this place is ended.",
		},
		{
			"an anchor where one stands",
			fault.Violation{Field: "position_id", Code: fault.InUse, Values: map[string]string{"occupied": "1"}},
			"An anchor stands at this position already. Record how it came out, then add the one that took its place.",
		},
		{
			"a removal under a later anchor",
			fault.Violation{Field: "retracts_id", Code: fault.InUse, Values: map[string]string{"returns": "1"}},
			"Without this record its anchor would stand in the rock again, where a later one stands. If that is right, record first how the later one came out.",
		},
		{
			"a setter who allowed first use",
			fault.Violation{Field: "set_by_id", Code: fault.SamePerson, Values: map[string]string{"first_use": "x"}},
			"With this, whoever allowed the anchor's first use would be who set it, which the house rules do not allow. " +
				"If it is right, take that first use back before, and let somebody else check the kept sample and allow it.",
		},
		{
			"a landowner with parcels",
			fault.Violation{Field: "ended_on", Code: fault.InUse, Values: map[string]string{"parcels": "2"}},
			"2 parcels are still this landowner's. Give each to another or end it first.",
		},
		{
			"more left than there was",
			fault.Violation{Field: "measured.left_mm", Code: fault.Order, Values: map[string]string{"new_mm": "10"}},
			"More is left than there was when new, 10 mm. Check both measurements; wear only takes away.",
		},
		{
			"a box turned over",
			fault.Violation{Field: "box", Code: fault.Order, Values: map[string]string{"corners": "west,south,east,north"}},
			"The box is turned over. Give west, south, east and north in this order, with west not above east and south not above north.",
		},
		{
			"corners that are missing",
			fault.Violation{Field: "box", Code: fault.TooShort, Values: map[string]string{"least": "4"}},
			"Fewer are given here than are asked for: at least 4. Give the others too.",
		},
		{
			"too many corners",
			fault.Violation{Field: "box", Code: fault.OutOfRange, Values: map[string]string{"to": "4", "of": "items"}},
			"More are given than are taken: at most 4. Leave the others out.",
		},
		{
			"a limit given twice",
			fault.Violation{Field: "limit", Code: fault.Ambiguous, Values: map[string]string{"given": "2"}},
			"This is given 2 times. Give it once.",
		},
		{
			"a character that turns the writing",
			fault.Violation{Field: "name", Code: fault.Malformed, Values: map[string]string{"character": "U+202E"}},
			"This holds U+202E, an unseen character that turns the direction of writing. Take it out, or write the text anew, and send it again.",
		},
		{
			"a broken character",
			fault.Violation{Field: "name", Code: fault.Malformed, Values: map[string]string{"character": "U+FFFD"}},
			"This holds U+FFFD, which stands for a character that was broken on the way. Take it out, or write the text anew, and send it again.",
		},
		{
			"an anchor that was entered as removed",
			fault.Violation{Field: "done_on", Code: fault.Order, Values: map[string]string{"gone_by": "2026-05-03", "removed_words": "REMOVED"}},
			"This anchor was removed, on a day not known: it was entered so on 3 May 2026, as “REMOVED”. " +
				"Give the day this was done if it was before that; otherwise record it for the anchor that came after it.",
		},
		{
			"a climate of which nothing is stated",
			fault.Violation{Field: "preset", Code: fault.Required, Values: map[string]string{"states": "nothing"}},
			"Nothing is stated of the climate here. Give at least one value, such as the distance to the sea, or a preset that fills values in.",
		},
		{
			"a lift by nobody",
			fault.Violation{Field: "person_id", Code: fault.Required, Values: map[string]string{"lifts": "yes"}},
			"A record that lifts what another decided against the anchor names who looked. Give the person.",
		},
		{
			"a lift from afar",
			fault.Violation{Field: "level", Code: fault.Mismatch, Values: map[string]string{"least_level": "hands-on"}},
			"A record that lifts what another decided against the anchor is made no less closely than that one, hands-on. Inspect the anchor again as closely, then record that.",
		},
		{
			"a finding that no answer settles",
			fault.Violation{Field: "rule", Code: fault.NotAllowed, Values: map[string]string{"rule": "not-located"}},
			"No answer settles this. Record an inspection at which it was found, or how it came out.",
		},
		{
			"a mapping of a heading that is not there",
			fault.Violation{Field: "columns.Colour", Code: fault.NoSuchReference, Values: map[string]string{"why": "no-such-heading", "text": "Colour"}},
			"No column of the list is headed “Colour”: write the heading as it stands in the list, or take it out of the mapping file.",
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

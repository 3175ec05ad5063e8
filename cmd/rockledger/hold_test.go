package main

import (
	"strings"
	"testing"
)

// A landowner of an imported list is erased from the command line, unless a hold
// placed there suspends it.
func TestHoldsAndErasingALandowner(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	must(t, "import", list("anchor-list.csv"), "--group", "fell-end", s.app)
	var id string
	if err := s.db.Owner().QueryRow(t.Context(), "SELECT id::text FROM landowner WHERE name = 'Overmoor Estate'").Scan(&id); err != nil {
		t.Fatal(err)
	}
	erase := []string{"landowner", "erase", id, "--group", "fell-end", "--reason", "asked to, invented", s.app}
	added := must(t, "hold", "add", "--group", "fell-end", "--over", "landowner", "--over-id", id, "--reason", "an invented claim", "--until", "2090-05-03", s.app)
	if !strings.Contains(added, "Over a landowner") || !strings.Contains(added, "until 3 May 2090") || !strings.Contains(added, "an invented claim") {
		t.Errorf("hold add printed %q", added)
	}
	if _, err := command(t, erase...); err == nil || !strings.Contains(explain(err), "legal hold") {
		t.Errorf("erased while held: %v", err)
	}
	hold, _, _ := strings.Cut(added, " ")
	if out := must(t, "hold", "lift", hold, "--group", "fell-end", s.app); !strings.Contains(out, "lifted on") {
		t.Errorf("hold lift printed %q", out)
	}
	if out := must(t, "hold", "list", "--group", "fell-end", s.app); strings.Count(out, hold) != 1 || !strings.Contains(out, "lifted on") {
		t.Errorf("hold list printed %q", out)
	}
	if out := must(t, erase...); !strings.Contains(out, "1 name of a parcel") || !strings.Contains(out, "not searched") {
		t.Errorf("landowner erase printed %q", out)
	}
	for _, args := range [][]string{
		{"report", "land", "--group", "fell-end", s.app},
		{"report", "land", "--group", "fell-end", "--format", "csv", s.app},
		{"export", "--group", "fell-end", s.app},
		{"report", "overdue", "--group", "fell-end", "--as-of", "2060-01-01", "--format", "json", s.app},
	} {
		if out := must(t, args...); strings.Contains(out, "Overmoor") || !strings.Contains(out, "name erased on") {
			t.Errorf("%q names the landowner: %v, or not that the name was erased", args[:2], strings.Contains(out, "Overmoor"))
		}
	}
	if out := must(t, "ledger", "verify", "--group", "fell-end", s.app); strings.Contains(out, "row-") {
		t.Errorf("ledger verify printed %q", out)
	}
	for want, args := range map[string][]string{
		"over_id": {"--over", "all", "--over-id", id},
		"--over-id: “Tarn”: This is not written in the form that is asked for": {"--over", "site", "--over-id", "Tarn"},
		"--until": {"--over", "all", "--until", "spring"},
	} {
		args = append(append([]string{"hold", "add", "--group", "fell-end", "--reason", "invented"}, args...), s.app)
		if _, err := command(t, args...); err == nil || !strings.Contains(explain(err), want) {
			t.Errorf("%q: %v, want it to say %q", args, err, want)
		}
	}
}

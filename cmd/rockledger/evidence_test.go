package main

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/wording"
)

func TestEvidence(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	must(t, "import", list("anchor-list.csv"), "--group", "fell-end", s.app)
	var overdue struct {
		Lines []struct {
			AnchorID uuid.UUID `json:"anchor_id"`
		}
	}
	decode(t, must(t, "report", "overdue", "--group", "fell-end", "--format", "json", s.app), &overdue)
	anchor := overdue.Lines[0].AnchorID.String()
	// Two days leave no doubt, in whatever zone the machine and the group are.
	before, soon := time.Now().AddDate(0, 0, -2).Format(time.DateOnly), time.Now().AddDate(0, 0, 2).Format(time.DateOnly)
	args := func(anchor, day string, more ...string) []string {
		return append([]string{"evidence", anchor, "--as-known-on", day, "--group", "fell-end", s.app}, more...)
	}
	out := must(t, args(anchor, before)...)
	for _, want := range []string{wording.EvidenceKnewNothing, "The anchor entered: ", "From then on shown as: ", "Recorded by command line: ", wording.Caution} {
		if !strings.Contains(out, want) {
			t.Errorf("evidence lacks %q:\n%s", want, out)
		}
	}
	var e api.Evidence
	decode(t, must(t, args(anchor, before, "--format", "json")...), &e)
	if e.Known || len(e.Afterwards) == 0 || e.AnchorId.String() != anchor || e.Caution == "" {
		t.Errorf("evidence as JSON: %+v", e)
	}
	for name, args := range map[string][]string{
		"a day ahead":    args(anchor, soon),
		"no such anchor": args(uuid.NewString(), before),
		"no id":          args("rock", before),
		"no such day":    args(anchor, "2026-02-30"),
	} {
		if out, err := command(t, args...); err == nil {
			t.Errorf("%s: printed %q, want an error", name, out)
		}
	}
}

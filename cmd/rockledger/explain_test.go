package main

import (
	"fmt"
	"strings"
	"testing"

	"rockledger/internal/fault"
)

func TestExplainWhatStandsInTheWay(t *testing.T) {
	t.Parallel()
	blocked := fault.New(fault.Conflict, "1 things stand in the way").WithCode(fault.InUse).With("in_the_way", "1")
	blocked.Violations = []fault.Violation{{Field: "anchors", Code: fault.InUse, Values: map[string]string{"what": "corrected", "place": "Low Tor, First, B1", "anchor_id": "an id"}}}
	wrong := fault.New(fault.Invalid, "wrong")
	wrong.Violations = []fault.Violation{{Field: "label", Code: fault.Blank}, {Field: "role", Code: fault.Unknown}}
	for _, c := range []struct {
		name      string
		err       error
		want, not string
	}{
		{"an undo in use", fmt.Errorf("undo import: %w", blocked), "undo import: The import cannot be undone", "cannot be right"},
		{"names the place", blocked, "Low Tor, First, B1: it came from an earlier list", "an id"},
		{"several violations", wrong, "this cannot be right:\n  label: ", "undone"},
		{"another list is being entered", fault.New(fault.Busy, "busy").With("waits_for", "intake"), "Wait until that is done", "busy"},
	} {
		if got := explain(c.err); !strings.Contains(got, c.want) || strings.Contains(got, c.not) {
			t.Errorf("%s: %q, want %q and not %q", c.name, got, c.want, c.not)
		}
	}
}

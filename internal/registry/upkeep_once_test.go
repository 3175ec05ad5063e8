package registry_test

import (
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// What was done stands in a list once, and does not contradict itself.
func TestListsOfUpkeep(t *testing.T) {
	t.Parallel()
	today := calendar.NewDate(2026, 5, 1)
	r := registry.Record{ID: sample.ID(), AnchorID: sample.ID(), DoneOn: calendar.Exactly(today)}
	for _, c := range []struct {
		name  string
		err   error
		field string
		code  fault.Code
	}{
		{"done twice", (&registry.Maintenance{Record: r, Done: []registry.Upkeep{registry.Cleaned, registry.Tightened, registry.Cleaned}}).Validate(today), "done", fault.Duplicate},
		{"renewed and taken", (&registry.Maintenance{Record: r, Done: []registry.Upkeep{registry.FittingRenewed, registry.FittingTaken}}).Validate(today), "done", fault.Mismatch},
		{"taken and added", (&registry.Maintenance{Record: r, Done: []registry.Upkeep{registry.FittingAdded, registry.FittingTaken}}).Validate(today), "", ""},
		{"marked twice alike", (&registry.Marking{Record: r, How: []registry.MarkingHow{registry.MarkedTape, registry.MarkedTape}}).Validate(today), "how", fault.Duplicate},
		{"seen twice", (&registry.Removal{Record: r, Observations: []registry.Observation{registry.Rust, registry.Rust}}).Validate(today), "observations", fault.Duplicate},
	} {
		e, _ := fault.As(c.err)
		switch {
		case c.code == "" && c.err != nil:
			t.Errorf("%s: %v, want it right", c.name, c.err)
		case c.code != "" && (e == nil || len(e.Violations) != 1 || e.Violations[0].Field != c.field || e.Violations[0].Code != c.code):
			t.Errorf("%s: %v, want %s %s", c.name, c.err, c.field, c.code)
		}
	}
}

// A batch typed in wide letters is the batch as printed. Unicode, NFKC: U+FF2C
// is L.
func TestFoldBatchWide(t *testing.T) {
	t.Parallel()
	if got, want := registry.FoldBatch("Ｌ１７０９－a"), registry.FoldBatch("L1709-A"); got != want {
		t.Errorf("FoldBatch of wide letters = %q, want %q", got, want)
	}
}

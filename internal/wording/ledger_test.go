package wording_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestLedgerFaultsHaveSentences(t *testing.T) {
	t.Parallel()
	id := uuid.MustParse("0190f5e4-0000-7000-8000-000000000001")
	told := make(map[string]bool)
	for _, trouble := range registry.LedgerTroubles() {
		got := wording.LedgerFault(registry.LedgerFault{Trouble: trouble, Noun: "first_use", RowID: &id, Entry: 7, Fields: []string{"words"}, Era: 2, Number: 3})
		what, do, both := strings.Cut(got, ". ")
		if !both || !strings.HasSuffix(do, ".") || strings.ContainsAny(got, "{}") {
			t.Errorf("LedgerFault(%s) = %q, want what does not fit and what to do", trouble, got)
		}
		if told[do] || !strings.ContainsAny(what, " ") {
			t.Errorf("LedgerFault(%s) = %q, want advice of its own", trouble, got)
		}
		told[do] = true
	}
}

// A member of an entry that is no column is told in words.
func TestLedgerFaultTellsWhatIsVeiled(t *testing.T) {
	t.Parallel()
	fields := []string{"private", "version"}
	got := wording.LedgerFault(registry.LedgerFault{Trouble: registry.RowChanged, Noun: "person", Fields: fields})
	want := "behind the ledger's back: a name or free text that the ledger binds under a salt, or that salt, version. "
	if !strings.Contains(got, want) || fields[0] != "private" {
		t.Errorf("LedgerFault() = %q, want %q in it, and the fields left alone: %v", got, want, fields)
	}
}

func TestLedgerCheck(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, time.May, 3, 9, 30, 0, 0, time.UTC)
	for _, tt := range []struct {
		check registry.LedgerCheck
		want  string
	}{
		{registry.LedgerCheck{Seals: 2, Entries: 30, Unsealed: 1}, "2 seals, 30 entries, 1 entry waits to be sealed. Everything fits."},
		{registry.LedgerCheck{Asked: "00"}, "The seal asked for is not in the chain"},
		{registry.LedgerCheck{Asked: "00", Found: &registry.Seal{Era: 1, Number: 4, At: at}}, "is in the chain: 1.4 of 3 May 2026 09:30 UTC."},
		{registry.LedgerCheck{Faults: make([]registry.LedgerFault, 1)}, "1 thing does not fit."},
		{registry.LedgerCheck{Faults: make([]registry.LedgerFault, 2), LeftOut: 3}, "5 things do not fit. Of what does not fit the first 2 are listed."},
	} {
		if got := wording.LedgerCheck(tt.check); !strings.Contains(got, tt.want) {
			t.Errorf("LedgerCheck(%+v) = %q, want %q in it", tt.check, got, tt.want)
		}
	}
}

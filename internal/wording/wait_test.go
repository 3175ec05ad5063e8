package wording_test

import (
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// Whoever has to wait for another list is told which and what to do.
func TestFaultSaysWhatIsWaitedFor(t *testing.T) {
	t.Parallel()
	plain := wording.Fault(fault.BusyCode, nil)
	for waitsFor, want := range map[string]string{"intake": "being entered or undone", "reading": "only one is read at a time"} {
		got := wording.Fault(fault.BusyCode, map[string]string{"waits_for": waitsFor})
		if !strings.Contains(got, want) || !strings.Contains(got, "send it again") || got == plain {
			t.Errorf("waits for %s: %q, want %q in it, and what to do", waitsFor, got, want)
		}
	}
}

func TestImportStateOfNothingNew(t *testing.T) {
	t.Parallel()
	if got := wording.ImportStateWords(registry.JobDone, false, 0); got != wording.ImportNothing {
		t.Errorf("done with nothing new: %q, want %q", got, wording.ImportNothing)
	}
	if got := wording.ImportStateWords(registry.JobDone, false, 1); !strings.Contains(got, "has been entered") {
		t.Errorf("done with one row: %q", got)
	}
	if got := wording.ImportStateWords(registry.JobRunning, false, 0); got == wording.ImportNothing {
		t.Errorf("running with nothing new so far: %q", got)
	}
}

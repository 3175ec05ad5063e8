package app_test

import (
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// A correction of what is corrected already is refused and names the one that
// counts, also where several come at once.
func TestCorrectedOnce(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	g := w.gluing(w.positions[0])
	g.BatchText = ""
	if _, _, err := w.RecordGluing(t.Context(), w.who, g); err != nil {
		t.Fatal(err)
	}
	session := func(k int) error {
		right := registry.Gluing{Session: g.Session}
		right.Session.ID, right.Session.Replaces = sample.ID(), &g.Session.ID
		_, _, err := w.RecordGluing(t.Context(), w.who, right)
		return err
	}
	set := g.Installations[0]
	installation := func(int) error {
		right := set
		right.ID, right.Replaces, right.SessionID = sample.ID(), &set.ID, &g.Session.ID
		_, _, err := w.RecordInstallation(t.Context(), w.who, right)
		return err
	}
	for name, correct := range map[string]func(int) error{"session": session, "installation": installation} {
		taken := 0
		for _, err := range atOnce(3, correct) {
			if err == nil {
				taken++
				continue
			}
			violated(t, name, err, "replaces", fault.Duplicate)
			if e, ok := fault.As(err); ok && e.Violations[0].Values["replaced_by"] == "" {
				t.Errorf("%s: %v, want the one that replaces it named", name, err)
			}
		}
		if taken != 1 {
			t.Errorf("%s: %d corrections taken, want one", name, taken)
		}
	}
}

package app_test

import (
	"sync"
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// atOnce runs n calls that all begin together, and returns their errors.
func atOnce(n int, call func(k int) error) []error {
	errs, start := make([]error, n), make(chan struct{})
	var all sync.WaitGroup
	for k := range n {
		all.Add(1)
		go func() {
			defer all.Done()
			<-start
			errs[k] = call(k)
		}()
	}
	close(start)
	all.Wait()
	return errs
}

// A position takes one anchor, also where several are set there at once; who
// comes late is told so like anybody.
func TestOneAnchorAtAPosition(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	for name, set := range map[string]func(registry.Position) error{
		"added": func(p registry.Position) error {
			_, _, err := w.AddAnchor(t.Context(), w.who, registry.Anchor{ID: sample.ID(), PositionID: p.ID})
			return err
		},
		"glued": func(p registry.Position) error {
			g := w.gluing(p)
			g.BatchText = ""
			_, _, err := w.RecordGluing(t.Context(), w.who, g)
			return err
		},
	} {
		p := w.addPosition(t, "C "+name)
		taken := 0
		for _, err := range atOnce(4, func(int) error { return set(p) }) {
			if err == nil {
				taken++
			} else if fault.KindOf(err) != fault.Invalid {
				t.Errorf("%s: %v, want Invalid for who comes late", name, err)
			}
		}
		standing, err := w.store.AnchorsAt(t.Context(), w.who.GroupID, registry.Place{Kind: registry.AtPosition, ID: p.ID})
		if err != nil {
			t.Fatal(err)
		}
		if taken != 1 || len(standing) != 1 {
			t.Errorf("%s: %d taken, %d stand there; want one", name, taken, len(standing))
		}
	}
}

// The same anchor sent several times at once is one anchor, and no conflict.
func TestSameAnchorSentAtOnce(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	n := registry.Anchor{ID: sample.ID(), PositionID: w.positions[0].ID, Form: registry.Staple}
	for _, err := range atOnce(4, func(int) error { _, _, err := w.AddAnchor(t.Context(), w.who, n); return err }) {
		if err != nil {
			t.Errorf("sent at once: %v, want the one stored", err)
		}
	}
}

// A position does not end while an anchor is set there, nor takes one that has
// ended.
func TestPositionEndsWhileAnAnchorIsSet(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	for range 3 {
		p := w.addPosition(t, "D")
		errs := atOnce(2, func(k int) error {
			if k == 0 {
				_, _, err := w.AddAnchor(t.Context(), w.who, registry.Anchor{ID: sample.ID(), PositionID: p.ID})
				return err
			}
			_, err := w.ChangePosition(t.Context(), w.who, p.ID, 1, func(p *registry.Position, _ *[]registry.Stop) error {
				p.EndedOn = firstDay
				return nil
			})
			return err
		})
		if (errs[0] == nil) == (errs[1] == nil) {
			t.Errorf("set: %v, ended: %v; want one of them refused", errs[0], errs[1])
		}
	}
}

// A removal taken back and an anchor set in its place at once leave one anchor.
func TestReturnWhileAnotherIsSet(t *testing.T) {
	t.Parallel()
	w := newWorkshop(t)
	out := registry.Removal{Record: registry.Record{ID: sample.ID(), AnchorID: w.standing.ID, DoneOn: calendar.Exactly(firstDay)}}
	if _, _, err := w.RecordRemoval(t.Context(), w.who, out); err != nil {
		t.Fatal(err)
	}
	errs := atOnce(2, func(k int) error {
		if k == 0 {
			_, _, err := w.AddAnchor(t.Context(), w.who, registry.Anchor{ID: sample.ID(), PositionID: w.standing.PositionID})
			return err
		}
		_, _, err := w.RecordRetraction(t.Context(), w.who, registry.Retraction{
			Record:     registry.Record{ID: sample.ID(), AnchorID: w.standing.ID, DoneOn: calendar.Exactly(firstDay), PersonID: &w.person.ID},
			RetractsID: out.ID, Reason: "entered twice",
		})
		return err
	})
	if (errs[0] == nil) == (errs[1] == nil) {
		t.Errorf("set: %v, returned: %v; want one of them refused", errs[0], errs[1])
	}
}

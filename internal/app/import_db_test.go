package app_test

import (
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// counts are the numbers of an import report.
type counts struct{ Rows, Entered, Duplicates, Blank, Refused, Unchanged int }

func countsOf(r report.Import) counts {
	return counts{r.Rows, r.Entered, r.Duplicates, r.Blank, r.Refused, r.Unchanged}
}

// The sample's numbers are those that its author gave with it.
var (
	sampleFirst = counts{Rows: 338, Entered: 332, Duplicates: 4, Blank: 2}
	sampleAgain = counts{Rows: 338, Unchanged: 332, Duplicates: 4, Blank: 2}
)

func TestImportSample(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	list := h.read(t, "anchor-list.csv")

	dry, err := h.Import(t.Context(), h.who, list, true)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(h.anchors(t, registry.AnchorFilter{})); n != 0 {
		t.Fatalf("a dry run wrote %d anchors", n)
	}
	first, err := h.Import(t.Context(), h.who, list, false)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(sampleFirst, countsOf(first)); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
	dry.ID, dry.DryRun = first.ID, false
	if diff := cmp.Diff(first, dry); diff != "" {
		t.Errorf("the dry run answered otherwise (-import +dry run):\n%s", diff)
	}
	all := h.anchors(t, registry.AnchorFilter{})
	if n := len(all); n != first.Entered+first.Successors {
		t.Errorf("%d anchors, want %d entered and %d successors", n, first.Entered, first.Successors)
	}
	again, err := h.Import(t.Context(), h.who, list, false)
	if err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(sampleAgain, countsOf(again)); diff != "" {
		t.Errorf("counts of the same file again (-want +got):\n%s", diff)
	}
	if again.ID != "" {
		t.Errorf("the same file again made import %s", again.ID)
	}
	if diff := cmp.Diff(all, h.anchors(t, registry.AnchorFilter{})); diff != "" {
		t.Errorf("the same file again changed the anchors:\n%s", diff)
	}
	notWallOfRed(t, h)
}

// notWallOfRed wants at most a tenth of an imported list to be suspect or
// worse and the rest to await the first round, the most urgent first.
func notWallOfRed(t *testing.T, h *house) {
	t.Helper()
	living := 0
	for _, l := range h.anchors(t, registry.AnchorFilter{}) {
		if !l.Anchor.Removed {
			living++
		}
	}
	suspect, err := h.Suspect(t.Context(), h.who, 0)
	if err != nil {
		t.Fatal(err)
	}
	if n := len(suspect.Lines); n == 0 || n > living/10 {
		t.Errorf("%d of %d are suspect or worse, want some and at most a tenth", n, living)
	}
	late, err := h.Overdue(t.Context(), h.who, 0)
	if err != nil {
		t.Fatal(err)
	}
	if late.Overdue != 0 {
		t.Errorf("%d are overdue on the day of entry, want none", late.Overdue)
	}
	if late.FirstRound+len(suspect.Lines) < living {
		t.Errorf("%d await their first round and %d are suspect, want all %d in one of the two", late.FirstRound, len(suspect.Lines), living)
	}
	for i := 1; i < len(late.Lines); i++ {
		a, b := late.Lines[i-1].Assessment, late.Lines[i].Assessment
		if b.Band.Rank() < a.Band.Rank() {
			t.Fatalf("line %d is %q after %q: want the most urgent first", i, b.Band, a.Band)
		}
	}
}

func TestImportOtherLists(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	for _, name := range []string{"cave-list.tsv", "american-list.csv"} {
		r, err := h.Import(t.Context(), h.who, h.read(t, name), false)
		if err != nil {
			t.Fatalf("import %s: %v", name, err)
		}
		if r.Entered == 0 || r.Refused != 0 {
			t.Errorf("%s: %+v, want all entered; refusals %+v", name, countsOf(r), r.Refusals)
		}
	}
}

// Two members who import the same file at once enter it once.
func TestImportAtOnce(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	list := h.read(t, "anchor-list.csv")
	var reports [2]report.Import
	var errs [2]error
	var wg sync.WaitGroup
	for i := range reports {
		wg.Go(func() { reports[i], errs[i] = h.Import(t.Context(), h.who, list, false) })
	}
	wg.Wait()
	for _, err := range errs {
		if err != nil {
			t.Fatal(err)
		}
	}
	got := []counts{countsOf(reports[0]), countsOf(reports[1])}
	if got[0].Entered == 0 {
		got[0], got[1] = got[1], got[0]
	}
	if diff := cmp.Diff([]counts{sampleFirst, sampleAgain}, got); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
}

func TestImportRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	if _, err := h.Import(t.Context(), h.as(registry.RoleRecorder), registry.List{}, false); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a recorder's import: %v, want forbidden", err)
	}
	long := registry.List{Rows: make([]registry.ListRow, 5001)}
	if _, err := h.Import(t.Context(), h.who, long, false); fault.KindOf(err) != fault.TooLarge {
		t.Errorf("import of 5001 rows: %v, want too large", err)
	}
}

// Two groups hold the same list apart.
func TestImportIsOfOneGroup(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	other := h.addGroup(t, "other-anchors")
	const list = "Crag,Route,Bolt,Type\nTarn Edge,Plum Line,B1,wedge anchor\n"
	h.enter(t, list)
	r, err := h.Import(t.Context(), other, parse(t, "small.csv", []byte(list)), false)
	if err != nil || r.Entered != 1 {
		t.Errorf("import into the other group: %+v, %v; want one entered", countsOf(r), err)
	}
	mine := h.anchor(t, "B1").ID
	if _, err := h.AnchorStory(t.Context(), other, mine); fault.KindOf(err) != fault.NotFound {
		t.Errorf("story of another group's anchor: %v, want not found", err)
	}
	if _, err := h.AnchorStory(t.Context(), other, uuid.New()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("story of no anchor: %v, want not found", err)
	}
}

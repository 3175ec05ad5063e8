package app

import (
	"bytes"
	"fmt"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// sightings are inspections of every verdict, with every observation alone and
// in pairs, made here or by a list.
func sightings() []registry.Inspection {
	seen := [][]registry.Observation{nil}
	all := registry.Observations()
	for i, a := range all {
		seen = append(seen, []registry.Observation{a})
		for _, b := range all[:i] {
			seen = append(seen, []registry.Observation{a, b})
		}
	}
	var out []registry.Inspection
	for _, v := range append(registry.Verdicts(), "") {
		for _, o := range seen {
			out = append(out, registry.Inspection{Verdict: v, Observations: o, Level: registry.HandsOn, Ticked: true})
		}
		lost := false
		out = append(out, registry.Inspection{Verdict: v, Found: &lost, Level: registry.Glance, Ticked: true})
	}
	for _, words := range []string{"ok", "rusty as hell", "do not use", "replaced 2019, spins", "out of use"} {
		out = append(out, registry.Inspection{Record: registry.Record{Words: words, Origin: registry.Imported}, Level: registry.Glance})
	}
	return out
}

// seenAnchor is an anchor that was seen, fresh if nobody has allowed its use yet.
func seenAnchor(i registry.Inspection, fresh bool) registry.Facts {
	i.ID, i.DoneOn = newID(), calendar.Exactly(entryDay.AddDays(-1))
	if i.Origin == "" {
		i.Origin = registry.Recorded
	}
	f := registry.Facts{
		Anchor: registry.Anchor{ID: newID(), Form: registry.GlueIn, SetOn: calendar.Exactly(entryDay.AddDays(-2)), EnteredOn: entryDay},
		Site:   registry.Site{Name: "Tarn Edge", Kind: registry.Crag}, Position: registry.Position{Label: "B1"},
	}
	i.AnchorID = f.Anchor.ID
	f.Inspections = []registry.Inspection{i}
	if fresh {
		f.Installations = []registry.Installation{{Record: registry.Record{
			ID: newID(), AnchorID: f.Anchor.ID, DoneOn: f.Anchor.SetOn, Origin: registry.Recorded,
		}}}
	}
	return f
}

// What the export says of an anchor's state is read back to the same, whatever
// was seen and decided, out of use, not in use yet or neither.
func TestStateWordsComeBack(t *testing.T) {
	t.Parallel()
	rules, standings := houserules.Default(), make(map[registry.Standing]int)
	for _, i := range sightings() {
		for _, fresh := range []bool{false, true} {
			f := seenAnchor(i, fresh)
			standing := assess.Anchor(f, rules, entryDay).Standing
			standings[standing]++
			words := stateCell(t, &f, standing)
			in, _ := comingBack(t, f, words)
			in.takeRows(rules)
			if in.report.Unchanged != 1 {
				t.Errorf("%q of %v, %v, found %v, %s: %+v", words, i.Verdict, i.Observations, !i.NotFound(), standing, in.report.Refusals)
			}
			again, row := comingBack(t, f, words)
			again.past = map[uuid.UUID]registry.PastRow{f.Anchor.ID: {Key: row.Key(), Headings: []string{"state"}, Taken: &registry.ListRow{
				Site: row.Site, Label: row.Label, State: registry.StateHangerBent, CheckedOn: calendar.Exactly(entryDay.AddDays(-900)),
			}}}
			again.takeRows(rules)
			if again.report.Unchanged != 1 {
				t.Errorf("%q, listed before: changed %+v, clashing %+v", words, again.report.ChangedCells, again.report.ClashingCells)
			}
		}
	}
	for _, s := range []registry.Standing{registry.StandingOutOfUse, registry.NotInUseYet, registry.StandingSuspect} {
		if standings[s] == 0 {
			t.Errorf("no anchor is %s: %v", s, standings)
		}
	}
}

func stateCell(t *testing.T, f *registry.Facts, standing registry.Standing) string {
	t.Helper()
	var b bytes.Buffer
	w := exchange.NewListWriter(&b, entryDay)
	if err := w.Row(registry.Listed{Anchor: f.Anchor, Standing: standing, SiteKind: registry.Crag, Site: "Tarn Edge", Label: "B1", Seen: f.LastSeen()}); err != nil {
		t.Fatal(err)
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	list := readBack(t, b.String())
	return list.Rows[0].StateWords
}

func readBack(t *testing.T, text string) registry.List {
	t.Helper()
	list, err := exchange.ReadAnchorList("back.csv", []byte(text), exchange.Mapping{}, entryDay)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// comingBack is an intake of one row about an anchor, which has these words.
func comingBack(t *testing.T, f registry.Facts, words string) (*intake, *registry.ListRow) {
	t.Helper()
	list := readBack(t, fmt.Sprintf("site,position,last_inspected,state,id\nTarn Edge,B1,%s,\"%s\",%s\n", f.Inspections[0].DoneOn.From, words, f.Anchor.ID))
	known := registry.Known{Facts: map[uuid.UUID]registry.Facts{f.Anchor.ID: f}}
	return newIntake(list, known, entryDay, entryAt), &list.Rows[0]
}

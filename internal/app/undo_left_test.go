package app_test

import (
	"encoding/csv"
	"io"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// The lists in these tests are invented.

// undo takes an import back, and fails the test if that cannot be.
func (h *house) undo(t *testing.T, r report.Import) {
	t.Helper()
	if err := h.tryUndo(t, r); err != nil {
		t.Fatalf("undo %s: %v, %q", r.FileName, err, refusals(t, err))
	}
}

func (h *house) tryUndo(t *testing.T, r report.Import) error {
	t.Helper()
	_, _, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(r.ID))
	return err
}

// holding are the landowners who hold land, and the parcels that stand, by name.
func (h *house) holding(t *testing.T) (owners, parcels []string) {
	t.Helper()
	all := registry.Page{Limit: 500}
	people, err := h.Landowners(t.Context(), h.who, all)
	if err != nil {
		t.Fatal(err)
	}
	land, err := h.Parcels(t.Context(), h.who, nil, all)
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range people {
		if l.EndedOn.IsZero() {
			owners = append(owners, l.Name)
		}
	}
	for _, p := range land {
		if p.EndedOn.IsZero() {
			parcels = append(parcels, p.Name)
		}
	}
	slices.Sort(owners)
	slices.Sort(parcels)
	return owners, parcels
}

// An undone list is neither exported nor the one whose headings are asked for,
// and the landowners whom it alone brought are gone from the report.
func TestUndoLeavesNothing(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, list(line("B1")), false)
	const other = "Venue,Bolt label,Landowner\nGill Edge,G1,Hill Farm\nGill Edge,G2,Moor Farm\n"
	for range 2 { // it enters again, and is undone again
		r := h.take(t, other, false)
		if owners, _ := h.holding(t); r.Entered != 2 || !slices.Equal(owners, []string{"Hill Farm", "Moor Farm"}) {
			t.Fatalf("entered %d, landowners %q", r.Entered, owners)
		}
		h.undo(t, r)
		owners, parcels := h.holding(t)
		if want := []string{"Moor Farm"}; !slices.Equal(owners, want) || !slices.Equal(parcels, want) {
			t.Errorf("landowners %q and parcels %q are left, want Moor Farm's alone", owners, parcels)
		}
	}
	land, err := h.Land(t.Context(), h.who, nil, 0, 0, false)
	if err != nil || len(land.Owners) != 1 || land.Owners[0].Name != "Moor Farm" {
		t.Errorf("the land report is about %+v, %v", land.Owners, err)
	}
	own := h.export(t, h.who, registry.ListAsk{Own: true})
	if !strings.HasPrefix(own, heads) || strings.Contains(own+h.export(t, h.who, registry.ListAsk{}), "Gill Edge") {
		t.Errorf("the own list is\n%s", own)
	}
	if got, err := h.VerifyLedger(t.Context(), h.who, ""); err != nil || len(got.Faults) > 0 {
		t.Errorf("the ledger: %+v, %v", got.Faults, err)
	}
}

// A landowner with whom something was agreed since stays.
func TestUndoLeavesLandInUse(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	r := h.take(t, "Venue,Bolt label,Landowner\nGill Edge,G1,Hill Farm\nGill Edge,G2,Moor Farm\n", false)
	owners, err := h.Landowners(t.Context(), h.who, registry.Page{Limit: 9})
	if err != nil {
		t.Fatal(err)
	}
	hill := slices.IndexFunc(owners, func(l registry.Landowner) bool { return l.Name == "Hill Farm" })
	_, _, err = h.AddAgreement(t.Context(), h.who, registry.Agreement{
		Kind: registry.Permission, LandownerID: &owners[hill].ID, Issuer: "Hill Farm", From: firstDay,
	})
	if err != nil {
		t.Fatal(err)
	}
	h.undo(t, r)
	left, parcels := h.holding(t)
	if !slices.Equal(left, []string{"Hill Farm"}) || len(parcels) != 0 {
		t.Errorf("landowners %q, parcels %q, want the one of the agreement", left, parcels)
	}
}

// After the only list is undone there is none whose headings could be taken.
func TestUndoLeavesNoHeadings(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.undo(t, h.take(t, list(line("B1")), false))
	err := h.ExportAnchorList(t.Context(), h.who, registry.ListAsk{Own: true}, exchange.NewListWriter(io.Discard, firstDay))
	f, _ := fault.As(err)
	if fault.KindOf(err) != fault.NotFound || !strings.Contains(wording.Fault(f.Code, f.Values), "No list was taken over") {
		t.Errorf("own headings: %v, want not found, and said why", err)
	}
}

// rowsOf are the rows of an exported list, by what stands under a heading, and of
// those the cells under others.
func rowsOf(t *testing.T, text, by string, of ...string) map[string][]string {
	t.Helper()
	in := csv.NewReader(strings.NewReader(text))
	all, err := in.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := make(map[string][]string)
	for _, row := range all[1:] {
		var cells []string
		for _, h := range of {
			cells = append(cells, row[slices.Index(all[0], h)])
		}
		at := row[slices.Index(all[0], by)]
		out[at] = append(out[at], strings.Join(cells, "|"))
	}
	return out
}

// Of a cave each row has its own coordinates, also that of an anchor which came
// instead of one replaced.
func TestExportCaveCoordinates(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, "Cave,Pitch,Bolt no,Lat,Lon,State\nMarrow Cave,One,P1,54.2001,-2.3002,replaced 2019\n"+
		"Marrow Cave,One,P2,54.2003,-2.3004,\nMarrow Cave,One,P3,,,\n", false)
	want := map[string][]string{"P1": {"54.2001|-2.3002", "54.2001|-2.3002"}, "P2": {"54.2003|-2.3004"}, "P3": {"|"}}
	if d := cmp.Diff(want, rowsOf(t, h.export(t, h.who, registry.ListAsk{}), "position", "lat", "lon")); d != "" {
		t.Errorf("our headings (-want +got):\n%s", d)
	}
	if d := cmp.Diff(want, rowsOf(t, h.export(t, h.who, registry.ListAsk{Own: true}), "Bolt no", "Lat", "Lon")); d != "" {
		t.Errorf("own headings (-want +got):\n%s", d)
	}
}

// The headings of a list of one site that knows no sectors serve the whole
// group: what it takes to place an anchor is added.
func TestExportOwnPlacesAll(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, "Crag,Sector,Route,Bolt\nTarn Edge,Left Wall,Plum Line,B1\nTarn Edge,,,B2\n", false)
	h.take(t, "Crag,Bolt,Steel\nGill Edge,G1,1.4404\n", false)
	text := h.export(t, h.who, registry.ListAsk{Own: true})
	if want := "Crag,Bolt,Steel,sector,route,id,caution\n"; !strings.HasPrefix(text, want) {
		t.Errorf("headings of %q, want %q", text, want)
	}
	if r := h.take(t, text, false); r.Unchanged != 3 {
		t.Errorf("taken over again: %+v, want all three unchanged", r)
	}
}

// Notes come back line by line, under whichever headings.
func TestExportKeepsLinesOfNotes(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.take(t, "Crag,Bolt,Notes\nTarn Edge,B1,\"line one\nline two\"\n", false)
	h.take(t, "Crag,Bolt,Notes\nTarn Edge,B2,dry\n", false)
	for _, own := range []bool{false, true} {
		text := h.export(t, h.who, registry.ListAsk{Own: own})
		if !strings.Contains(text, "\"line one\nline two\"") {
			t.Errorf("own %v:\n%s", own, text)
		}
		if r := h.take(t, text, false); r.Unchanged != 2 {
			t.Errorf("own %v, taken over again: %+v, want both unchanged", own, r)
		}
	}
}

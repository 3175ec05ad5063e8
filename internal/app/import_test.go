package app

import (
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

func TestImportCountsEachRowOnce(t *testing.T) {
	t.Parallel()
	list := listOf(
		row(3, "B1", nil),
		row(4, " b1 ", func(r *registry.ListRow) { r.Notes = "the same spot, other cells" }),
		registry.ListRow{Line: 5, Blank: true},
		row(6, "B1", nil),
		row(7, "B2", func(r *registry.ListRow) { r.Site = "  " }),
		row(8, "B3", nil),
	)
	c, r := takeOver(t, list, registry.Known{})
	want := counts{Rows: 6, Entered: 2, Duplicates: 1, Blank: 1, Refused: 2}
	if diff := cmp.Diff(want, countsOf(r)); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
	refusals := []registry.Doubt{
		{Line: 4, Column: "Bolt", Text: " b1 ", Code: registry.RefusedSpotRepeated, Values: registry.Values{{Name: "line", Text: "3"}}},
		{Line: 7, Text: "  ", Code: registry.RefusedSiteNotNamed},
	}
	if diff := cmp.Diff(refusals, r.Refusals); diff != "" {
		t.Errorf("refusals (-want +got):\n%s", diff)
	}
	if diff := cmp.Diff([]report.Repeat{{Line: 6, Of: 3}}, r.DuplicateRows); diff != "" {
		t.Errorf("duplicates (-want +got):\n%s", diff)
	}
	if len(c.Anchors) != 2 || len(c.ImportRows) != 2 {
		t.Errorf("%d anchors and %d import rows written, want 2 and 2", len(c.Anchors), len(c.ImportRows))
	}
}

func TestImportAgain(t *testing.T) {
	t.Parallel()
	first, _ := takeOver(t, listOf(row(3, "B1", nil), row(4, "B2", nil)), registry.Known{})
	known := after(registry.Known{}, first)
	for id, past := range known.Past {
		past.Taken = nil // as before it was kept
		known.Past[id] = past
	}
	changed := row(4, "B2", func(r *registry.ListRow) { r.Notes = "other cells" })
	c, r := takeOver(t, listOf(row(3, "B1", nil), changed), known)
	if diff := cmp.Diff(counts{Rows: 2, Unchanged: 1, Refused: 1}, countsOf(r)); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
	if got := r.Refusals[0].Code; got != registry.RefusedDiffers {
		t.Errorf("refusal = %q, want %q", got, registry.RefusedDiffers)
	}
	if c.Import != nil || r.ID != "" {
		t.Errorf("import row %v, id %q: want none, for nothing was entered", c.Import, r.ID)
	}
	if diff := cmp.Diff(registry.Change{}, c); diff != "" {
		t.Errorf("change (-want +got):\n%s", diff)
	}
}

func TestImportRefusesPositionFromNoList(t *testing.T) {
	t.Parallel()
	first, _ := takeOver(t, listOf(row(3, "B1", nil)), registry.Known{})
	known := after(registry.Known{}, first)
	known.Rows = nil // as if a person had recorded it
	_, r := takeOver(t, listOf(row(3, "b1", nil), row(4, "B2", nil)), known)
	if diff := cmp.Diff(counts{Rows: 2, Entered: 1, Refused: 1}, countsOf(r)); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
	if got := r.Refusals[0].Code; got != registry.RefusedPositionTaken {
		t.Errorf("refusal = %q, want %q", got, registry.RefusedPositionTaken)
	}
}

func TestImportRefusesWhatCannotBeStored(t *testing.T) {
	t.Parallel()
	thick := 300 * quantity.Millimetre
	_, r := takeOver(t, listOf(
		row(3, "B1", func(r *registry.ListRow) { r.Shank = &thick }),
		row(4, "", nil),
		row(5, "B3", func(r *registry.ListRow) { r.Hole = &thick }),
	), registry.Known{})
	var got []string
	for _, d := range r.Refusals {
		got = append(got, d.Code+" "+d.Values.Text("field")+" "+d.Values.Text("code"))
	}
	want := []string{
		registry.RefusedInvalid + " anchor.shank_diameter_mm out-of-range",
		registry.RefusedInvalid + " position.label blank",
		registry.RefusedInvalid + " hole_diameter_mm out-of-range",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("refusals (-want +got):\n%s", diff)
	}
}

func TestImportColumns(t *testing.T) {
	t.Parallel()
	list := registry.List{
		Headings: []string{"Bolt", "Size", "Grade?", "Bolt"},
		Columns:  map[string]string{"position": "Bolt", "diameter": "Size", "length": "Size"},
	}
	want := []report.Column{
		{Heading: "Bolt", Field: "position"},
		{Heading: "Size", Field: "diameter"},
		{Heading: "Size", Field: "length"},
		{Heading: "Grade?"},
		{Heading: "Bolt"},
	}
	if diff := cmp.Diff(want, columns(list)); diff != "" {
		t.Errorf("columns (-want +got):\n%s", diff)
	}
}

func TestImportReportIsKept(t *testing.T) {
	t.Parallel()
	c, r := takeOver(t, listOf(row(3, "B1", nil)), registry.Known{})
	var kept report.Import
	if err := json.Unmarshal(c.Import.Report, &kept); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(r, kept); diff != "" {
		t.Errorf("kept report (-want +got):\n%s", diff)
	}
	if r.ID != c.Import.ID.String() {
		t.Errorf("id = %q, want %v", r.ID, c.Import.ID)
	}
}

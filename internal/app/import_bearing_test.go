package app_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// bearing is a list of two sites, of which the register knows the first, and of
// two adhesives, of which it knows the first.
const bearing = "Crag,Route,Bolt,Type,Steel,Fitted,Resin,Batch,State\n" +
	"Gull Cliff,Known Corner,K1,glue-in,316,2004,,,\n" +
	"Fell Head,New Corner,N1,glue-in,316,2004,Invented resin,L1,\n" +
	"Fell Head,New Corner,N2,glue-in,316,2004,Other invented resin,L2,\n" +
	"Fell Head,New Corner,N3,wedge anchor,BZP,1991,,,replaced 2015\n"

// What was said of a place, a resin or a batch before a list came in bears on
// the list's anchors at once: nothing is found only when they are assessed again.
func TestImportHeedsWhatIsKnown(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	site := add(t, h, registry.Site{Name: "Gull Cliff", Kind: registry.Crag}, h.AddSite)
	add(t, h, registry.Environment{Place: place(registry.AtSite, site.ID), From: firstDay - 10, Preset: registry.PresetSeaCliff}, h.AddEnvironment)
	add(t, h, registry.Event{SiteID: site.ID, Kind: registry.Rockfall, HappenedOn: firstDay - 5, InspectBy: firstDay + 3}, h.AddEvent)
	resin := add(t, h, registry.Product{Kind: registry.Adhesive, Name: "Invented resin"}, h.AddProduct)
	months := 12
	add(t, h, registry.ProductVersion{ProductID: resin.ID, From: firstDay - 9000, Source: "invented sheet", ShelfMonths: &months}, h.AddProductVersion)
	add(t, h, registry.Batch{ProductID: &resin.ID, Text: "L1", ExpiresOn: firstDay - 9000}, h.AddBatch)
	add(t, h, registry.Notice{
		Title: "Invented recall", IssuedOn: firstDay, InspectBy: firstDay + 30, Criterion: registry.NoticeCriterion{ProductIDs: []uuid.UUID{resin.ID}},
	}, h.AddNotice)
	h.enter(t, bearing)

	at := h.stored(t)
	for label, want := range map[string][]string{
		"K1": {"due " + (firstDay + 3).String(), "stress-corrosion"}, "N1": {"notice-hit-sure"}, "N2": {"no-problem-on-record"},
	} {
		for _, part := range want {
			if !strings.Contains(at[label], part) {
				t.Errorf("%s is stored as %q, want %q among it", label, at[label], part)
			}
		}
	}
	h.queueAll(t)
	if err := h.Refresh(t.Context()); err != nil {
		t.Fatal(err)
	}
	if diff := cmp.Diff(at, h.stored(t)); diff != "" {
		t.Errorf("assessed again with nothing new (-at once +again):\n%s", diff)
	}
}

// stored is what is stored of each anchor's assessment, by label: an anchor's
// story would show what it comes to now. Of several at a position it is all.
func (h *house) stored(t *testing.T) map[string]string {
	t.Helper()
	rows, err := h.db.Owner().Query(t.Context(), `
SELECT p.label, string_agg('due ' || COALESCE(x.due_on::text, '-') || ' ' || x.standing || COALESCE(' ' || x.valid_until, '') || ' ' || x.band_reason || f.all, ' ' ORDER BY a.id)
FROM anchor AS a
JOIN position AS p ON p.id = a.position_id
LEFT JOIN assessment AS x ON x.anchor_id = a.id
CROSS JOIN LATERAL (
  SELECT COALESCE(string_agg(' ' || f.rule || f.values, '' ORDER BY f.rank), '') AS all
  FROM assessment_finding AS f
  WHERE f.anchor_id = a.id) AS f
GROUP BY p.label`)
	if err != nil {
		t.Fatal(err)
	}
	out := make(map[string]string)
	var label, text string
	if _, err := pgx.ForEachRow(rows, []any{&label, &text}, func() error { out[label] = text; return nil }); err != nil {
		t.Fatal(err)
	}
	return out
}

// queueAll has every anchor assessed anew.
func (h *house) queueAll(t *testing.T) {
	t.Helper()
	const queue = `INSERT INTO assessment_due (group_id, anchor_id) SELECT group_id, id FROM anchor ON CONFLICT DO NOTHING`
	if _, err := h.db.Owner().Exec(t.Context(), queue); err != nil {
		t.Fatal(err)
	}
}

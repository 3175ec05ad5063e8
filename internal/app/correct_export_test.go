package app_test

import (
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// A list given back, its columns and rows in any order, changes nothing when it
// is taken in again, after corrections in the register neither.
func TestExportTakenInAgain(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"anchor-list.csv", "cave-list.tsv", "american-list.csv"} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			h := newHouse(t)
			if _, err := h.Import(t.Context(), h.who, h.read(t, name), false); err != nil {
				t.Fatal(err)
			}
			a, mm := h.anchors(t, registry.AnchorFilter{})[0].Anchor, 13*quantity.Millimetre
			_, err := h.ChangeAnchor(t.Context(), h.who, a.ID, a.Version, func(a *registry.Anchor) error { a.Shank = &mm; return nil })
			if err != nil {
				t.Fatal(err)
			}
			given := []registry.List{
				parse(t, name, []byte(h.export(t, h.who, registry.ListAsk{Own: true}))),
				parse(t, name, []byte(h.export(t, h.who, registry.ListAsk{}))),
			}
			ctx := t.Context()
			rapid.Check(t, func(t *rapid.T) {
				l := rapid.SampledFrom(given).Draw(t, "list")
				l.Rows = rapid.Permutation(l.Rows).Draw(t, "rows")
				order := rapid.Permutation(upTo(len(l.Headings))).Draw(t, "columns")
				headings := l.Headings
				l.Headings = pick(headings, order)
				for i := range l.Rows {
					cells := append(append([]string{}, l.Rows[i].Cells...), make([]string, len(headings))...)
					l.Rows[i].Cells = pick(cells, order)
				}
				r, err := h.Import(ctx, h.who, l, true)
				if err != nil || r.Unchanged != r.Rows {
					t.Fatalf("taken in again: %d rows, %d unchanged, changed %+v, clashing %+v, refused %+v, %v",
						r.Rows, r.Unchanged, r.ChangedCells, r.ClashingCells, r.Refusals, err)
				}
			})
		})
	}
}

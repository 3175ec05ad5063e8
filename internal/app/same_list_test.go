package app_test

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/demo"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// sheetOf reads an exported list into its headings and rows.
func sheetOf(t *testing.T, text string) [][]string {
	t.Helper()
	r := csv.NewReader(strings.NewReader(text))
	if first, _, _ := strings.Cut(text, "\n"); strings.Contains(first, ";") {
		r.Comma = ';'
	}
	rows, err := r.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	return rows
}

// reshaped writes a sheet with its rows and columns in another order and, where
// some may be left out, without those.
func reshaped(t *testing.T, rows [][]string, rng *rand.Rand, droppable func(heading string) bool) string {
	t.Helper()
	var columns []int
	for at, h := range rows[0] {
		if droppable == nil || !droppable(h) || rng.IntN(2) == 0 {
			columns = append(columns, at)
		}
	}
	rng.Shuffle(len(columns), func(i, j int) { columns[i], columns[j] = columns[j], columns[i] })
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	for n, at := range append([]int{0}, rng.Perm(len(rows)-1)...) {
		if n > 0 {
			at++
		}
		if err := w.Write(pick(rows[at], columns)); err != nil {
			t.Fatal(err)
		}
	}
	w.Flush()
	return b.String()
}

// sayNothing wants a list to be taken in without a change, a clash or a refusal.
func sayNothing(t *testing.T, h *house, what, text string, dry bool) {
	t.Helper()
	r, err := h.Import(t.Context(), h.who, parse(t, "back.csv", []byte(text)), dry)
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	if r.Unchanged != r.Rows {
		head, _, _ := strings.Cut(text, "\n")
		t.Errorf("%s: %d rows, %d unchanged under %q\nchanged %+v\nclashing %+v\nrefused %+v", what, r.Rows, r.Unchanged, head,
			firstFew(r.ChangedCells), firstFew(r.ClashingCells), firstFew(r.Refusals))
	}
}

func firstFew[T any](list []T) []T { return list[:min(len(list), 6)] }

// written counts what the ledger holds, by noun, but for the lists themselves.
func (h *house) written(t *testing.T) map[string]int {
	t.Helper()
	rows, err := h.db.Owner().Query(t.Context(), `SELECT noun, count(*) FROM ledger WHERE noun NOT LIKE 'import%' AND noun NOT LIKE 'ledger%' GROUP BY noun`)
	if err != nil {
		t.Fatal(err)
	}
	out := make(map[string]int)
	var noun string
	var n int
	if _, err := pgx.ForEachRow(rows, []any{&noun, &n}, func() error { out[noun] = n; return nil }); err != nil {
		t.Fatal(err)
	}
	return out
}

// givenBack exports the register under either headings and takes the list in
// again, in any order, with columns left out, and as it is.
func givenBack(t *testing.T, h *house, rng *rand.Rand) {
	t.Helper()
	for _, own := range []bool{false, true} {
		text := h.export(t, h.who, registry.ListAsk{Own: own})
		rows := sheetOf(t, text)
		what := fmt.Sprintf("own headings %v", own)
		sayNothing(t, h, what, text, true)
		sayNothing(t, h, what+", shuffled", reshaped(t, rows, rng, nil), true)
		if own {
			continue // with columns left out, what stays may be taken for something else
		}
		keep := []string{"site", "position", "id", "caution"}
		sayNothing(t, h, what+", of the place alone", reshaped(t, rows, rand.New(rand.NewPCG(0, 0)), func(h string) bool {
			return !slices.Contains(append(keep, "sector", "route"), h)
		}), true)
		for range 4 {
			sayNothing(t, h, what+", columns left out", reshaped(t, rows, rng, func(h string) bool { return !slices.Contains(keep, h) }), true)
		}
	}
}

// What the register gives out changes nothing when it is taken in again, and no
// older list undoes what a person changed since.
func TestGivenBackUnchanged(t *testing.T) {
	t.Parallel()
	h, rng := newHouse(t), rand.New(rand.NewPCG(7, 11))
	if err := demo.Fill(t.Context(), h.Service, h.who, h.now()); err != nil {
		t.Fatal(err)
	}
	sample := h.read(t, "anchor-list.csv")
	if _, err := h.Import(t.Context(), h.who, sample, false); err != nil {
		t.Fatal(err)
	}
	givenBack(t, h, rng)
	changeAll(t, h, rng)
	givenBack(t, h, rng)
	before, register := h.written(t), h.export(t, h.who, registry.ListAsk{})
	for _, own := range []bool{false, true} {
		sayNothing(t, h, "entered", h.export(t, h.who, registry.ListAsk{Own: own}), false)
		again, err := h.Import(t.Context(), h.who, sample, false)
		if err != nil || again.Changed+again.Entered != 0 {
			t.Errorf("the first list once more: %+v, %v", again.ChangedCells, err)
		}
		if d := cmp.Diff(before, h.written(t)); d != "" {
			t.Errorf("own headings %v: something was written (-before +after):\n%s", own, d)
		}
		if d := cmp.Diff(register, h.export(t, h.who, registry.ListAsk{})); d != "" {
			t.Errorf("own headings %v: the register says something else (-before +after):\n%s", own, d)
		}
	}
}

// changeAll lets persons record and correct something of most anchors.
func changeAll(t *testing.T, h *house, rng *rand.Rand) {
	t.Helper()
	for n, l := range h.anchors(t, registry.AnchorFilter{}) {
		if l.Anchor.Removed || n%3 == 0 {
			continue
		}
		changes := []func(*testing.T, *house, *rand.Rand, registry.AnchorLine){look, look, edit, edit, takeBack, remove, relocate, resetBy, hang}
		changes[rng.IntN(len(changes))](t, h, rng, l)
	}
	sites, err := h.Sites(t.Context(), h.who, registry.Page{Limit: 100})
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range sites {
		if s.Name != "Quillon Edge" {
			continue
		}
		if _, err := h.ChangeSite(t.Context(), h.who, s.ID, s.Version, func(s *registry.Site) error { s.Name = "Quillon Rim"; return nil }); err != nil {
			t.Fatal(err)
		}
	}
}

// hang adds a hanger, or says that it is missing.
func hang(t *testing.T, h *house, rng *rand.Rand, l registry.AnchorLine) {
	t.Helper()
	f := registry.Fitting{
		ID: uuid.Must(uuid.NewV7()), AnchorID: l.Anchor.ID, Kind: registry.Hanger,
		Presence: []registry.Presence{registry.Present, registry.Missing}[rng.IntN(2)],
	}
	if _, _, err := h.AddFitting(t.Context(), h.who, f); err != nil {
		t.Logf("fitting of %s: %v", l.Label, err)
	}
}

func look(t *testing.T, h *house, rng *rand.Rand, l registry.AnchorLine) {
	t.Helper()
	seen := registry.SeenObservations()
	i := inspected(l.Anchor.ID, firstDay.AddDays(-rng.IntN(3)), func(i *registry.Inspection) {
		i.Verdict = registry.Verdicts()[rng.IntN(4)]
		for range rng.IntN(3) {
			if o := seen[rng.IntN(len(seen))]; !slices.Contains(i.Observations, o) {
				i.Observations = append(i.Observations, o)
			}
		}
		if found := false; rng.IntN(6) == 0 {
			i.Found, i.Verdict, i.Level, i.Observations = &found, "", registry.Glance, nil
		}
	})
	if _, _, err := h.RecordInspection(t.Context(), h.who, i); err != nil {
		t.Logf("inspection of %s: %v", l.Label, err)
	}
}

func edit(t *testing.T, h *house, rng *rand.Rand, l registry.AnchorLine) {
	t.Helper()
	forms := []registry.Form{"", registry.Staple, registry.ThroughBolt, registry.TwistedLeg, registry.Piton, registry.ConcreteScrew}
	metals := []metal.Set{nil, {"1.4404"}, {"1.4401", "1.4404"}, {"1.4571"}}
	sizes := []*quantity.Length{nil, new(quantity.Length(10)), new(quantity.Length(9.525)), new(quantity.Length(123.456789012))}
	notes := []string{"", "=wet", "two  spaces; and, commas", "bird ban Mar-Jul", "line\nbreak"}
	_, err := h.ChangeAnchor(t.Context(), h.who, l.Anchor.ID, l.Anchor.Version, func(a *registry.Anchor) error {
		switch rng.IntN(6) {
		case 0:
			a.Form = forms[rng.IntN(len(forms))]
		case 1:
			a.Metal = metals[rng.IntN(len(metals))]
		case 2:
			a.Shank = sizes[rng.IntN(3)]
		case 3:
			a.Length = sizes[rng.IntN(4)]
		case 4:
			a.Notes = notes[rng.IntN(len(notes))]
		case 5:
			a.SetOn = calendar.Span{From: calendar.NewDate(1990, 5, 1), To: calendar.NewDate(1990, 5, 31), Words: "May 1990"}
		}
		return nil
	})
	if err != nil {
		t.Logf("change of %s: %v", l.Label, err)
	}
}

func takeBack(t *testing.T, h *house, _ *rand.Rand, l registry.AnchorLine) {
	t.Helper()
	s, err := h.AnchorStory(t.Context(), h.who, l.Anchor.ID)
	if err != nil {
		t.Fatal(err)
	}
	if list := s.Facts.Current().Inspections; len(list) > 0 {
		retract(t, h, l.Anchor.ID, list[len(list)-1].ID)
	}
}

func remove(t *testing.T, h *house, _ *rand.Rand, l registry.AnchorLine) {
	t.Helper()
	r := registry.Removal{Record: registry.Record{ID: uuid.Must(uuid.NewV7()), AnchorID: l.Anchor.ID, DoneOn: calendar.Exactly(firstDay)}}
	if _, _, err := h.RecordRemoval(t.Context(), h.who, r); err != nil {
		t.Logf("removal of %s: %v", l.Label, err)
	}
}

func relocate(t *testing.T, h *house, rng *rand.Rand, l registry.AnchorLine) {
	t.Helper()
	story, err := h.AnchorStory(t.Context(), h.who, l.Anchor.ID)
	if err != nil {
		t.Fatal(err)
	}
	at := story.Facts.Position
	lat, lon := 54.2+rng.Float64()/1000, -2.3-rng.Float64()/1000
	_, err = h.ChangePosition(t.Context(), h.who, at.ID, at.Version, func(p *registry.Position, _ *[]registry.Stop) error {
		switch rng.IntN(3) {
		case 0:
			p.Role = registry.Belay
		case 1:
			p.Label += " new"
		case 2:
			if story.Facts.Site.Kind != registry.Cave {
				p.Lat, p.Lon = &lat, &lon
			}
		}
		return nil
	})
	if err != nil {
		t.Logf("change of the place of %s: %v", l.Label, err)
	}
}

// resetBy corrects the record of setting, or makes one.
func resetBy(t *testing.T, h *house, rng *rand.Rand, l registry.AnchorLine) {
	t.Helper()
	story, err := h.AnchorStory(t.Context(), h.who, l.Anchor.ID)
	if err != nil {
		t.Fatal(err)
	}
	mm := []quantity.Length{12, 14, 9.525}[rng.IntN(3)]
	i := registry.Installation{
		Record:       registry.Record{ID: uuid.Must(uuid.NewV7()), AnchorID: l.Anchor.ID, DoneOn: calendar.Exactly(firstDay.AddDays(-1))},
		HoleDiameter: &mm,
	}
	setter, _, err := h.AddPerson(t.Context(), h.who, registry.Person{Name: "Bo Y. " + i.ID.String()})
	if err != nil {
		t.Fatal(err)
	}
	i.Words, i.PersonID = "measured again", &setter.ID
	if old := story.Facts.Setting(); old != nil {
		i.Replaces, i.AdhesiveID = &old.ID, old.AdhesiveID
	}
	if _, _, err := h.RecordInstallation(t.Context(), h.who, i); err != nil {
		t.Logf("installation of %s: %v", l.Label, err)
	}
}

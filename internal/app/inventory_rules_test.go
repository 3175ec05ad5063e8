package app_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

func TestRereadMetal(t *testing.T) {
	t.Parallel()
	exact := metal.NewSet("1.4404")
	for _, c := range []struct {
		name  string
		known metal.Set
		words string
		want  metal.Set
	}{
		{"nothing known, nothing said", nil, "", nil},
		{"read from the words", nil, "316L", exact},
		{"words that cannot be read", nil, "what was left in the van", nil},
		{"they take nothing away either", exact, "what was left in the van", exact},
		{"less exact words that go with it", exact, "A4", exact},
		{"other words", exact, "1.4301", metal.NewSet("1.4301")},
		{"said to be not known", exact, "n/k", nil},
		{"cleared words", exact, "", exact},
	} {
		if got := app.RereadMetal(c.known, c.words); !got.Equal(c.want) {
			t.Errorf("%s: RereadMetal(%v, %q) = %v, want %v", c.name, c.known, c.words, got, c.want)
		}
	}
}

func TestMetalOfNewAnchors(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	site := add(t, h, registry.Site{Name: "Tarn Edge", Kind: registry.Crag}, h.AddSite)
	product := add(t, h, registry.Product{Kind: registry.Hardware, Name: "Invented Eye", Form: registry.SingleShank, Metal: metal.NewSet("1.4462")}, h.AddProduct)
	added := func(label string, n registry.Anchor) registry.Anchor {
		p, _, err := h.AddPosition(t.Context(), h.who, registry.Position{SiteID: site.ID, Label: label}, nil)
		if err != nil {
			t.Fatal(err)
		}
		n.ID, n.PositionID = uuid.Must(uuid.NewV7()), p.ID
		stored := add(t, h, n, h.AddAnchor)
		if again, created, err := h.AddAnchor(t.Context(), h.who, n); err != nil || created || !cmp.Equal(again, stored) {
			t.Errorf("%s: the same again = %+v, %v, %v; want the stored one", label, again, created, err)
		}
		return stored
	}
	if a := added("B1", registry.Anchor{MetalWords: "316L"}); !a.Metal.Equal(metal.NewSet("1.4404")) || a.MetalWords != "316L" {
		t.Errorf("metal in words: %+v, want it read", a)
	}
	if a := added("B2", registry.Anchor{MetalWords: "shiny"}); a.Metal.Known() || a.MetalWords != "shiny" {
		t.Errorf("metal in words that cannot be read: %+v, want it not known", a)
	}
	if a := added("B3", registry.Anchor{ProductID: &product.ID}); !a.Metal.Equal(product.Metal) || a.Form != product.Form {
		t.Errorf("with a product: %+v, want its metal and form", a)
	}
	if a := added("B4", registry.Anchor{ProductID: &product.ID, MetalWords: "A4", Form: registry.Staple}); a.Metal.Contains("1.4462") || !a.Metal.Known() || a.Form != registry.Staple {
		t.Errorf("with a product and its own: %+v, want its own", a)
	}
	ring := registry.Fitting{AnchorID: h.anchor(t, "B1").ID, Kind: registry.Ring, Presence: registry.Present, MetalWords: "titanium gr2"}
	if f := add(t, h, ring, h.AddFitting); !f.Metal.Equal(metal.NewSet(metal.Titanium2)) {
		t.Errorf("fitting: %+v, want its metal read", f)
	}
}

func TestParcelGivenBackToOutlines(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	site := add(t, h, registry.Site{Name: "Tarn Edge", Kind: registry.Crag}, h.AddSite)
	owner := add(t, h, registry.Landowner{Name: "Invented Estate"}, h.AddLandowner)
	undrawn := add(t, h, registry.Parcel{LandownerID: owner.ID, Name: "Far Field"}, h.AddParcel)
	spot, _, err := h.AddPosition(t.Context(), h.who, registry.Position{SiteID: site.ID, Label: "B1", ParcelID: &undrawn.ID}, nil)
	if err != nil || !spot.ParcelByHand {
		t.Fatalf("add: %+v, %v", spot, err)
	}
	freed, err := h.ChangePosition(t.Context(), h.who, spot.ID, 1, func(p *registry.Position, _ *[]registry.Stop) error {
		p.ParcelByHand = false
		return nil
	})
	if err != nil || freed.ParcelByHand || freed.ParcelID != nil {
		t.Errorf("no longer by hand: %+v, %v; want no parcel, since no outline holds it", freed, err)
	}
}

func TestLandownerWithParcels(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	owner := add(t, h, registry.Landowner{Name: "Invented Estate"}, h.AddLandowner)
	field := add(t, h, registry.Parcel{LandownerID: owner.ID, Name: "Far Field"}, h.AddParcel)
	end := func() error {
		_, err := h.ChangeLandowner(t.Context(), h.who, owner.ID, 1, func(n *registry.Landowner) error { n.EndedOn = firstDay; return nil })
		return err
	}
	violated(t, "a landowner with a parcel ends", end(), "ended_on", fault.InUse)
	if _, err := h.ChangeParcel(t.Context(), h.who, field.ID, 1, func(n *registry.Parcel) error { n.EndedOn = firstDay; return nil }); err != nil {
		t.Fatal(err)
	}
	if err := end(); err != nil {
		t.Errorf("a landowner whose parcel ended: %v", err)
	}
}

func TestOneSheetADay(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	product := add(t, h, registry.Product{Kind: registry.Hardware, Name: "Invented Eye"}, h.AddProduct)
	sheet := registry.ProductVersion{ProductID: product.ID, From: firstDay, Source: "issue 1"}
	add(t, h, sheet, h.AddProductVersion)
	_, _, err := h.AddProductVersion(t.Context(), h.who, sheet)
	violated(t, "a second sheet from one day", err, "from", fault.Duplicate)
	sheet.From++
	add(t, h, sheet, h.AddProductVersion)
}

// An anchor comes back into the rock only where none stands since.
func TestRetractedRemovalUnderALaterAnchor(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, smallList)
	old := h.anchor(t, "B1")
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	removal := registry.Removal{Record: record(old.ID, person, firstDay-1)}
	if _, _, err := h.RecordRemoval(ctx, h.who, removal); err != nil {
		t.Fatal(err)
	}
	later := add(t, h, registry.Anchor{PositionID: old.PositionID, SetOn: calendar.Exactly(firstDay)}, h.AddAnchor)
	back := registry.Retraction{Record: record(old.ID, person, firstDay), RetractsID: removal.ID, Reason: "wrong anchor"}
	_, _, err := h.RecordRetraction(ctx, h.who, back)
	violated(t, "a removal under a later anchor", err, "retracts_id", fault.InUse)
	if _, _, err := h.RecordRemoval(ctx, h.who, registry.Removal{Record: record(later.ID, person, firstDay)}); err != nil {
		t.Fatal(err)
	}
	if _, _, err := h.RecordRetraction(ctx, h.who, back); err != nil {
		t.Errorf("with the later one out: %v", err)
	}
}

// First use, and being found, are records of their own.
func TestNotSettled(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, smallList)
	anchor := h.anchor(t, "B1").ID
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	gone := false
	lost := inspected(anchor, firstDay, func(i *registry.Inspection) { i.Found, i.Verdict = &gone, "" })
	if _, _, err := h.RecordInspection(t.Context(), h.who, lost); err != nil {
		t.Fatal(err)
	}
	story, err := h.AnchorStory(t.Context(), h.who, anchor)
	if err != nil || story.Assessment.Standing != registry.StandingNotLocated {
		t.Fatalf("standing %q, %v; want not located", story.Assessment.Standing, err)
	}
	for _, f := range story.Assessment.Findings {
		if f.Rule == "not-located" {
			_, _, err := h.RecordSettlement(t.Context(), h.who, registry.Settlement{
				Record: record(anchor, person, firstDay), Rule: f.Rule, Values: f.Values, Reason: "it is there",
			})
			violated(t, "not located, settled", err, "rule", fault.NotAllowed)
		}
	}
}

// Source: EN 959:2018, 4.2.6.
func TestSheetNotes(t *testing.T) {
	t.Parallel()
	short, hole := 60*quantity.Millimetre, 12*quantity.Millimetre
	v := registry.ProductVersion{Hole: &hole, Embedded: &short}
	for form, want := range map[registry.Form]int{registry.SingleShank: 1, registry.ThroughBolt: 0, registry.Piton: 0, "": 0} {
		if got := app.SheetNotes(registry.Product{Kind: registry.Hardware, Form: form}, v); len(got) != want {
			t.Errorf("SheetNotes(%q, 60 mm in a hole of 12 mm) = %+v, want %d", form, got, want)
		}
	}
	if got := app.SheetNotes(registry.Product{Kind: registry.Adhesive}, v); got != nil {
		t.Errorf("SheetNotes(adhesive) = %+v, want none", got)
	}
}

package corrosion_test

import (
	"math"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/corrosion"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

const (
	km   = quantity.Kilometre
	rain = corrosion.Rain
	none = corrosion.Never
)

func ptr[T any](x T) *T { return &x }

// inland returns a place with no salted road and little sulphur dioxide, the sea
// at a distance.
func inland(sea quantity.Length, washing corrosion.Washing, edit ...func(*corrosion.Place)) *corrosion.Place {
	p := &corrosion.Place{
		SeaDistance: &sea, RoadDistance: ptr(corrosion.Far()), Coast: corrosion.OtherCoast,
		SulphurDioxide: ptr(5.0), Washing: washing,
	}
	for _, f := range edit {
		f(p)
	}
	return p
}

func sulphurous(p *corrosion.Place) { p.SulphurDioxide = ptr(40.0) }
func baltic(p *corrosion.Place)     { p.Coast = corrosion.BalticCoast }
func indoors(p *corrosion.Place)    { p.Indoors = true }

// EN 1993-1-4:2006+A1:2015, Annex A: F1 and F2 found in concordant copies; F3,
// closure of the limits and classes from memory, confidence medium.
func TestRequired(t *testing.T) {
	t.Parallel()
	tunnel := func(p *corrosion.Place) { p.SeaDistance, p.RoadTunnel = nil, true; sulphurous(p) }
	road := func(p *corrosion.Place) { p.RoadDistance = ptr(5 * quantity.Metre) }
	for _, tc := range []struct {
		id         string
		place      *corrosion.Place
		f1, f2, f3 int
		class      corrosion.Class
	}{
		{"K50", inland(25*km, rain), 0, 0, 0, corrosion.ClassII},
		{"K51: washing not asked", inland(25*km, none), 0, 0, 0, corrosion.ClassII},
		{"K52", inland(25*km, none, sulphurous), 0, -5, -7, corrosion.ClassIII},
		{"K53", inland(5*km, rain), -3, 0, 0, corrosion.ClassII},
		{"K54", inland(5*km, none), -3, 0, -7, corrosion.ClassIII},
		{"K55: on the limit", inland(0.6*km, rain), -7, 0, 0, corrosion.ClassIII},
		{"K56", inland(0.6*km, none), -7, 0, -7, corrosion.ClassIII},
		{"K57", inland(0.6*km, none, sulphurous), -7, -5, -7, corrosion.ClassIV},
		{"K58: on the limit", inland(0.1*km, rain), -15, 0, 0, corrosion.ClassIV},
		{"K59", inland(0.1*km, corrosion.Cleaned), -15, 0, -2, corrosion.ClassIV},
		{"K60: on the limit", inland(0.1*km, rain, sulphurous), -15, -5, 0, corrosion.ClassIV},
		{"K61", inland(0.1*km, none), -15, 0, -7, corrosion.ClassV},
		{"K62: Baltic, rain", inland(0.1*km, rain, baltic), -10, 0, 0, corrosion.ClassIII},
		{"K62: Baltic, sheltered", inland(0.1*km, none, baltic), -10, 0, -7, corrosion.ClassIV},
		{"K63: road tunnel", inland(0, none, tunnel), -10, -5, -7, corrosion.ClassV},
		{"K64: the worse of sea and road", inland(25*km, rain, road), -7, 0, 0, corrosion.ClassIII},
		{"K65", inland(0, none, indoors), 1, 0, 0, corrosion.ClassI},
		{"K66: exactly 10 km", inland(10*km, rain), -3, 0, 0, corrosion.ClassII},
		{"K66: exactly 1 km", inland(km, rain), -7, 0, 0, corrosion.ClassIII},
		{"K66: exactly 0.25 km", inland(0.25*km, rain), -15, 0, 0, corrosion.ClassIV},
		{"a sea cliff is on the shore", inland(25*km, rain, func(p *corrosion.Place) { p.SeaCliff = true }), -15, 0, 0, corrosion.ClassIV},
		{"a road at 100 m", inland(25*km, rain, func(p *corrosion.Place) { p.RoadDistance = ptr(100 * quantity.Metre) }), -3, 0, 0, corrosion.ClassII},
		{"sulphur dioxide on the limits", inland(25*km, rain, func(p *corrosion.Place) { p.SulphurDioxide = ptr(10.0) }), 0, -5, 0, corrosion.ClassII},
		{"sulphur dioxide on the limits", inland(25*km, rain, func(p *corrosion.Place) { p.SulphurDioxide = ptr(90.0) }), 0, -10, 0, corrosion.ClassIII},
	} {
		got, err := corrosion.Required(tc.place)
		if err != nil || got.F1 != tc.f1 || got.F2 != tc.f2 || got.F3 != tc.f3 || got.CRF != tc.f1+tc.f2+tc.f3 || got.Class != tc.class || got.Assumed != nil {
			t.Errorf("%s: Required = %+v, %v, want %d %d %d, class %v", tc.id, got, err, tc.f1, tc.f2, tc.f3, tc.class)
		}
	}
}

func TestRequiredNamesWhatItAssumes(t *testing.T) {
	t.Parallel()
	got, err := corrosion.Required(&corrosion.Place{SeaDistance: ptr(quantity.Length(0.1 * km))})
	if err != nil {
		t.Fatal(err)
	}
	want := []corrosion.Assumption{
		{Field: corrosion.FieldCoast, As: "other"},
		{Field: corrosion.FieldRoadDistance, As: "none"},
		{Field: corrosion.FieldSulphurDioxideAir, As: "low"},
		{Field: corrosion.FieldWashing, As: "never"},
	}
	if diff := cmp.Diff(want, got.Assumed); diff != "" || got.CRF != -22 {
		t.Errorf("Required: CRF %d, want -22; assumed (-want +got):\n%s", got.CRF, diff)
	}
	got, err = corrosion.Required(inland(25*km, rain, func(p *corrosion.Place) { p.SulphurDioxide = ptr(251.0) }))
	if err != nil || got.F2 != -10 || len(got.Assumed) != 1 {
		t.Errorf("Required above the table = %+v, %v, want -10 and a word on it", got, err)
	}
}

func TestRequiredRejects(t *testing.T) {
	t.Parallel()
	nan := math.NaN()
	for _, tc := range []struct {
		name  string
		place corrosion.Place
		field string
		code  fault.Code
	}{
		{"distance of the sea not on record", corrosion.Place{}, corrosion.FieldSeaDistance, fault.Required},
		{"negative", corrosion.Place{SeaDistance: ptr(quantity.Length(-1))}, corrosion.FieldSeaDistance, fault.Negative},
		{"not a number", corrosion.Place{SeaDistance: ptr(quantity.Length(nan))}, corrosion.FieldSeaDistance, fault.NotANumber},
		{"negative road", corrosion.Place{RoadDistance: ptr(quantity.Length(-1))}, corrosion.FieldRoadDistance, fault.Negative},
		{"negative gas", corrosion.Place{SulphurDioxide: ptr(-1.0)}, corrosion.FieldSulphurDioxideAir, fault.Negative},
		{"hot as a kettle", corrosion.Place{SurfaceTemperature: ptr(quantity.Temperature(293))}, corrosion.FieldSurfaceTemperature, fault.OutOfRange},
		{"no such class", corrosion.Place{Chloride: ptr(corrosion.ChlorideClass(9))}, corrosion.FieldChlorideClass, fault.Unknown},
		{"no such coast", corrosion.Place{Coast: "flat"}, corrosion.FieldCoast, fault.Unknown},
		{"no such washing", corrosion.Place{Washing: "soap"}, corrosion.FieldWashing, fault.Unknown},
		{"no such cave", corrosion.Place{Cave: "big"}, corrosion.FieldCave, fault.Unknown},
	} {
		got, err := corrosion.Required(&tc.place)
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid || len(e.Violations) != 1 || e.Violations[0].Field != tc.field || e.Violations[0].Code != tc.code {
			t.Errorf("%s: Required = %v, %v, want %s %s", tc.name, got, err, tc.field, tc.code)
		}
	}
}

// Nearer salt, more sulphur and less washing never ask for less.
func TestRequiredGrowsWithTheBurden(t *testing.T) {
	t.Parallel()
	washings := []corrosion.Washing{rain, corrosion.Cleaned, none}
	rapid.Check(t, func(t *rapid.T) {
		sea := quantity.Length(rapid.Float64Range(0, 20).Draw(t, "sea")) * km
		w := rapid.IntRange(0, 2).Draw(t, "washing")
		p := inland(sea, washings[w])
		p.RoadDistance = ptr(quantity.Length(rapid.Float64Range(0, 200).Draw(t, "road")) * quantity.Metre)
		p.SulphurDioxide = ptr(rapid.Float64Range(0, 300).Draw(t, "gas"))
		worse := *p
		worse.SeaDistance = ptr(sea * quantity.Length(rapid.Float64Range(0, 1).Draw(t, "nearer")))
		worse.RoadDistance = ptr(*p.RoadDistance / 2)
		worse.SulphurDioxide = ptr(*p.SulphurDioxide + rapid.Float64Range(0, 100).Draw(t, "more"))
		worse.Washing = washings[rapid.IntRange(w, 2).Draw(t, "less")]
		a, errA := corrosion.Required(p)
		b, errB := corrosion.Required(&worse)
		if errA != nil || errB != nil || b.CRF > a.CRF || b.Class < a.Class {
			t.Fatalf("Required = %+v, %v, and with a worse burden %+v, %v", a, errA, b, errB)
		}
		unknown := *p
		unknown.Washing = ""
		if c, err := corrosion.Required(&unknown); err != nil || c.CRF > a.CRF {
			t.Fatalf("washing not known scores %+v, %v, known %+v", c, err, a)
		}
	})
}

package postgres

import (
	"reflect"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// What is kept of a row is all of it, and what was not known stays so.
func TestPieceIsReadBack(t *testing.T) {
	t.Parallel()
	id, size, place, washed := uuid.New(), quantity.Length(10), 0.0, false
	span := calendar.Span{From: calendar.NewDate(2019, 1, 1), To: calendar.NewDate(2019, 12, 31), Words: "2019 <&> ½"}
	full := registry.ListRow{
		Line: 7, Blank: true, AnchorID: &id, Site: "Example Crag", Sector: "Left", Route: "Plum \"Line\"", Label: "B1\n",
		SiteKind: registry.Crag, RouteKind: registry.Climb, Role: registry.Belay, Form: registry.Staple, FormWords: "staple",
		HasHanger: true, Metal: metal.NewSet("1.4401", "1.4404"), MetalWords: "A4", Shank: &size, Length: &size, Hole: &size,
		Glue: "Invented Resin", Batch: "L1", SetOn: span, SetBy: "Tester 1", CheckedOn: span, State: registry.StateReplaced,
		StateWords: "replaced", ReplacedOn: span, NextState: registry.StateRusty, Lat: &place, Lon: &place,
		CoordinateWords: "0, 0", Landowner: "Invented Estate", Notes: "hollow",
		Noted: []registry.Noted{{
			Kind: registry.ProposesRestriction, Words: "hollow", Bars: registry.NoEntry, Weight: registry.ByRequest,
			Yearly: &calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 7, ToDay: 31}, Role: registry.Belay, Observation: registry.Spins,
			InspectBy: span.To, CountedFrom: registry.AsStated, Wetness: registry.Dripping, Washed: &washed,
		}},
		Cells: []string{"Example Crag", "", "B1"},
	}
	for _, whole := range []reflect.Value{reflect.ValueOf(full), reflect.ValueOf(full.Noted[0])} {
		for i := range whole.NumField() {
			if whole.Field(i).IsZero() {
				t.Errorf("%s.%s: this test must set each field", whole.Type(), whole.Type().Field(i).Name)
			}
		}
	}
	bare := registry.ListRow{Cells: []string{""}}
	want := registry.Piece{
		Rows:   []registry.PieceRow{registry.NewPieceRow(full), registry.NewPieceRow(bare)},
		Doubts: []registry.Doubt{{Line: 7, Column: "Bolt", Text: "B1", Code: "name-shortened", Values: registry.Values{{Name: "limit", Text: "80"}}}, {Line: 8}},
	}
	text, err := pieceText(want)
	if err != nil {
		t.Fatal(err)
	}
	got, err := pieceRow{Rows: text}.piece()
	if err != nil {
		t.Fatal(err)
	}
	job := registry.ImportJob{}
	if diff := cmp.Diff(job.List(want), job.List(*got)); diff != "" {
		t.Errorf("(-kept +read back):\n%s\n%s", diff, text)
	}
	if n := strings.Count(text, `"Site"`); n != 1 {
		t.Errorf("a site that is not known is written down: %s", text)
	}
}

// A list is text, but what is no letter must not keep a list from being taken.
func TestPieceTakesWhatIsNoLetter(t *testing.T) {
	t.Parallel()
	text, err := pieceText(registry.Piece{Rows: []registry.PieceRow{{Written: []string{"a\xffb"}}}})
	if err != nil || !strings.Contains(text, "a\ufffdb") {
		t.Errorf("pieceText() = %q, %v, want the sign for no letter", text, err)
	}
}

package exchange_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/registry"
)

func TestRowsOfOtherWidths(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag;Bolt;Type;Notes", "Low Tor;B1;staple;dry;left;over", "Low Tor;B2;staple;;;", "Low Tor;B3;staple")
	want := []registry.Doubt{
		{Line: 2, Text: "over", Code: registry.DoubtTooManyCells},
		{Line: 4, Text: "staple", Code: registry.DoubtTooFewCells},
	}
	if diff := cmp.Diff(want, list.Doubts); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
	if got := strings.Join(list.Rows[0].Cells, "|"); got != "Low Tor|B1|staple|dry|left|over" {
		t.Errorf("cells %q, want all of them kept", got)
	}
	if got := len(list.Rows[2].Cells); got != 4 {
		t.Errorf("%d cells, want one per heading", got)
	}
}

// A character that nobody writes is taken out of its cell and doubted; those
// that a script needs stay.
func TestUnwrittenCharactersInCells(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag;Bolt;Type;Notes", "Low \u202eTor;B1;staple;caf\ufffd", "Low Tor;B\u00022;staple;می\u200cخواهم", "Low Tor;B3;staple;")
	want := []registry.Doubt{
		{Line: 2, Column: "Crag", Text: "Low Tor", Code: registry.DoubtUnwritten, Values: registry.Values{{Name: "character", Text: "U+202E"}}},
		{Line: 2, Column: "Notes", Text: "caf", Code: registry.DoubtUnwritten, Values: registry.Values{{Name: "character", Text: "U+FFFD"}}},
		{Line: 3, Column: "Bolt", Text: "B2", Code: registry.DoubtUnwritten, Values: registry.Values{{Name: "character", Text: "U+0002"}}},
	}
	if diff := cmp.Diff(want, list.Doubts); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
	if r := list.Rows; r[0].Site != "Low Tor" || r[1].Label != "B2" || r[1].Notes != "می\u200cخواهم" {
		t.Errorf("rows %+v, want them without those characters", r)
	}
}

func TestSiteFromAbove(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag;Sector;Route;Bolt;Type", "Low Tor;Left;Groove;B1;staple", ";;;B2;staple", ";Right;Rib;B1;staple", "Total: 3;;;;", ";;;;2 spare")
	for i, want := range []string{"Low Tor/Left/Groove/B1", "Low Tor/Left/Groove/B2", "Low Tor/Right/Rib/B1", "Total: 3///"} {
		r := list.Rows[i]
		if got := strings.Join([]string{r.Site, r.Sector, r.Route, r.Label}, "/"); got != want {
			t.Errorf("row %d is of %q, want %q", i, got, want)
		}
	}
	if first := rows(t, "Crag;Bolt", ";B1", "Low Tor;B2").Rows[0]; first.Site != "" {
		t.Errorf("site %q, want none", first.Site)
	}
}

func TestNotKnownIsNoDoubt(t *testing.T) {
	t.Parallel()
	const head = "Crag;Bolt;Type;Metal;Dia;Length;Hole;Glue;Batch;Fitted;By;Last checked;State;Lat;Lon;Landowner"
	for _, word := range []string{"", "?", "unknown", "n/k", "-"} {
		list := rows(t, head, "Low Tor;B1"+strings.Repeat(";"+word, 14))
		r := list.Rows[0]
		if len(list.Doubts) > 0 {
			t.Errorf("%q: doubts %v", word, list.Doubts)
		}
		if r.Form != "" || r.Metal.Known() || r.Shank != nil || r.Length != nil || r.Hole != nil || r.Glue != "" || r.Batch != "" ||
			r.SetOn.Known() || r.SetBy != "" || r.CheckedOn.Known() || r.State != "" || r.Lat != nil || r.Landowner != "" {
			t.Errorf("%q: row %+v, want nothing known", word, r)
		}
	}
}

func TestSizesThatCannotBeRight(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ dia, length, hole, want string }{
		{"10mm", "80", "12.7", ""},
		{"M10", "4in", `"1/2"""`, ""},
		{"10x80", "", "", ""},
		{"10x80", "100", "", "Dia: two-sizes"},
		{"3/8 x 3", "76mm", "", ""},
		{"10cm", "", "", "Dia: length-implausible"},
		{"3", "", "", "Dia: length-implausible"},
		{"", "3", "", "Length: length-implausible"},
		{"", "", "70", "Hole: length-implausible"},
		{"-12mm", "", "", "Dia: length-negative"},
		{"ten", "", "", "Dia: length-not-read"},
		{"10 x", "", "", "Dia: length-not-read"},
		{"10 x 900", "", "", "Dia: length-implausible"},
	} {
		list := rows(t, "Crag;Bolt;Dia;Length;Hole", "Low Tor;B1;"+c.dia+";"+c.length+";"+c.hole)
		if got := strings.Join(codes(list), " "); got != c.want {
			t.Errorf("%q, %q, %q: doubts %q, want %q", c.dia, c.length, c.hole, got, c.want)
		}
	}
	if r := rows(t, "Crag;Bolt;Dia (in);Hole [in]", "Low Tor;B1;0.5;0.5").Rows[0]; r.Shank == nil || *r.Shank != 12.7 || *r.Hole != 12.7 {
		t.Errorf("half an inch by the heading = %v, %v, want 12.7 mm", r.Shank, r.Hole)
	}
}

func TestStatesAgainstForms(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		form, state string
		doubted     bool
	}{
		{"staple", "loose nut", true},
		{"glue in", "loose nut", true},
		{"resin stud", "loose nut", false},
		{"through bolt", "loose nut", false},
		{"through bolt", "cracked glue", true},
		{"glue in", "cracked glue", false},
		{"bolt", "cracked glue", false}, // form not known
		{"staple", "hanger bent", true},
		{"through bolt", "hanger bent", false},
	} {
		list := rows(t, "Crag;Bolt;Type;State", "Low Tor;B1;"+c.form+";"+c.state)
		if got := len(list.Doubts) == 1 && list.Doubts[0].Code == registry.DoubtStateFormMisfit; got != c.doubted || list.Rows[0].State == "" {
			t.Errorf("%s, %s: doubts %v, want doubted %v and the state kept", c.form, c.state, list.Doubts, c.doubted)
		}
	}
}

func TestLongNamesAreCutShort(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag;Bolt", "Low Tor;"+strings.Repeat("é", 150))
	if got := list.Rows[0].Label; got != strings.Repeat("é", 100) || len(list.Doubts) != 1 || list.Doubts[0].Code != registry.DoubtNameShortened {
		t.Errorf("label %q, doubts %v, want 200 bytes and a doubt", got, list.Doubts)
	}
}

func TestCoordinatesAgainstTheSite(t *testing.T) {
	t.Parallel()
	const head = "Crag;Bolt;Lat;Lon"
	list := rows(t, head, "Low Tor;B1;54.1;-2.1", "Low Tor;B2;54.1;-2.1", "Low Tor;B3;-2.1;54.1", "Low Tor;B4;54.1;-2.1",
		"Low Tor;B5;55.1;-2.1", "Low Tor;B6;54.1;", "Low Tor;B7;SD 12 34;x", "Low Tor;B8;0;0", "High Tor;B1;-2,2;54,2", "Far Tor;B1;-33.5;18.4")
	want := []string{
		"Lat: coordinates-swapped", "Lat: coordinates-far", "Lat: coordinates-not-read", "Lat: coordinates-not-read", "Lat: coordinates-not-read",
		"Lat: coordinates-swapped",
	}
	if diff := cmp.Diff(want, codes(list)); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
	for _, c := range []struct {
		row      int
		lat, lon float64
	}{{2, 54.1, -2.1}, {8, 54.2, -2.2}, {9, -33.5, 18.4}} {
		if r := list.Rows[c.row]; r.Lat == nil || *r.Lat != c.lat || *r.Lon != c.lon {
			t.Errorf("row %d: %v, %v, want %v, %v", c.row, r.Lat, r.Lon, c.lat, c.lon)
		}
	}
	if list.Doubts[0].Text != "-2.1, 54.1" {
		t.Errorf("text %q, want both coordinates", list.Doubts[0].Text)
	}
	for _, r := range list.Rows[4:7] {
		if r.Lat != nil || r.CoordinateWords == "" {
			t.Errorf("line %d: %v, %q, want words only", r.Line, r.Lat, r.CoordinateWords)
		}
	}
}

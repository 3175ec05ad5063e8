package exchange_test

import (
	"math"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// The numbers of this test are those of issue 2 for its sample.
func TestReadAnchorListSample(t *testing.T) {
	t.Parallel()
	list := readFile(t, "anchor-list.csv")
	if list.Encoding != "UTF-8" || list.Delimiter != ";" {
		t.Errorf("encoding %q, delimiter %q, want UTF-8 and ;", list.Encoding, list.Delimiter)
	}
	blank, prints, repeats := 0, map[string]bool{}, 0
	for _, r := range list.Rows {
		switch id := r.Key() + r.Print(); {
		case r.Blank:
			blank++
		case prints[id]:
			repeats++
		default:
			prints[id] = true
		}
	}
	if len(list.Rows) != 338 || blank != 2 || repeats != 4 {
		t.Errorf("%d rows, %d blank, %d exact repeats, want 338, 2, 4", len(list.Rows), blank, repeats)
	}
	want := map[string]string{
		"site": "Crag", "sector": "Sector", "route": "Route", "position": "Bolt", "type": "Type", "metal": "Steel",
		"diameter": "Dia", "length": "Length", "hole": "Hole", "glue": "Glue", "batch": "Batch", "set_on": "Fitted",
		"set_by": "By", "last_inspected": "Last checked", "state": "State", "lat": "Lat", "lon": "Lon",
		"landowner": "Landowner", "notes": "Notes",
	}
	if diff := cmp.Diff(want, list.Columns); diff != "" {
		t.Errorf("columns (-want +got):\n%s", diff)
	}
}

func TestReadAnchorListSampleRow(t *testing.T) {
	t.Parallel()
	list := readFile(t, "anchor-list.csv")
	got := at(t, list, 37)
	want := registry.ListRow{
		Line: 37, Site: "Quillon Edge", Sector: "Main Wall", Route: "The Groove", Label: "belay L",
		SiteKind: registry.Crag, RouteKind: registry.Climb, Role: registry.Belay,
		Form: registry.Staple, FormWords: "staple",
		Metal: metal.NewSet("1.4401"), MetalWords: "A4-316",
		Shank: ptr[quantity.Length](10), Length: ptr[quantity.Length](70),
		Glue: "resin one", Batch: "L1109-B",
		SetOn:     calendar.Span{From: calendar.NewDate(2012, 1, 1), To: calendar.NewDate(2012, 12, 31), Words: "2012"},
		SetBy:     "Ansel R.",
		CheckedOn: calendar.Span{From: calendar.NewDate(2017, 6, 12), To: calendar.NewDate(2017, 6, 12), Words: "12.06.17"},
		State:     registry.StateOK, StateWords: "good",
		Lat: ptr(54.21357), Lon: ptr(-2.33793), CoordinateWords: "54.21357, -2.33793",
		Landowner: "Overmoor Estate", Notes: "café side – left of ivy",
	}
	got.Cells = nil
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("line 37 (-want +got):\n%s", diff)
	}
}

// The doubts of the sample, found by looking at the list.
func TestReadAnchorListSampleDoubts(t *testing.T) {
	t.Parallel()
	list := readFile(t, "anchor-list.csv")
	count := map[string]int{}
	for _, d := range list.Doubts {
		count[d.Code]++
	}
	want := map[string]int{
		registry.DoubtLengthNotRead: 1, registry.DoubtLengthImplausible: 1, registry.DoubtLengthNegative: 1, // ten, 10cm, -12mm
		registry.DoubtDayMonthMisfit:  2, // 12/13/2014
		registry.DoubtNoSuchDay:       1, // 31/02/2012
		registry.DoubtSetAfterReplace: 1,
		registry.DoubtDayEverywhere:   1, registry.DoubtCoordinatesSwapped: 7, registry.DoubtCoordinatesOfCave: 1,
		registry.DoubtStateFormMisfit: 9,
	}
	if diff := cmp.Diff(want, count); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
	row := at(t, list, 104)
	if row.Lat == nil || math.Abs(*row.Lat-54.2) > 0.1 || math.Abs(*row.Lon+2.3) > 0.1 {
		t.Errorf("line 104: coordinates %v, %v, want them put right", row.Lat, row.Lon)
	}
	if row := at(t, list, 289); row.State != registry.StateReplaced || row.ReplacedOn.Known() || row.ReplacedOn.Words != "replaced 2019" {
		t.Errorf("line 289: %q, replaced %v, want replaced on a day not known", row.State, row.ReplacedOn)
	}
	for _, r := range list.Rows {
		if r.SiteKind == registry.Cave && (r.Lat != nil || r.Lon != nil) {
			t.Errorf("line %d: coordinates of a cave", r.Line)
		}
		if cave := strings.Contains(r.Site, "Cave"); cave != (r.SiteKind == registry.Cave) {
			t.Errorf("line %d: %s is a %s", r.Line, r.Site, r.SiteKind)
		}
	}
}

func TestReadAnchorListCave(t *testing.T) {
	t.Parallel()
	list := readFile(t, "cave-list.tsv")
	if list.Encoding != "windows-1252" || list.Delimiter != "tab" || len(list.Rows) != 15 {
		t.Errorf("%q, %q, %d rows, want windows-1252, tab, 15", list.Encoding, list.Delimiter, len(list.Rows))
	}
	first := at(t, list, 4)
	if first.SiteKind != registry.Cave || first.Role != registry.MainHang || first.Form != registry.BondedStud ||
		first.RouteKind != registry.Pitch || first.Notes != "café key for the gate" || first.Lat != nil ||
		first.CoordinateWords != "54°09.412' N 2°18.033' W" {
		t.Errorf("line 4: %+v", first)
	}
	if r := at(t, list, 7); r.Form != registry.SelfDrillSleeve || r.State != registry.StateNotFound || r.Role != registry.Deviation || r.Metal.Known() {
		t.Errorf("line 7: %+v", r)
	}
	if r := at(t, list, 8); r.RouteKind != registry.Crossing || r.Role != registry.Traverse {
		t.Errorf("line 8: %+v", r)
	}
	if r := at(t, list, 12); r.Role != registry.YHangLeg || r.State != registry.StateSpins || r.Hole == nil || *r.Hole != 12.7 {
		t.Errorf("line 12: %+v", r)
	}
	if a, b := at(t, list, 14), at(t, list, 15); a.Label != "unnamed 1" || b.Label != "unnamed 2" || b.State != registry.StateLooseNut {
		t.Errorf("lines 14 and 15: %q, %q, %q", a.Label, b.Label, b.State)
	}
	want := []string{
		"Coords: coordinates-of-cave", "Condition: state-guessed", "Anchor: position-not-named", "Anchor: position-not-named", "Condition: state-guessed",
		"When placed: no-such-day", "Last looked at: date-ahead", "Made of: metal-not-read",
	}
	if diff := cmp.Diff(want, codes(list)); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
}

func TestReadAnchorListAmerican(t *testing.T) {
	t.Parallel()
	list := readFile(t, "american-list.csv")
	if list.Encoding != "UTF-8" || list.Delimiter != "," || len(list.Rows) != 17 {
		t.Errorf("%q, %q, %d rows, want UTF-8, comma, 17", list.Encoding, list.Delimiter, len(list.Rows))
	}
	first := at(t, list, 4)
	if *first.Shank != 9.525 || *first.Length != 76.2 || *first.Hole != 9.525 || !first.HasHanger ||
		first.SetOn.From != calendar.NewDate(2009, 4, 17) || first.CheckedOn.From != calendar.NewDate(2021, 10, 2) {
		t.Errorf("line 4: %+v", first)
	}
	if r := at(t, list, 7); *r.Length != 95.25 || r.Role != registry.LowerOff || r.Form != registry.SleeveAnchor {
		t.Errorf("line 7: %+v", r)
	}
	if r := at(t, list, 13); r.Form != registry.BondedStud || r.State != registry.StateReplaced || r.ReplacedOn.From != calendar.NewDate(2021, 1, 1) {
		t.Errorf("line 13: %+v", r)
	}
	want := []string{
		"Latitude: coordinates-swapped", "Last Inspection: day-month-misfit", "Condition: state-guessed", "Date Placed: no-such-day",
		"Last Inspection: checked-before-set", "Latitude: coordinates-far", "Date Placed: date-ahead",
	}
	if diff := cmp.Diff(want, codes(list)); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
	if r := at(t, list, 18); r.Lat != nil || !r.SetOn.Known() || !r.CheckedOn.Known() {
		t.Errorf("line 18: %v, set %v, checked %v, want no coordinates and both dates", r.Lat, r.SetOn, r.CheckedOn)
	}
}

// What condemns an anchor and what follows "replaced" is doubted and kept.
func TestReadAnchorListDoubtsStates(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag,Bolt,State", "Low Tor,B1,DANGEROUS", "Low Tor,B2,replaced hanger 2019",
		`Low Tor,B3,"replaced 2019, spins"`, "Low Tor,B4,replaced 2019", `Low Tor,B5,"unsafe, odd colour"`)
	var states []registry.ListState
	for _, r := range list.Rows {
		states = append(states, r.State)
	}
	if diff := cmp.Diff([]registry.ListState{
		registry.StateUnsafe, registry.StateOther, registry.StateReplaced, registry.StateReplaced, registry.StateUnsafe,
	}, states); diff != "" {
		t.Errorf("states (-want +got):\n%s", diff)
	}
	if r := list.Rows[2]; r.NextState != registry.StateSpins || r.ReplacedOn.From.String() != "2019-01-01" || r.StateWords != "replaced 2019, spins" {
		t.Errorf("%q: then %q, replaced %v", r.StateWords, r.NextState, r.ReplacedOn)
	}
	want := []registry.Doubt{
		{Line: 2, Column: "State", Text: "DANGEROUS", Code: registry.DoubtStateGuessed, Values: taken("called unsafe")},
		{Line: 3, Column: "State", Text: "replaced hanger 2019", Code: registry.DoubtStateNotRead},
		{Line: 4, Column: "State", Text: "replaced 2019, spins", Code: registry.DoubtStateGuessed, Values: taken("replaced, and the new one spins")},
		{Line: 6, Column: "State", Text: "unsafe, odd colour", Code: registry.DoubtStateNotRead},
		{Line: 6, Column: "State", Text: "unsafe, odd colour", Code: registry.DoubtStateGuessed, Values: taken("called unsafe")},
	}
	if diff := cmp.Diff(want, list.Doubts); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
}

func taken(as string) registry.Values { return registry.Values{{Name: "taken", Text: as}} }

func TestReadAnchorListShapes(t *testing.T) {
	t.Parallel()
	const semicolons = "Crag;Bolt;Type;Fitted\nLow Tor;B1;staple;2014\n\nLow Tor;B2;glue in;2015\n"
	for _, c := range []struct {
		name, text          string
		encoding, delimiter string
		lines               []int
	}{
		{"plain", semicolons, "UTF-8", ";", []int{2, 3, 4}},
		{"byte-order mark", "\xef\xbb\xbf" + semicolons, "UTF-8", ";", []int{2, 3, 4}},
		{"CR LF", strings.ReplaceAll(semicolons, "\n", "\r\n"), "UTF-8", ";", []int{2, 3, 4}},
		{"CR alone", strings.ReplaceAll(semicolons, "\n", "\r"), "UTF-8", ";", []int{2, 3, 4}},
		{"commas", strings.ReplaceAll(semicolons, ";", ","), "UTF-8", ",", []int{2, 3, 4}},
		{"tabs", strings.ReplaceAll(semicolons, ";", "\t"), "UTF-8", "tab", []int{2, 3, 4}},
		{"UTF-16", utf16(semicolons), "UTF-16", ";", []int{2, 3, 4}},
		{"separator named above", "sep=;\n" + semicolons, "UTF-8", ";", []int{3, 4, 5}},
		{"titles above", "Our bolts, 2026\n\n;;;\n" + semicolons, "UTF-8", ";", []int{5, 6, 7}},
		{"empty lines at the end", semicolons + "\n\n\n", "UTF-8", ";", []int{2, 3, 4}},
		{"line end in quotes", "Crag;Bolt;Type;Fitted;Notes\nLow Tor;B1;staple;2014;\"a\nb\"\n\nLow Tor;B2;glue in;2015;", "UTF-8", ";", []int{2, 4, 5}},
	} {
		list := read(t, c.text, exchange.Mapping{})
		var lines []int
		for _, r := range list.Rows {
			lines = append(lines, r.Line)
		}
		if list.Encoding != c.encoding || list.Delimiter != c.delimiter || !cmp.Equal(lines, c.lines) {
			t.Errorf("%s: %q, %q, lines %v, want %q, %q, %v", c.name, list.Encoding, list.Delimiter, lines, c.encoding, c.delimiter, c.lines)
			continue
		}
		if a, b := list.Rows[0], list.Rows[2]; a.Form != registry.Staple || !list.Rows[1].Blank || b.Label != "B2" || b.SetOn.Words != "2015" {
			t.Errorf("%s: rows %+v", c.name, list.Rows)
		}
	}
}

func TestReadAnchorListHash(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag,Bolt", "Low Tor,B1")
	// printf 'Crag,Bolt\nLow Tor,B1' | sha256sum
	if want := "180bfaddcf6298d163fe85cf90c606991ac2893ea26fb9a7c80b2e48de2cba51"; list.FileHash != want || list.FileName != "list.csv" {
		t.Errorf("hash %q of %q, want %q of list.csv", list.FileHash, list.FileName, want)
	}
}

func utf16(text string) string {
	out := "\xff\xfe"
	for _, r := range text {
		out += string([]byte{byte(r), byte(r >> 8)})
	}
	return out
}

func ptr[T any](v T) *T { return &v }

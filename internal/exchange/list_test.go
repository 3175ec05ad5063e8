package exchange_test

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// write writes a list under our own headings.
func write(t require, anchors ...registry.Listed) string {
	t.Helper()
	var b bytes.Buffer
	w := exchange.NewListWriter(&b, today)
	for _, l := range anchors {
		if err := w.Row(l); err != nil {
			t.Fatalf("write row: %v", err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatalf("end list: %v", err)
	}
	return b.String()
}

// require is what tests and property tests have in common.
type require interface {
	Helper()
	Fatalf(format string, args ...any)
}

func listedAt(label string, edit func(*registry.Listed)) registry.Listed {
	l := registry.Listed{
		Anchor: registry.Anchor{ID: uuid.Must(uuid.NewV7()), EnteredOn: today}, SiteKind: registry.Crag,
		Site: "Tarn Edge", Route: "Plum Line", Label: label,
	}
	if edit != nil {
		edit(&l)
	}
	return l
}

func TestListWriterCarriesTheCautionOnce(t *testing.T) {
	t.Parallel()
	for n, anchors := range [][]registry.Listed{nil, {listedAt("B1", nil)}, {listedAt("B1", nil), listedAt("B2", nil)}} {
		text := write(t, anchors...)
		if got := strings.Count(text, wording.Caution); got != 1 {
			t.Errorf("%d anchors: the caution stands %d times, want once\n%s", n, got, text)
		}
		first, _, _ := strings.Cut(text, "\n")
		if !strings.HasSuffix(first, ",id,caution") {
			t.Errorf("headings %q, want id and caution last", first)
		}
	}
}

// The words of every form, metal, role and kind of site are read back as such.
func TestListWriterWritesClosedLists(t *testing.T) {
	t.Parallel()
	var anchors []registry.Listed
	add := func(edit func(*registry.Listed)) {
		anchors = append(anchors, listedAt(fmt.Sprint("B", len(anchors)), edit))
	}
	for _, f := range append(registry.Forms(), "") {
		for _, hanger := range []bool{false, true} {
			for _, words := range []string{"", "piton", "glue in eye and hanger", "whatsit", "sleeve"} {
				add(func(l *registry.Listed) { l.Anchor.Form, l.Anchor.FormWords, l.Hanger = f, words, hanger })
			}
		}
	}
	for _, a := range metal.All() {
		for _, b := range metal.All() {
			add(func(l *registry.Listed) { l.Anchor.Metal = metal.NewSet(a.Grade, b.Grade) })
		}
	}
	for _, words := range []string{"A4", "stainless", "?", "unobtainium"} {
		add(func(l *registry.Listed) { l.Anchor.MetalWords = words })
		add(func(l *registry.Listed) { l.Anchor.MetalWords, l.Anchor.Metal = words, metal.NewSet("1.4404") })
	}
	for _, role := range registry.PositionRoles() {
		add(func(l *registry.Listed) { l.Role = role })
	}
	for _, kind := range registry.SiteKinds() {
		add(func(l *registry.Listed) { l.Site, l.SiteKind = string(kind)+" place", kind })
	}
	sameList(t, anchors)
}

// sameList writes anchors, reads them and compares what is typed.
func sameList(t require, anchors []registry.Listed) {
	t.Helper()
	text := write(t, anchors...)
	list, err := exchange.ReadAnchorList("list.csv", []byte(text), exchange.Mapping{}, today)
	if err != nil || len(list.Rows) != len(anchors) {
		t.Fatalf("read back %d rows, %v, want %d\n%s", len(list.Rows), err, len(anchors), text)
	}
	for i := range anchors {
		if diff := cmp.Diff(wanted(&anchors[i]), list.Rows[i], alike); diff != "" {
			t.Fatalf("row %d (-register +read back):\n%s\n%q", i, diff, list.Rows[i].Cells)
		}
	}
}

var alike = cmp.Options{
	cmpopts.IgnoreFields(registry.ListRow{}, "Line", "Cells", "RouteKind", "CoordinateWords", "FormWords", "MetalWords",
		"State", "StateWords", "ReplacedOn"),
	cmpopts.IgnoreFields(calendar.Span{}, "Words"),
}

// wanted is the row that an anchor's should be read as.
func wanted(l *registry.Listed) registry.ListRow {
	r := registry.ListRow{
		AnchorID: &l.Anchor.ID, Site: l.Site, SiteKind: l.SiteKind, Sector: l.Sector, Route: l.Route, Label: l.Label, Role: l.Role,
		Form: l.Anchor.Form, HasHanger: l.Hanger, Metal: l.Anchor.Metal, Shank: l.Anchor.Shank, Length: l.Anchor.Length,
		Glue: l.Glue, Batch: l.Batch, SetBy: l.SetBy, SetOn: l.Anchor.SetOn, Lat: l.Lat, Lon: l.Lon,
		Landowner: l.Landowner, Notes: l.Anchor.Notes,
	}
	if l.Hole != nil {
		r.Hole = l.Hole.HoleDiameter
	}
	if l.Seen != nil {
		r.CheckedOn = l.Seen.DoneOn
	}
	return r
}

// TestListWriterIsReadBack holds that whatever the register has, within what a
// list is believed, is read back to the same values.
func TestListWriterIsReadBack(t *testing.T) {
	t.Parallel()
	name := rapid.SampledFrom([]string{
		"", "Plum", "=1+1", "-x", "@here", "+44", "'quoted'", "''=x", `say "so"`, "a, b; c", "tab\tthere", "Ø10", "12", "-3",
	})
	length := func(from, to float64) *rapid.Generator[*quantity.Length] {
		return rapid.Ptr(rapid.Map(rapid.Float64Range(from, to), func(f float64) quantity.Length {
			return quantity.Length(float64(int64(f*1000)) / 1000)
		}), true)
	}
	day := rapid.Map(rapid.Int32Range(int32(calendar.NewDate(1950, 1, 1)), int32(today)), func(d int32) calendar.Date { return calendar.Date(d) })
	span := rapid.Custom(func(t *rapid.T) calendar.Span {
		a, b := day.Draw(t, "from"), day.Draw(t, "to")
		return calendar.Span{From: min(a, b), To: max(a, b), Words: rapid.SampledFrom([]string{"", "c. 1998", "03/04/2019"}).Draw(t, "words")}
	})
	anchor := rapid.Custom(func(t *rapid.T) registry.Listed {
		return listedAt(rapid.StringMatching(`[A-Z][0-9]{1,3}`).Draw(t, "label"), func(l *registry.Listed) {
			a := &l.Anchor
			l.Sector, l.Glue, l.Landowner, a.Notes = tidied(name.Draw(t, "sector")), tidied(name.Draw(t, "glue")), tidied(name.Draw(t, "owner")), tidied(name.Draw(t, "notes"))
			l.SetBy, l.Batch = tidied(name.Draw(t, "by")), tidied(name.Draw(t, "batch"))
			a.Form = rapid.SampledFrom(registry.Forms()).Draw(t, "form")
			a.FormWords = rapid.SampledFrom([]string{"", "bolt", "resin eye", "wedge"}).Draw(t, "form words")
			l.Hanger = rapid.Bool().Draw(t, "hanger")
			a.Shank, a.Length = length(4, 40).Draw(t, "shank"), length(15, 600).Draw(t, "length")
			l.Hole = &registry.Installation{HoleDiameter: length(4, 60).Draw(t, "hole")}
			a.SetOn = span.Draw(t, "set on")
			l.Seen = &registry.Inspection{Record: registry.Record{DoneOn: span.Draw(t, "seen on"), RecordedAt: time.Now()}}
			lat, lon := rapid.Float64Range(54, 54.01).Draw(t, "lat"), rapid.Float64Range(-2.31, -2.3).Draw(t, "lon")
			l.Lat, l.Lon = &lat, &lon
		})
	})
	rapid.Check(t, func(t *rapid.T) {
		sameList(t, rapid.SliceOfN(anchor, 1, 6).Draw(t, "anchors"))
	})
}

func tidied(text string) string { return strings.Join(strings.Fields(text), " ") }

// TestListWriterStates says what stands in the column state, and what is read
// from it.
func TestListWriterStates(t *testing.T) {
	t.Parallel()
	seen := func(edit func(*registry.Inspection)) *registry.Inspection {
		i := &registry.Inspection{Record: registry.Record{DoneOn: calendar.Exactly(today), Origin: registry.Recorded}, Level: registry.HandsOn}
		edit(i)
		return i
	}
	written := func(words string, o ...registry.Observation) *registry.Inspection {
		return seen(func(i *registry.Inspection) { i.Origin, i.Words, i.Observations = registry.Imported, words, o })
	}
	found := false
	for _, tc := range []struct {
		name  string
		edit  func(*registry.Listed)
		want  string
		state registry.ListState
	}{
		{"never seen", func(*registry.Listed) {}, "", ""},
		{"seen and nothing said", func(l *registry.Listed) { l.Seen = seen(func(*registry.Inspection) {}) }, "", ""},
		{"to keep", func(l *registry.Listed) { l.Seen = seen(func(i *registry.Inspection) { i.Verdict = registry.Keep }) }, "ok", registry.StateOK},
		{"the list's words", func(l *registry.Listed) { l.Seen = written("a bit rusty", registry.SurfaceRust) }, "a bit rusty", registry.StateSurfaceRust},
		{"words of the one before", func(l *registry.Listed) { l.Seen = written("replaced 2019, spins", registry.Spins) }, "spins", registry.StateSpins},
		{"not found", func(l *registry.Listed) { l.Seen = seen(func(i *registry.Inspection) { i.Found = &found }) }, "not found", registry.StateNotFound},
		{"several things", func(l *registry.Listed) {
			l.Seen = seen(func(i *registry.Inspection) {
				i.Verdict, i.Observations = registry.Repair, []registry.Observation{registry.LooseNut, registry.Rust}
			})
		}, "needs repair, loose nut, rusty", registry.StateLooseNut},
		{"what no list has a state for", func(l *registry.Listed) {
			l.Seen = seen(func(i *registry.Inspection) { i.Observations = []registry.Observation{registry.CrackedMetal} })
		}, "cracked metal", registry.StateUnsafe},
		{"out of use for another reason", func(l *registry.Listed) { l.Seen, l.Standing = written("ok"), registry.StandingOutOfUse }, "out of use, ok", registry.StateUnsafe},
		{"not in use yet", func(l *registry.Listed) { l.Standing = registry.NotInUseYet }, "not in use yet", registry.StateUnsafe},
		{"removed here", func(l *registry.Listed) { l.Anchor.Removed = true }, "removed", registry.StateRemoved},
		{"removed by the list", func(l *registry.Listed) {
			l.Anchor.Removed, l.Out = true, &registry.Removal{Record: registry.Record{Origin: registry.Imported, Words: "chopped"}}
		}, "chopped", registry.StateRemoved},
		{"replaced by the list", func(l *registry.Listed) {
			l.Anchor.Removed, l.Anchor.RemovedOn = true, calendar.Span{From: calendar.NewDate(2019, 1, 1), To: calendar.NewDate(2019, 12, 31)}
			l.Out = &registry.Removal{Record: registry.Record{Origin: registry.Imported, Words: "rebolted 2019, new one rusty"}}
		}, "rebolted 2019, new one rusty", registry.StateReplaced},
		{"replaced, the day put right", func(l *registry.Listed) {
			l.Anchor.Removed, l.Anchor.RemovedOn = true, calendar.Exactly(calendar.NewDate(2019, 4, 3))
			l.Out = &registry.Removal{Record: registry.Record{Origin: registry.Imported, Words: "replaced 03/04/2019"}}
		}, "replaced 2019-04-03", registry.StateReplaced},
	} {
		text := write(t, listedAt("B1", tc.edit))
		list, err := exchange.ReadAnchorList("list.csv", []byte(text), exchange.Mapping{}, today)
		if err != nil {
			t.Fatal(err)
		}
		if r := list.Rows[0]; r.StateWords != tc.want || r.State != tc.state {
			t.Errorf("%s: state %q read as %q, want %q read as %q", tc.name, r.StateWords, r.State, tc.want, tc.state)
		}
	}
}

// The marks of an exported list are only taken for such on one.
func TestReadKeepsListsThatWereNotExported(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag,Route,ID,Caution,Type", "Tarn Edge,Plum Line,B1,mind the nest,'-piton")
	if diff := cmp.Diff([]string{"Tarn Edge", "Plum Line", "B1", "mind the nest", "'-piton"}, list.Rows[0].Cells); diff != "" {
		t.Errorf("cells (-want +got):\n%s", diff)
	}
	if list.Columns["position"] != "ID" || list.Columns["id"] != "" || list.Rows[0].AnchorID != nil {
		t.Errorf("columns %v, id %v, want the ID taken for the position's", list.Columns, list.Rows[0].AnchorID)
	}
}

func TestReadDoubtsAnID(t *testing.T) {
	t.Parallel()
	id := uuid.Must(uuid.NewV7())
	list := rows(t, "Crag,Bolt no,id", "A,1,"+id.String(), "A,2,"+id.String(), "A,3,"+id.String(), "A,4,01a2130a-699f", "A,5,")
	if got := list.Rows[0].AnchorID; got == nil || *got != id {
		t.Errorf("id = %v, want %v", got, id)
	}
	if diff := cmp.Diff([]string{"id: id-not-read"}, codes(list)); diff != "" || list.Rows[3].AnchorID != nil || list.Rows[4].AnchorID != nil {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
}

// A column of ids that are none of this register's is not passed over in silence.
func TestReadDoubtsForeignIDs(t *testing.T) {
	t.Parallel()
	for _, ids := range [][]string{{"zzz"}, {"zzz", uuid.Nil.String()}, {"7", "8", "9"}} {
		lines := []string{"Crag,Route,Bolt,id"}
		for n, id := range ids {
			lines = append(lines, fmt.Sprintf("Low Tor,Groove,B%d,%s", n, id))
		}
		list := rows(t, lines...)
		if diff := cmp.Diff([]string{"id: ids-not-read"}, codes(list)); diff != "" {
			t.Errorf("%q: doubts (-want +got):\n%s", ids, diff)
		}
	}
	if got := codes(rows(t, "Crag,Route,Bolt,id", "Low Tor,Groove,B1,")); len(got) > 0 {
		t.Errorf("an empty column: %q, want no doubt", got)
	}
}

// A row that is refused because it names no site is not said to be entered.
func TestReadNamesNoPositionWithoutASite(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag,Bolt,Steel", ",,1.4404", "Low Tor,,1.4404")
	if diff := cmp.Diff([]string{"Bolt: position-not-named"}, codes(list)); diff != "" || list.Rows[0].Label != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
}

// Notes keep their lines.
func TestReadKeepsLinesOfNotes(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag,Bolt,Notes", "Low Tor,B1,\"line  one\r\nline two\"", "Low Tor,B2, plain  words ")
	if got := []string{list.Rows[0].Notes, list.Rows[1].Notes}; !slices.Equal(got, []string{"line one\nline two", "plain words"}) {
		t.Errorf("notes %q", got)
	}
}

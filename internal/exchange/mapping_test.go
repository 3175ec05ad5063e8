package exchange_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestParseMapping(t *testing.T) {
	t.Parallel()
	got, err := exchange.ParseMapping([]byte(`
columns: {Bolt no.: position, Colour: ignore}
site: Marrow Pot
site_kind: cave
site_kinds: {Old Hole: quarry}
date_order: month-first
`))
	want := exchange.Mapping{
		Columns: map[string]exchange.Field{"Bolt no.": exchange.FieldPosition, "Colour": exchange.FieldNone},
		Site:    "Marrow Pot", SiteKind: registry.Cave, SiteKinds: map[string]registry.SiteKind{"Old Hole": registry.Quarry},
		DateOrder: "month-first",
	}
	if err != nil || !cmp.Equal(want, got) {
		t.Errorf("ParseMapping = %+v, %v, want %+v", got, err, want)
	}
	if got, err := exchange.ParseMapping(nil); err != nil || !cmp.Equal(exchange.Mapping{}, got) {
		t.Errorf("ParseMapping(nothing) = %+v, %v, want the zero mapping", got, err)
	}
}

func TestParseMappingRejects(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ name, text, fields string }{
		{"no such field", "columns: {Colour: colour}", "columns.Colour"},
		{"a field twice", "columns: {A: site, B: site}", "columns.B"},
		{"no such kind", "site_kind: hill", "site_kind"},
		{"every violation", "site_kinds: {A: hill, B: dale}\ndate_order: year-first", "site_kinds.A site_kinds.B date_order"},
		{"no such key", "colums: {A: site}", "columns"},
		{"no YAML", "columns: {A", "columns"},
		{"too long", strings.Repeat("#", exchange.MaxMappingBytes+1), "columns"},
	} {
		_, err := exchange.ParseMapping([]byte(c.text))
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid {
			t.Errorf("%s: error %v, want fault.Invalid", c.name, err)
			continue
		}
		var fields []string
		for _, v := range e.Violations {
			fields = append(fields, v.Field)
		}
		if got := strings.Join(fields, " "); got != c.fields {
			t.Errorf("%s: violations of %q, want %q", c.name, got, c.fields)
		}
	}
	_, err := exchange.ParseMapping([]byte("columns: {Colour: colour}"))
	if e, _ := fault.As(err); !strings.Contains(e.Violations[0].Values["allowed"], "last_inspected") {
		t.Errorf("error %v does not name the fields there are", err)
	}
}

func TestMappingOverrules(t *testing.T) {
	t.Parallel()
	const text = "Crag;Bolt;Colour;Fitted;Lat;Lon\nLow Tor;B1;rebelay;05/06/2014;54.1;-2.1\n"
	m := exchange.Mapping{
		Columns:   map[string]exchange.Field{"BOLT ": exchange.FieldNone, "colour": exchange.FieldPosition},
		SiteKinds: map[string]registry.SiteKind{"low  tor": registry.SeaCliff},
		DateOrder: "month-first",
	}
	row := read(t, text, m).Rows[0]
	if row.Label != "rebelay" || row.SiteKind != registry.SeaCliff || row.SetOn.From != calendar.NewDate(2014, 5, 6) || row.Lat == nil {
		t.Errorf("row %+v", row)
	}
	if row := read(t, text, exchange.Mapping{SiteKind: registry.Cave}).Rows[0]; row.SiteKind != registry.Cave || row.Lat != nil {
		t.Errorf("row %+v, want a cave without coordinates", row)
	}
	list := read(t, "Bolt;Type\nB1;staple\nB2;staple", exchange.Mapping{Site: "Marrow  Pot"})
	if list.Rows[1].Site != "Marrow Pot" || len(list.Doubts) > 0 {
		t.Errorf("site %q, doubts %v, want the mapping's site", list.Rows[1].Site, list.Doubts)
	}
}

func TestMappingNamesAHeadingThatIsNotThere(t *testing.T) {
	t.Parallel()
	m := exchange.Mapping{Columns: map[string]exchange.Field{"Colour": exchange.FieldSector}}
	_, err := exchange.ReadAnchorList("x", []byte("Crag;Bolt\nLow Tor;B1\n"), m, today)
	e, _ := fault.As(err)
	if e == nil || len(e.Violations) != 1 || e.Violations[0].Field != "columns.Colour" || e.Violations[0].Code != fault.NoSuchReference {
		t.Fatalf("error %v, want columns.Colour to be no heading", err)
	}
	if said := wording.Violation(e.Violations[0]); !strings.Contains(said, "“Colour”") {
		t.Errorf("said as %q, want it to name the heading", said)
	}
}

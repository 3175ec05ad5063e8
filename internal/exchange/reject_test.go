package exchange_test

import (
	"slices"
	"strings"
	"testing"

	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

func TestReadAnchorListRejects(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name, text string
		field      string
		code       fault.Code
		why        string
	}{
		{"nothing", "", "file", fault.Blank, "empty"},
		{"only blanks", " \r\n\t\n", "file", fault.Blank, "empty"},
		{"empty quotes", "\"\"", "file", fault.Blank, "empty"},
		{"a spreadsheet", "PK\x03\x04rest", "file", fault.Malformed, "spreadsheet"},
		{"an old spreadsheet", "\xd0\xcf\x11\xe0rest", "file", fault.Malformed, "spreadsheet"},
		{"a document", "%PDF-1.7", "file", fault.Malformed, "not-text"},
		{"bytes", "Crag;Bolt\x00\x01", "file", fault.Malformed, "not-text"},
		{"too long", strings.Repeat("x", exchange.MaxListBytes+1), "file", fault.TooLong, "too-long"},
		{"too many rows", "Crag;Bolt\n" + strings.Repeat("a;b\n", 300_000), "file", fault.TooLong, "too-many-rows"},
		{"too wide", "Crag;Bolt\n" + strings.Repeat("a;", 1_000), "file", fault.TooLong, "too-wide"},
		{"a quote left open", "Crag;Bolt\nTor;B1\nTor;\"B2\nTor;B3\n", "file", fault.Malformed, "open-quote"},
		{"no headings", "Low Tor;7;2014\nLow Tor;8;2015\n", "columns", fault.Required, "no-headings"},
		{"no site", "Route;Bolt;Type\nGroove;B1;staple\n", "columns", fault.Required, "no-site"},
		{"no positions", "Crag;Notes\nLow Tor;dry\n", "columns", fault.Required, "no-positions"},
		{"no position", "Crag;Route;Bollt\nLow Tor;Groove;1\nLow Tor;Groove;2\n", "columns", fault.Required, "no-position"},
	} {
		_, err := exchange.ReadAnchorList("list.csv", []byte(c.text), exchange.Mapping{}, today)
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid || len(e.Violations) != 1 {
			t.Errorf("%s: error %v, want one violation", c.name, err)
			continue
		}
		v := e.Violations[0]
		if v.Field != c.field || v.Code != c.code || v.Values["why"] != c.why {
			t.Errorf("%s: %+v, want %s of %s because of %s", c.name, v, c.code, c.field, c.why)
		}
		if e.Msg != wording.ListFault(c.why, v.Values) || !slices.Contains(wording.ListFaults(), c.why) {
			t.Errorf("%s: message %q is not the catalogue's", c.name, e.Msg)
		}
	}
}

func TestReadAnchorListNamesTheLineOfAnOpenQuote(t *testing.T) {
	t.Parallel()
	_, err := exchange.ReadAnchorList("x", []byte("Crag,Bolt\nTor,B1\nTor,\"B2\n"), exchange.Mapping{}, today)
	if e, _ := fault.As(err); e == nil || e.Violations[0].Values["line"] != "3" || !strings.Contains(e.Msg, "line 3") {
		t.Errorf("error %v, want it to name line 3", err)
	}
}

func TestReadAnchorListNamesTheHeadingsSeen(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"Cragg;Route;Bolt\nLow Tor;Groove;1\n", "Crag;Route;Bollt\nLow Tor;Groove;1\n", "Crag;Bollt\nLow Tor;1\n"} {
		_, err := exchange.ReadAnchorList("x", []byte(text), exchange.Mapping{}, today)
		head, _, _ := strings.Cut(text, "\n")
		if want := "“" + strings.ReplaceAll(head, ";", "”, “") + "”"; err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want it to name %s", err, want)
		}
	}
}

// A list that has a column for the position, or says something of anchors, is
// read without one.
func TestReadAnchorListWithoutPositions(t *testing.T) {
	t.Parallel()
	for _, text := range []string{"Crag;Route;Bolt no\nLow Tor;Groove;\n", "Crag;Route;Steel\nLow Tor;Groove;1.4404\n"} {
		if _, err := exchange.ReadAnchorList("x", []byte(text), exchange.Mapping{}, today); err != nil {
			t.Errorf("%q: %v", text, err)
		}
	}
}

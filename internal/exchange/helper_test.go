package exchange_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
)

// today is the day on which the tests read their lists.
var today = calendar.NewDate(2026, 11, 25)

// readFile reads one of the invented lists, without a mapping.
func readFile(t *testing.T, name string) registry.List {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return read(t, string(data), exchange.Mapping{})
}

func read(t *testing.T, text string, m exchange.Mapping) registry.List {
	t.Helper()
	list, err := exchange.ReadAnchorList("list.csv", []byte(text), m, today)
	if err != nil {
		t.Fatalf("ReadAnchorList(%.80q): %v", text, err)
	}
	return list
}

// rows reads a list from lines.
func rows(t *testing.T, lines ...string) registry.List {
	t.Helper()
	return read(t, strings.Join(lines, "\n"), exchange.Mapping{})
}

// at returns the row that begins on a line.
func at(t *testing.T, list registry.List, line int) registry.ListRow {
	t.Helper()
	for _, r := range list.Rows {
		if r.Line == line {
			return r
		}
	}
	t.Fatalf("no row on line %d", line)
	return registry.ListRow{}
}

// codes returns "line code" for every doubt, in order.
func codes(list registry.List) []string {
	var out []string
	for _, d := range list.Doubts {
		out = append(out, strings.TrimSpace(d.Column)+": "+d.Code)
	}
	return out
}

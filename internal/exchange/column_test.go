package exchange_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/exchange"
	"rockledger/internal/registry"
)

func TestColumnsByTheirCells(t *testing.T) {
	t.Parallel()
	list := rows(t,
		"Cave;No;Anchor;Grade;;Stuff;Where",
		"Marrow Cave;1;staple;6a;2014;316L;54.1, -2.1",
		"Marrow Cave;2;glue in;6b;12/05/2016;A4;54.1, -2.1",
		"Marrow Cave;3;through bolt;7a;May 2015;HDG;54.1, -2.1",
	)
	want := map[string]string{"site": "Cave", "position": "No", "type": "Anchor", "metal": "Stuff", "coordinates": "Where", "set_on": ""}
	if diff := cmp.Diff(want, list.Columns); diff != "" {
		t.Errorf("columns (-want +got):\n%s", diff)
	}
	guessed := []string{": column-guessed", "Stuff: column-guessed", "Where: column-guessed", "Where: coordinates-of-cave"}
	if diff := cmp.Diff(guessed, codes(list)); diff != "" {
		t.Errorf("doubts (-want +got):\n%s", diff)
	}
}

func TestBoltColumnOfTypes(t *testing.T) {
	t.Parallel()
	list := rows(t, "Crag,No.,Bolt", "Low Tor,1,staple", "Low Tor,2,glue in", "Low Tor,3,through bolt")
	if r := list.Rows[2]; r.Label != "3" || r.Form != registry.ThroughBolt {
		t.Errorf("label %q, form %q, want 3 and a through bolt", r.Label, r.Form)
	}
}

func TestCaveByHeadingOrWords(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name string
		text []string
		want registry.SiteKind
	}{
		{"a name", []string{"Crag;Bolt", "Low Cave;B1"}, registry.Cave},
		{"part of a word is no cave", []string{"Crag;Bolt", "Cavendish;B1"}, registry.Crag},
		{"a heading", []string{"Cave;Bolt", "Marrow Pot;B1"}, registry.Cave},
		{"pitches", []string{"Site;Pitch;Bolt", "Marrow Pot;First;B1"}, registry.Cave},
		{"a rebelay in another row", []string{"Site;Bolt", "Marrow Pot;B1", "marrow pot;rebelay"}, registry.Cave},
		{"a column", []string{"Crag;Bolt;Kind of site", "Low Cave;B1;sea cliff"}, registry.SeaCliff},
		{"a sea cliff is not guessed", []string{"Crag;Bolt", "Sea Cliff;B1"}, registry.Crag},
	} {
		if got := rows(t, c.text...).Rows[0].SiteKind; got != c.want {
			t.Errorf("%s: kind %q, want %q", c.name, got, c.want)
		}
	}
}

// Whatever the order of the columns, the same is read.
func TestOrderOfColumnsDoesNotMatter(t *testing.T) {
	t.Parallel()
	data, err := os.ReadFile(filepath.Join("..", "..", "testdata", "anchor-list.csv"))
	if err != nil {
		t.Fatal(err)
	}
	in := csv.NewReader(strings.NewReader(strings.TrimPrefix(string(data), "\ufeff")))
	in.Comma = ';'
	table, err := in.ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	table = slices.Concat(table[:80], table[100:140], table[176:200]) // three sites, swapped coordinates among them
	want := values(read(t, written(t, table), exchange.Mapping{}))
	indices := make([]int, len(table[0]))
	for i := range indices {
		indices[i] = i
	}
	rapid.Check(t, func(t *rapid.T) {
		order := rapid.Permutation(indices).Draw(t, "order")
		turned := make([][]string, len(table))
		for n, cells := range table {
			turned[n] = make([]string, len(cells))
			for i, from := range order {
				turned[n][i] = cells[from]
			}
		}
		list, err := exchange.ReadAnchorList("list.csv", []byte(written(t, turned)), exchange.Mapping{}, today)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(want, values(list)); diff != "" {
			t.Fatalf("rows (-first order +this order):\n%s", diff)
		}
	})
}

func written(t rapid.TB, table [][]string) string {
	var b strings.Builder
	if err := csv.NewWriter(&b).WriteAll(table); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// values returns the rows without what the order of the columns may change.
func values(list registry.List) []registry.ListRow {
	out := make([]registry.ListRow, len(list.Rows))
	for i, r := range list.Rows {
		r.Cells = nil
		out[i] = r
	}
	return out
}

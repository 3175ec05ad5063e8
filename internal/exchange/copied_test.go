package exchange_test

import (
	"fmt"
	"slices"
	"testing"

	"rockledger/internal/registry"
)

// columnOf is a list of one row a site and value, in the order given.
func columnOf(pairs ...string) []string {
	lines := []string{"Crag,Bolt,Last checked"}
	for i := 0; i < len(pairs); i += 2 {
		lines = append(lines, fmt.Sprintf("%s,B%d,%s", pairs[i], i, pairs[i+1]))
	}
	return lines
}

func copiedDoubts(l registry.List) []registry.Doubt {
	return slices.DeleteFunc(slices.Clone(l.Doubts), func(d registry.Doubt) bool { return d.Code != registry.DoubtColumnCopied })
}

// The limits, four sites in a row, or ten rows of several sites that are the
// whole list, are judgements of this project.
func TestCopiedDown(t *testing.T) {
	t.Parallel()
	const day, other = "2026-09-01", "2026-09-02"
	all := make([]string, 0, 40)
	for i := range 10 {
		all = append(all, []string{"Low Tor", "High Tor"}[i/5], day)
	}
	for _, c := range []struct {
		name  string
		pairs []string
		want  string // lines and sites; empty: nothing is doubted
	}{
		{"one date over four sites", []string{"A", day, "B", day, "C", day, "D", day, "E", other}, "2-5, 4 sites"},
		{"over three sites only", []string{"A", day, "B", day, "C", day, "D", other, "E", day}, ""},
		{"one of them written otherwise", []string{"A", day, "B", "01.09.2026", "C", day, "D", "1 September 2026", "E", other}, "2-5, 4 sites"},
		{"one of them blank", []string{"A", day, "B", day, "C", "", "C", day, "D", day, "E", other}, "2-6, 4 sites"},
		{"one of them not known", []string{"A", day, "B", day, "C", "?", "C", day, "D", day, "E", other}, "2-6, 4 sites"},
		{"every other blank", []string{"A", day, "A", "", "B", day, "B", "", "C", day, "C", "", "D", day}, ""},
		{"blank at first, then copied", []string{"A", day, "A", "", "A", "", "A", "", "A", day, "B", day, "C", day, "D", day}, "6-9, 4 sites"},
		{"copied, then one far below", []string{"A", day, "B", day, "C", day, "D", day, "E", "", "E", "", "E", day}, "2-5, 4 sites"},
		{"a year is not a day in it", []string{"A", day, "B", "2026", "C", day, "D", day}, ""},
		{"two sites by turns", []string{"A", day, "B", day, "A", day, "B", day, "A", other}, ""},
		{"not known is no value", []string{"A", "?", "B", "?", "C", "?", "D", "?"}, ""},
		{"all rows of two sites", all, "2-11, 2 sites"},
		{"all but one", append([]string{"Low Tor", other}, all...), ""},
		{"all rows, but few", all[:18], ""},
		{"all rows of one site", slices.Repeat([]string{"A", day}, 12), ""},
	} {
		got := ""
		for _, d := range copiedDoubts(rows(t, columnOf(c.pairs...)...)) {
			v := make(map[string]string)
			for _, x := range d.Values {
				v[x.Name] = x.Text
			}
			got += fmt.Sprintf("%s-%s, %s sites", v["from_line"], v["to_line"], v["sites"])
			if d.Column != "Last checked" || d.Text != day {
				t.Errorf("%s: doubt %+v", c.name, d)
			}
		}
		if got != c.want {
			t.Errorf("%s: %q, want %q", c.name, got, c.want)
		}
	}
}

// The sample's author put one day, written in three ways, into 70 rows of its
// four sites (counted in the file apart from the program).
func TestOneDayOverFourSites(t *testing.T) {
	t.Parallel()
	list := readFile(t, "anchor-list.csv")
	var found []registry.Doubt
	for _, d := range list.Doubts {
		if d.Code == registry.DoubtDayEverywhere {
			found = append(found, d)
		}
	}
	want := registry.Values{{Name: "rows", Text: "70"}, {Name: "sites", Text: "4"}}
	if len(found) != 1 || found[0].Column != "Last checked" || !slices.Equal(found[0].Values[2:], want) {
		t.Errorf("doubts %+v, want one of the last check with %+v", found, want)
	}
}

func TestCopiedDownLeavesWhatMayRepeat(t *testing.T) {
	t.Parallel()
	lines := []string{"Crag,Bolt,Landowner,Kind of site,Steel,Dia"}
	for i := range 12 {
		lines = append(lines, fmt.Sprintf("Tor %d,B1,Overmoor Estate,crag,316L,10mm", i))
	}
	if got := copiedDoubts(rows(t, lines...)); len(got) > 0 {
		t.Errorf("doubts %+v, want none: landowner, kind, metal and size may be the same", got)
	}
}

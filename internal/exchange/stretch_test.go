package exchange_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/exchange"
	"rockledger/internal/registry"
)

// sameInAnyHands reads a list in one goroutine that remembers nothing, and holds
// that it is read the same in several that do.
func sameInAnyHands(t *testing.T, data []byte, m exchange.Mapping) {
	t.Helper()
	want, err := exchange.ReadBy(0, data, m, today)
	if err != nil {
		t.Fatal(err)
	}
	for _, hands := range []int{1, 3, 4} {
		got, err := exchange.ReadBy(hands, data, m, today)
		if err != nil || !reflect.DeepEqual(want, got) { // cmp.Equal takes half a minute over a long list
			t.Fatalf("%v in %d hands (-in one that remembers nothing +got):\n%.3000s", err, hands, cmp.Diff(want, got))
		}
	}
}

// How many goroutines read a list, and what they remember of it, makes no
// difference to the rows, the doubts and their order.
func TestReadAnchorListInAnyHands(t *testing.T) {
	t.Parallel()
	for _, name := range []string{"anchor-list.csv", "american-list.csv", "cave-list.tsv"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", name))
		if err != nil {
			t.Fatal(err)
		}
		sameInAnyHands(t, data, exchange.Mapping{})
	}
	sameInAnyHands(t, messyList(exchange.MostKept+1000), exchange.Mapping{})
	for _, m := range []exchange.Mapping{
		{Site: "Invented Wall", DateOrder: "month-first"},
		{SiteKind: registry.Quarry, SiteKinds: map[string]registry.SiteKind{"TARN edge": registry.Cave, "low tor": registry.SeaCliff}},
	} {
		sameInAnyHands(t, messyList(500), m)
	}
}

// messyList invents a list on which everything goes wrong somewhere, each time
// the same. Two columns have one heading, so that doubts of a row tie.
func messyList(rows int) []byte {
	dice := rand.New(rand.NewPCG(1, 2))
	pick := func(from ...string) string { return from[dice.IntN(len(from))] }
	var b strings.Builder
	b.WriteString("Crag,Kind,Sector,Route,Bolt,Role,Type,Steel,Dia,Length,Hole,Glue,Batch,Fitted,By,Last checked,State,Lat,Lon,Landowner,Notes,Bolt\n")
	for i := range rows {
		cells := []string{
			pick("", "Tarn Edge", "tarn  edge", "Marrow Pot Cave", "Low Tor", fmt.Sprint("Crag ", i/7)),
			pick("", "", "quarry", "cave", "whatsit"), pick("", "Left", "n/k", strings.Repeat("long name ", 40)),
			pick("", "Plum", "First pitch", "Traverse", "Abseil in"), pick("", "B1", "rebelay 2", "?", fmt.Sprint(i)),
			pick("", "belay", "y-hang", "nonsense"), pick("", "through bolt", "glue in eye and hanger", "sleeve", "wedge glued", "whatsit", "twisted leg, no hanger", "?"),
			pick("A4", "316L", "A4 / BZP", "unobtainium", "", "stainless?"), pick("10mm", "3/8 x 3", "10 x 80", "M12", "500", "-3", "?", "1,000", "x"),
			pick("80mm", "3", "n/a", "9 km", "900"), pick("", "12", "14mm", "100"), pick("", "Resin X"), pick("", "b-1", "b-2"),
			pick("2016-05-12", "12/05/2016", "31/02/2012", "c. 1998", "2099-01-01", "", "?", "05/13/2014", fmt.Sprint(1980+i%40)),
			pick("Tester 1", "Tester 2", "unknown"), pick("2014-06-01", "13/05/2019", "last summer", "2001"),
			pick("ok", "spins", "replaced 2019", "replaced 31/02/2019, new one rusty", "loose nut", "hanger bent", "zorgle", "", "loose"),
			pick("54.00000", "54,1", "N54 12.741", "-2.3", "0", "", "200"), pick("-2.50000", "-2,1", "W2 20.2", "54.2", "0", ""),
			pick("", "Estate 1"), pick("", "hollow", "check next year; dripping", "ask farmer first", "use only as lower off"), pick("", "dup"),
		}
		switch dice.IntN(30) {
		case 0:
			cells = cells[:dice.IntN(len(cells))+1]
		case 1:
			cells = append(cells, "more")
		case 2:
			cells = []string{""}
		}
		for k, c := range cells {
			if strings.Contains(c, ",") {
				cells[k] = `"` + c + `"`
			}
		}
		b.WriteString(strings.Join(cells, ",") + "\n")
	}
	return []byte(b.String())
}

func TestStretches(t *testing.T) {
	t.Parallel()
	for _, c := range []struct{ hands, n int }{{1, 0}, {1, 5}, {4, 4}, {4, 4097}, {3, 10}} {
		var mu sync.Mutex
		parts := make([][2]int, c.hands)
		exchange.Stretches(c.hands, c.n, func(hand, from, to int) {
			mu.Lock()
			defer mu.Unlock()
			parts[hand] = [2]int{from, to}
		})
		next := 0
		for _, p := range parts {
			if p[0] != next || p[1] < p[0] {
				t.Errorf("%d things for %d hands: %v, want them all, in order", c.n, c.hands, parts)
			}
			next = p[1]
		}
		if next != c.n {
			t.Errorf("%d things for %d hands: %v, want them all", c.n, c.hands, parts)
		}
	}
}

// A panic while rows are read must reach the request that asked for it, which
// catches it, and not end the program.
func TestStretchesPanic(t *testing.T) {
	t.Parallel()
	for bad := range 3 {
		var mu sync.Mutex
		ended := 0
		func() {
			defer func() {
				if got := recover(); got != "row" {
					t.Errorf("hand %d of 3 panics: recovered %v, want what it panicked with", bad, got)
				}
			}()
			exchange.Stretches(3, 3, func(hand, _, _ int) {
				defer func() { mu.Lock(); ended++; mu.Unlock() }()
				if hand == bad {
					panic("row")
				}
			})
		}()
		if ended != 3 {
			t.Errorf("%d of 3 hands ended before the panic went on", ended)
		}
	}
}

func TestMemoIsBounded(t *testing.T) {
	t.Parallel()
	for _, n := range []int{1, exchange.MostKept, 3*exchange.MostKept + 1} {
		if kept, wrong := exchange.Kept(n); kept != min(n, exchange.MostKept) || wrong {
			t.Errorf("of %d texts %d are kept (read wrong: %v), want at most %d", n, kept, wrong, exchange.MostKept)
		}
	}
}

// The short cut past most texts takes none of the words for "not known".
func TestIsUnknown(t *testing.T) {
	t.Parallel()
	for _, w := range exchange.UnknownWords() {
		for _, text := range []string{w, strings.ToUpper(w), "  " + w + "\t", "\u00a0" + w} {
			if !exchange.IsUnknown(text) {
				t.Errorf("%q is not taken for \"not known\"", text)
			}
		}
	}
	for _, text := range []string{"B1", "through bolt", "0", "no", "Nil 2", "~", "unknown?", "'n/a", "é"} {
		if exchange.IsUnknown(text) {
			t.Errorf("%q is taken for \"not known\"", text)
		}
	}
}

func TestHasWord(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]bool{
		"pot": true, "old pot": true, "Pot hole": true, "spot pot": true, "pot-pots": true, "pots, pot": true,
		"": false, "pots": false, "spot": false, "potpot": false, "spot pots": false,
	} {
		if got := exchange.HasWord(text, "pot"); got != want {
			t.Errorf("HasWord(%q, pot) = %v, want %v", text, got, want)
		}
	}
	if exchange.HasWord("y hang legs", "y hang leg") || !exchange.HasWord("a y-hang leg", "y hang leg") {
		t.Error("phrases: want whole words only")
	}
}

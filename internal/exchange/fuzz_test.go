package exchange_test

import (
	"os"
	"path/filepath"
	"slices"
	"testing"

	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

func FuzzReadAnchorList(f *testing.F) {
	for _, name := range []string{"cave-list.tsv", "american-list.csv"} {
		data, err := os.ReadFile(filepath.Join("..", "..", "testdata", name))
		if err != nil {
			f.Fatal(err)
		}
		f.Add(data)
	}
	f.Add([]byte("Crag;Bolt;State;Coordinates\nLow Tor;B1;replaced 2019;54,1; -2,1\n"))
	f.Add([]byte("Cave,Pitch,Anchor,Dia\r\"Marrow\nPot\",First,,3/8\" x 3\r\r"))
	f.Add([]byte(`""`))
	f.Fuzz(func(t *testing.T, data []byte) {
		list, err := exchange.ReadAnchorList("list", data, exchange.Mapping{}, today)
		if err != nil {
			if fault.KindOf(err) != fault.Invalid {
				t.Fatalf("error %v, want fault.Invalid", err)
			}
			return
		}
		checkList(t, list)
		sameInAnyHands(t, data, exchange.Mapping{})
	})
}

// checkList holds what is true of every list.
func checkList(t *testing.T, list registry.List) {
	t.Helper()
	line := 0
	for _, r := range list.Rows {
		if r.Line <= line {
			t.Fatalf("line %d after line %d", r.Line, line)
		}
		line = r.Line
		if r.SiteKind == "" || len(r.Cells) < len(list.Headings) || (r.Lat == nil) != (r.Lon == nil) {
			t.Fatalf("row %+v", r)
		}
		if r.Blank && r.Site+r.Sector+r.Route+r.Label != "" {
			t.Fatalf("blank row with names: %+v", r)
		}
		if r.SiteKind == registry.Cave && r.Lat != nil {
			t.Fatalf("coordinates of a cave: %+v", r)
		}
		if r.SetOn.From > r.SetOn.To || r.SetOn.To > today || r.CheckedOn.To > today {
			t.Fatalf("dates out of order or ahead: %+v", r)
		}
	}
	known := registry.DoubtCodes()
	for i, d := range list.Doubts {
		if !slices.Contains(known, d.Code) || d.Line < 1 || i > 0 && d.Line < list.Doubts[i-1].Line {
			t.Fatalf("doubt %+v", d)
		}
	}
}

package corrosion_test

import (
	"encoding/csv"
	"os"
	"path/filepath"
	"strconv"
	"testing"
)

// table reads one of the published tables; each row by column. Where the
// figures come from stands in testdata/SOURCES.md and in the column confidence.
func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "corrosion", name))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	if len(records) < 2 {
		t.Fatalf("%s has no rows", name)
	}
	rows := make([]map[string]string, 0, len(records)-1)
	for _, record := range records[1:] {
		row := make(map[string]string, len(record))
		for i, heading := range records[0] {
			row[heading] = record[i]
		}
		rows = append(rows, row)
	}
	return rows
}

func number(t *testing.T, row map[string]string, column string) float64 {
	t.Helper()
	x, err := strconv.ParseFloat(row[column], 64)
	if err != nil {
		t.Fatalf("%v: column %s: %v", row, column, err)
	}
	return x
}

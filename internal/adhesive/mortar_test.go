package adhesive_test

import (
	"encoding/csv"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/adhesive"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// mortarTable reads a table of testdata/adhesive; where its figures come from
// stands in testdata/SOURCES.md.
func mortarTable(t *testing.T, name string) []map[string]float64 {
	t.Helper()
	f, err := os.Open(filepath.Join("..", "..", "testdata", "adhesive", name))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	records, err := csv.NewReader(f).ReadAll()
	if err != nil || len(records) < 2 {
		t.Fatalf("%s: %d rows, %v", name, len(records), err)
	}
	var rows []map[string]float64
	for _, record := range records[1:] {
		row := make(map[string]float64)
		for i, heading := range records[0] {
			if v, err := strconv.ParseFloat(record[i], 64); err == nil {
				row[heading] = v
			}
		}
		rows = append(rows, row)
	}
	return rows
}

func holeOf(row map[string]float64) adhesive.Hole {
	return adhesive.Hole{
		Diameter: quantity.Length(row["hole_diameter_mm"]), Depth: quantity.Length(row["hole_depth_mm"]),
		Embedded: quantity.Length(row["embedded_mm"]), Shank: quantity.Length(row["shank_diameter_mm"]),
	}
}

func volume(t *testing.T, h adhesive.Hole) float64 {
	t.Helper()
	v, err := h.Volume()
	if err != nil {
		t.Fatalf("%+v: %v", h, err)
	}
	return v
}

// Smooth shanks, worked out apart from the program.
func TestVolume(t *testing.T) {
	t.Parallel()
	for _, row := range mortarTable(t, "volume.csv") {
		if got := volume(t, holeOf(row)); math.Abs(got-row["volume_ml"]) > 0.001 {
			t.Errorf("%v: %.4f mL", row, got)
		}
	}
	// The unit: half an inch by 4 inches around 3/8 inch by 4 inches, in inches
	// π/4 · 4 · (0.5² - 0.375²) = 0.34361 in³ = 5.6308 mL (16.387064 mL/in³).
	inch := adhesive.Hole{Diameter: quantity.Inch / 2, Depth: 4 * quantity.Inch, Embedded: 4 * quantity.Inch, Shank: 3 * quantity.Inch / 8}
	if got := volume(t, inch); math.Abs(got-5.6308) > 0.0005 {
		t.Errorf("half-inch hole: %.4f mL, want 5.6308", got)
	}
}

// The published consumption, with the real section of the steel, implies the
// waste of the table; with the nominal diameter it looks like twice as much.
func TestVolumeAgainstPublishedConsumption(t *testing.T) {
	t.Parallel()
	for _, row := range mortarTable(t, "consumption.csv") {
		nominal := holeOf(row)
		threaded := nominal
		area := row["steel_area_mm2"]
		threaded.SteelAreaMM2 = &area
		got := volume(t, threaded)
		if math.Abs(got-row["volume_ml"]) > 0.001 || math.Abs(row["published_ml"]/got-row["waste"]) > 0.005 {
			t.Errorf("%v: %.4f mL, waste %.3f", row, got, row["published_ml"]/got)
		}
		if v := volume(t, nominal); math.Abs(v-row["nominal_volume_ml"]) > 0.001 || row["published_ml"]/v < 2.1 {
			t.Errorf("%v: nominal %.4f mL", row, v)
		}
		if !nominal.Nominal() || threaded.Nominal() {
			t.Errorf("%v: which section was taken is not told", row)
		}
		c := adhesive.Cartridge{ML: 300, Nozzles: 1}
		if n := c.Holes(row["published_ml"]); n != int(row["holes_per_300_ml"]) {
			t.Errorf("%v: %d holes of a cartridge", row, n)
		}
	}
}

func TestVolumeRejects(t *testing.T) {
	t.Parallel()
	good := adhesive.Hole{Diameter: 12, Depth: 85, Embedded: 80, Shank: 10}
	for name, tc := range map[string]struct {
		change func(*adhesive.Hole)
		field  string
		code   fault.Code
	}{
		"no diameter":               {func(h *adhesive.Hole) { h.Diameter = quantity.Length(math.NaN()) }, "hole_diameter_mm", fault.NotPositive},
		"no depth":                  {func(h *adhesive.Hole) { h.Depth, h.Embedded = 0, -1 }, "hole_depth_mm", fault.NotPositive},
		"a mile deep":               {func(h *adhesive.Hole) { h.Depth = 1001 }, "hole_depth_mm", fault.OutOfRange},
		"endless":                   {func(h *adhesive.Hole) { h.Depth = quantity.Length(math.Inf(1)) }, "hole_depth_mm", fault.OutOfRange},
		"steel longer than hole":    {func(h *adhesive.Hole) { h.Embedded = 85.1 }, "embedded_mm", fault.Mismatch},
		"shank as wide as hole":     {func(h *adhesive.Hole) { h.Shank = 12 }, "shank_diameter_mm", fault.Mismatch},
		"no shank and no section":   {func(h *adhesive.Hole) { h.Shank = 0 }, "shank_diameter_mm", fault.NotPositive},
		"section fills the hole":    {func(h *adhesive.Hole) { a := 113.1; h.SteelAreaMM2 = &a }, "steel_area_mm2", fault.Mismatch}, // π/4 · 12² = 113.097
		"section is not a number":   {func(h *adhesive.Hole) { a := math.NaN(); h.SteelAreaMM2 = &a }, "steel_area_mm2", fault.NotPositive},
		"shank wide beside section": {func(h *adhesive.Hole) { a := 50.0; h.SteelAreaMM2, h.Shank = &a, 13 }, "shank_diameter_mm", fault.Mismatch},
	} {
		h := good
		tc.change(&h)
		v, err := h.Volume()
		e, _ := fault.As(err)
		if v != 0 || e == nil || len(e.Violations) == 0 || e.Violations[0].Field != tc.field || e.Violations[0].Code != tc.code {
			t.Errorf("%s: %v, %v, want %s of %s", name, v, err, tc.code, tc.field)
		}
	}
	if _, err := (adhesive.Hole{Diameter: 12, Depth: 85, Embedded: 85, Shank: 10}).Volume(); err != nil {
		t.Errorf("steel as long as the hole is deep: %v", err)
	}
	area := 60.0
	if _, err := (adhesive.Hole{Diameter: 12, Depth: 85, Embedded: 80, SteelAreaMM2: &area}).Volume(); err != nil {
		t.Errorf("twisted legs by their section alone: %v", err)
	}
}

// A wider or deeper hole takes more, a thicker or longer shank less, and it is
// always something.
func TestVolumeIsMonotone(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		h := adhesive.Hole{
			Diameter: quantity.Length(rapid.Float64Range(8, 40).Draw(t, "diameter")),
			Depth:    quantity.Length(rapid.Float64Range(40, 300).Draw(t, "depth")),
		}
		h.Shank = h.Diameter * quantity.Length(rapid.Float64Range(0.3, 0.95).Draw(t, "shank"))
		h.Embedded = h.Depth * quantity.Length(rapid.Float64Range(0.3, 0.99).Draw(t, "embedded"))
		v, err := h.Volume()
		if err != nil || !(v > 0) {
			t.Fatalf("%+v: %v, %v", h, v, err)
		}
		wider, deeper, thicker, longer := h, h, h, h
		wider.Diameter *= 1.01
		deeper.Depth *= 1.01
		thicker.Shank *= 1.01
		longer.Embedded *= 1.005
		for name, more := range map[string]adhesive.Hole{"wider": wider, "deeper": deeper} {
			if w, err := more.Volume(); err != nil || w <= v {
				t.Fatalf("%s: %v after %v, %v", name, w, v, err)
			}
		}
		for name, less := range map[string]adhesive.Hole{"thicker": thicker, "longer": longer} {
			if w, err := less.Volume(); err != nil || w >= v {
				t.Fatalf("%s: %v after %v, %v", name, w, v, err)
			}
		}
	})
}

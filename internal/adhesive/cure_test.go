package adhesive_test

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/adhesive"
	"rockledger/internal/quantity"
)

// generic reads one product of testdata/adhesive/generic.csv. The tables are
// from memory and fixtures only; see testdata/SOURCES.md.
func generic(t *testing.T, product string) *adhesive.Sheet {
	t.Helper()
	file, err := os.Open("../../testdata/adhesive/generic.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = file.Close() }()
	lines, err := csv.NewReader(file).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	s := &adhesive.Sheet{}
	for _, l := range lines[1:] {
		if l[0] != product {
			continue
		}
		r := adhesive.Row{
			From: quantity.Temperature(whole(t, l[1])), To: quantity.Temperature(whole(t, l[2])),
			Working: whole(t, l[3]), Cure: whole(t, l[4]),
		}
		if l[5] != "" {
			wet := whole(t, l[5])
			r.CureWet = &wet
		}
		s.Rows = append(s.Rows, r)
	}
	return s
}

func whole(t *testing.T, text string) int {
	t.Helper()
	n, err := strconv.Atoi(text)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func at(c float64) *quantity.Temperature {
	t := quantity.Temperature(c)
	return &t
}

// The expected times stand in the tables of testdata/adhesive/generic.csv, from
// memory.
func TestCure(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name    string
		product string
		lowest  *quantity.Temperature
		hole    adhesive.Moisture
		want    int // minutes
		usual   bool
	}{
		{"8 degC, wet: four hours", "vinylester", at(8), adhesive.Saturated, 240, false}, // generic table, from memory
		{"lower end of the band", "vinylester", at(5), adhesive.Dry, 120, false},
		{"upper end of the band", "vinylester", at(9), adhesive.Dry, 120, false},
		{"between bands the colder", "vinylester", at(9.5), adhesive.Dry, 120, false},
		{"just below a band", "vinylester", at(9.999), adhesive.Dry, 120, false},
		{"next band", "vinylester", at(10), adhesive.Dry, 80, false},
		{"coldest row: a day", "vinylester", at(-10), adhesive.Dry, 1440, false},
		{"damp", "vinylester", at(10), adhesive.Damp, 160, false},
		{"moisture not known counts as wet", "vinylester", at(10), "", 160, false},
		{"a moisture that is no word", "vinylester", at(10), "moist", 160, false},
		{"nothing known: the coldest row, wet", "vinylester", nil, "", 2880, false},
		{"epoxy", "epoxy", at(12), adhesive.Dry, 1800, false},
		{"one degree only", "epoxy", at(40), adhesive.Dry, 240, false},
		{"rows of single degrees: never interpolated", "polyester", at(19.9), adhesive.Dry, 90, false},
		{"no wet time: the usual doubling", "polyester", at(20), adhesive.Damp, 100, true}, // common practice, no source
	}
	for _, test := range tests {
		got, why := adhesive.Cure(generic(t, test.product), test.lowest, test.hole)
		if why != "" || got.Minutes != test.want || got.Usual != test.usual ||
			got.Wet != (test.hole != adhesive.Dry) || got.Assumed != (test.lowest == nil) {
			t.Errorf("%s: Cure = %+v, %q; want %v minutes, usual %v", test.name, got, why, test.want, test.usual)
		}
	}
}

func TestCureGivesNoTime(t *testing.T) {
	t.Parallel()
	bounded := generic(t, "vinylester")
	bounded.Low, bounded.High = at(5), at(30)
	tests := []struct {
		name   string
		sheet  *adhesive.Sheet
		lowest *quantity.Temperature
		hole   adhesive.Moisture
		want   adhesive.Reason
	}{
		{"no rows", &adhesive.Sheet{}, at(10), adhesive.Dry, adhesive.NoTable},
		{"colder than the rows", generic(t, "vinylester"), at(-10.1), adhesive.Dry, adhesive.TooCold},
		{"warmer than the rows", generic(t, "vinylester"), at(39.5), adhesive.Dry, adhesive.TooWarm},
		{"colder than the sheet's bound", bounded, at(4), adhesive.Dry, adhesive.TooCold},
		{"warmer than the sheet's bound", bounded, at(31), adhesive.Dry, adhesive.TooWarm},
		{"no number", generic(t, "vinylester"), at(math.NaN()), adhesive.Dry, adhesive.TooCold},
		{"standing water", generic(t, "vinylester"), at(10), adhesive.WaterFilled, adhesive.Flooded},
		{"running water", generic(t, "vinylester"), at(10), adhesive.RunningIn, adhesive.Flooded},
	}
	for _, test := range tests {
		if got, why := adhesive.Cure(test.sheet, test.lowest, test.hole); why != test.want || got != (adhesive.Times{}) {
			t.Errorf("%s: Cure = %+v, %q; want no time, %q", test.name, got, why, test.want)
		}
	}
}

func TestCureInAFloodedHoleThatTheSheetNames(t *testing.T) {
	t.Parallel()
	s := generic(t, "epoxy")
	s.Allowed = []adhesive.Moisture{adhesive.Dry, adhesive.WaterFilled}
	if got, why := adhesive.Cure(s, at(10), adhesive.WaterFilled); why != "" || got.Minutes != 3600 {
		t.Errorf("Cure = %+v, %q; want the wet time, 3600 minutes", got, why)
	}
}

// Invented rows: what a sheet gives for a wet hole goes before the usual, and is
// never shorter than the dry time.
func TestWetTime(t *testing.T) {
	t.Parallel()
	factor := func(f float64) *float64 { return &f }
	minutes := func(m int) *int { return &m }
	tests := []struct {
		name   string
		wet    *int
		factor *float64
		want   int
		usual  bool
	}{
		{"the row's own", minutes(200), factor(3), 200, false},
		{"the row's own, shorter than dry", minutes(50), nil, 80, false},
		{"the sheet's factor", nil, factor(1.5), 120, false},
		{"the sheet's factor, rounded up", nil, factor(1.256), 101, false},
		{"a factor of nothing extra", nil, factor(1.1), 88, false},
		{"a factor below one", nil, factor(0.5), 80, false},
		{"the usual doubling", nil, nil, 160, true},
	}
	for _, test := range tests {
		s := &adhesive.Sheet{Rows: []adhesive.Row{{From: 10, To: 19, Working: 15, Cure: 80, CureWet: test.wet}}, WetFactor: test.factor}
		if got, why := adhesive.Cure(s, at(12), adhesive.Damp); why != "" || got.Minutes != test.want || got.Usual != test.usual {
			t.Errorf("%s: Cure = %+v, %q; want %v minutes, usual %v", test.name, got, why, test.want, test.usual)
		}
	}
}

func TestWorking(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name    string
		warmest *quantity.Temperature
		want    int // minutes; 0: no time
	}{
		{"8 degC", at(8), 25}, // generic vinylester, from memory
		{"between bands the warmer", at(9.5), 15},
		{"not known: the shortest", nil, 2},
		{"warmer than the sheet", at(40), 0},
		{"colder than the sheet", at(-11), 0},
	}
	for _, test := range tests {
		if got, ok := adhesive.Working(generic(t, "vinylester"), test.warmest); got != test.want || ok != (test.want > 0) {
			t.Errorf("%s: Working = %v, %v; want %v", test.name, got, ok, test.want)
		}
	}
	if _, ok := adhesive.Working(&adhesive.Sheet{}, nil); ok {
		t.Error("Working of a sheet without rows gives a time")
	}
}

// anySheet draws any table, misread ones too.
func anySheet(t *rapid.T) *adhesive.Sheet {
	s := &adhesive.Sheet{}
	for range rapid.IntRange(1, 6).Draw(t, "rows") {
		from := quantity.Temperature(rapid.IntRange(-10, 35).Draw(t, "from"))
		r := adhesive.Row{
			From: from, To: from + quantity.Temperature(rapid.IntRange(0, 10).Draw(t, "band")),
			Working: rapid.IntRange(1, 200).Draw(t, "working"), Cure: rapid.IntRange(1, 5000).Draw(t, "cure"),
		}
		if rapid.Bool().Draw(t, "has a wet time") {
			wet := rapid.IntRange(1, 9000).Draw(t, "wet")
			r.CureWet = &wet
		}
		s.Rows = append(s.Rows, r)
	}
	if rapid.Bool().Draw(t, "has a factor") {
		f := rapid.Float64Range(0.5, 4).Draw(t, "factor")
		s.WetFactor = &f
	}
	return s
}

// Of any sheet: colder never gives a shorter cure, wet never a shorter one than
// dry, learning the temperature never a longer one, and order means nothing.
func TestCureNeverFavours(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := anySheet(t)
		warm := rapid.Float64Range(-12, 47).Draw(t, "warm")
		cold := rapid.Float64Range(-12, warm).Draw(t, "cold")
		hole := rapid.SampledFrom([]adhesive.Moisture{adhesive.Dry, adhesive.Damp, ""}).Draw(t, "hole")
		w, warmWhy := adhesive.Cure(s, at(warm), hole)
		c, coldWhy := adhesive.Cure(s, at(cold), hole)
		if warmWhy == "" && coldWhy == "" && c.Minutes < w.Minutes {
			t.Fatalf("at %v %v minutes, at %v %v", warm, w.Minutes, cold, c.Minutes)
		}
		dry, _ := adhesive.Cure(s, at(warm), adhesive.Dry)
		wet, _ := adhesive.Cure(s, at(warm), adhesive.Saturated)
		unknown, _ := adhesive.Cure(s, nil, hole)
		mixed := *s
		mixed.Rows = rapid.Permutation(s.Rows).Draw(t, "reordered")
		again, _ := adhesive.Cure(&mixed, at(warm), hole)
		switch {
		case wet.Minutes < dry.Minutes:
			t.Fatalf("dry %v minutes, wet %v", dry.Minutes, wet.Minutes)
		case unknown.Minutes < w.Minutes:
			t.Fatalf("at %v %v minutes, not known %v", warm, w.Minutes, unknown.Minutes)
		case again.Minutes != w.Minutes:
			t.Fatalf("%v minutes, reordered %v", w.Minutes, again.Minutes)
		}
	})
}

// Warmer never gives a longer working time.
func TestWorkingNeverFavours(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		s := anySheet(t)
		warm := rapid.Float64Range(-12, 47).Draw(t, "warm")
		cold := rapid.Float64Range(-12, warm).Draw(t, "cold")
		w, okWarm := adhesive.Working(s, at(warm))
		c, okCold := adhesive.Working(s, at(cold))
		if okWarm && okCold && w > c {
			t.Fatalf("at %v %v minutes, at %v %v", cold, c, warm, w)
		}
		if least, _ := adhesive.Working(s, nil); okWarm && least > w {
			t.Fatalf("not known %v minutes, at %v %v", least, warm, w)
		}
	})
}

package quantity_test

import (
	"math"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Inches by the exact 25.4 mm of 1959; spellings are common practice, no source.
var lengths = []struct {
	text   string
	assume quantity.Unit
	want   float64 // mm
}{
	{"10mm", quantity.InMillimetres, 10},
	{"10", quantity.InMillimetres, 10},
	{"10", quantity.InCentimetres, 100},
	{"10", quantity.InInches, 254},
	{" 12 mm ", quantity.InInches, 12},
	{"12 MM.", quantity.InMillimetres, 12},
	{"12 millimetres", quantity.InMillimetres, 12},
	{"M10", quantity.InInches, 10},
	{"m 12", quantity.InMillimetres, 12},
	{"M12mm", quantity.InMillimetres, 12},
	{"Ø10", quantity.InMillimetres, 10},
	{"dia. 10 mm", quantity.InMillimetres, 10},
	{"12.7", quantity.InMillimetres, 12.7},
	{"12,7", quantity.InMillimetres, 12.7},
	{".5 in", quantity.InMillimetres, 12.7},
	{"1/2 in", quantity.InMillimetres, 12.7},
	{"1/2in", quantity.InMillimetres, 12.7},
	{`3/8"`, quantity.InMillimetres, 9.525},
	{"3/8in", quantity.InMillimetres, 9.525},
	{"3/8''", quantity.InMillimetres, 9.525},
	{"3/8″", quantity.InMillimetres, 9.525},
	{"3/8”", quantity.InMillimetres, 9.525},
	{"5/16in", quantity.InMillimetres, 7.9375},
	{"3/8", quantity.InMillimetres, 9.525}, // a bare fraction is inches
	{"3⁄8", quantity.InMillimetres, 9.525},
	{`1 1/2"`, quantity.InMillimetres, 38.1},
	{`1-1/2"`, quantity.InMillimetres, 38.1},
	{`½"`, quantity.InMillimetres, 12.7},
	{"⅜ in", quantity.InMillimetres, 9.525},
	{"2½ inches", quantity.InMillimetres, 63.5},
	{"4in", quantity.InMillimetres, 101.6},
	{"10cm", quantity.InMillimetres, 100},
	{"0.1 m", quantity.InMillimetres, 100},
	{"1.000 mm", quantity.InMillimetres, 1},
}

func TestParseLength(t *testing.T) {
	t.Parallel()
	for _, tc := range lengths {
		got, err := quantity.ParseLength(tc.text, tc.assume)
		if err != nil || !near(got.Millimetres(), tc.want) {
			t.Errorf("ParseLength(%q, %v) = %v mm, %v, want %v mm", tc.text, tc.assume, got, err, tc.want)
		}
	}
}

func TestParseLengthRejects(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]fault.Code{
		"": fault.Blank, "  ": fault.Blank, "?": fault.Blank, "n/k": fault.Blank, "–": fault.Blank, "Unknown": fault.Blank,
		"0": fault.NotPositive, "0/2 in": fault.NotPositive, "-12mm": fault.NotPositive, "−12 mm": fault.NotPositive, "-1/2": fault.NotPositive,
		"0.000": fault.NotPositive, "1,000": fault.Ambiguous, "12,700 mm": fault.Ambiguous,
		"ten": fault.NotANumber, "NaN": fault.NotANumber, "inf": fault.NotANumber, "1e3": fault.NotANumber, "0x10": fault.NotANumber,
		"10 ft": fault.NotANumber, "4'": fault.NotANumber, "12/10": fault.NotANumber, "1/3 in": fault.NotANumber, "1/0": fault.NotANumber,
		"M10in": fault.NotANumber, "M3/8": fault.NotANumber, "10-12 mm": fault.NotANumber, "10x80": fault.NotANumber, "12345678901": fault.NotANumber,
		"10 mm?": fault.NotANumber, "~10": fault.NotANumber,
	} {
		got, err := quantity.ParseLength(text, quantity.InMillimetres)
		if fault.KindOf(err) != fault.Invalid || fault.CodeOf(err) != want || got != 0 {
			t.Errorf("ParseLength(%q) = %v, %v (%v), want %v", text, got, err, fault.CodeOf(err), want)
		}
	}
}

func TestParseLengthNamesTheText(t *testing.T) {
	t.Parallel()
	_, err := quantity.ParseLength(" ten ", quantity.InMillimetres)
	if e, ok := fault.As(err); !ok || e.Values["text"] != "ten" {
		t.Errorf("ParseLength(ten): %#v, want the text among its values", err)
	}
}

func TestParseSize(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		text             string
		diameter, length float64
	}{
		{"3/8 x 3", 9.525, 76.2},
		{`3/8" x 3"`, 9.525, 76.2},
		{"1/2 x 2 3/4", 12.7, 69.85},
		{"3/8in x 80mm", 9.525, 80},
		{"10x80", 10, 80},
		{"M10 x 80mm", 10, 80},
		{"m10X80", 10, 80},
		{"12 × 100", 12, 100},
		{"10 * 80 mm", 10, 80},
		{"10 x 8cm", 10, 80},
		{"10 x 4in", 10, 101.6},
		{"M12", 12, 0},
		{"3/8", 9.525, 0},
	} {
		d, l, err := quantity.ParseSize(tc.text)
		if err != nil || !near(d.Millimetres(), tc.diameter) || !near(l.Millimetres(), tc.length) {
			t.Errorf("ParseSize(%q) = %v, %v, %v, want %v, %v", tc.text, d, l, err, tc.diameter, tc.length)
		}
	}
}

func TestParseSizeRejects(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]fault.Code{
		"": fault.Blank, "?": fault.Blank,
		"10 x": fault.NotANumber, "x 80": fault.NotANumber, "? x 80": fault.NotANumber, "10 x 80 x 15": fault.NotANumber, "big": fault.NotANumber,
		"10 x 0": fault.NotPositive, "-10 x 80": fault.NotPositive,
	} {
		d, l, err := quantity.ParseSize(text)
		e, ok := fault.As(err)
		if !ok || e.Kind != fault.Invalid || e.Code != want || e.Values["text"] != text || d != 0 || l != 0 {
			t.Errorf("ParseSize(%q) = %v, %v, %v (%v), want %v", text, d, l, err, fault.CodeOf(err), want)
		}
	}
}

func FuzzParseSize(f *testing.F) {
	for _, tc := range lengths {
		f.Add(tc.text)
		f.Add(tc.text + " x " + tc.text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		d, l, err := quantity.ParseSize(text)
		switch {
		case err != nil && (d != 0 || l != 0):
			t.Errorf("ParseSize(%q) = %v, %v beside error %v", text, d, l, err)
		case err == nil && (!(d > 0) || l < 0 || math.IsInf(float64(d+l), 0)):
			t.Errorf("ParseSize(%q) = %v, %v", text, d, l)
		}
	})
}

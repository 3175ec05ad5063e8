package web

import (
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"
)

// Contrast after WCAG 2.2: 1.4.6 asks 7:1 of text (level AAA, since the pages
// are read in sunlight), 1.4.11 asks 3:1 of marks and borders of fields.
func TestColoursContrast(t *testing.T) {
	t.Parallel()
	css := string(assets["rockledger.css"].content)
	for _, c := range []struct {
		fore, back string
		least      float64
	}{
		{"ink", "paper", 7},
		{"ink-soft", "paper", 7},
		{"ink", "ground", 7},
		{"ink-soft", "ground", 7},
		{"link", "paper", 7},
		{"paper", "slate", 7},
		{"ink", "orange", 7},
		{"paper", "ink", 7},
		{"paper", "vermillion", 4.5}, // bold words in a badge: 1.4.3
		{"vermillion", "paper", 3},
		{"blue", "paper", 3},
		{"line", "paper", 3},
		{"orange", "slate", 3},
	} {
		if got := contrast(colour(t, css, c.fore), colour(t, css, c.back)); got < c.least {
			t.Errorf("%s on %s: %.2f:1, want at least %g:1", c.fore, c.back, got, c.least)
		}
	}
}

// Black on white is 21:1 by WCAG 2.2's own definition.
func TestContrast(t *testing.T) {
	t.Parallel()
	if got := contrast([3]float64{}, [3]float64{255, 255, 255}); math.Abs(got-21) > 1e-9 {
		t.Errorf("contrast of black on white = %v, want 21", got)
	}
}

// Targets are at least 44 px high (2.75 rem of 16 px), more than the 24 px that
// WCAG 2.2, 2.5.8 asks.
func TestTapTargets(t *testing.T) {
	t.Parallel()
	if css := string(assets["rockledger.css"].content); !strings.Contains(css, "--tap: 2.75rem;") {
		t.Error("--tap is not 2.75rem")
	}
}

func colour(t *testing.T, css, name string) [3]float64 {
	t.Helper()
	m := regexp.MustCompile(`--` + name + `: #([0-9a-f]{6});`).FindStringSubmatch(css)
	if m == nil {
		t.Fatalf("no colour --%s", name)
	}
	var rgb [3]float64
	for i := range rgb {
		v, err := strconv.ParseUint(m[1][2*i:2*i+2], 16, 8)
		if err != nil {
			t.Fatal(err)
		}
		rgb[i] = float64(v)
	}
	return rgb
}

// contrast is WCAG 2.2's contrast ratio of two colours, channels 0 to 255.
func contrast(a, b [3]float64) float64 {
	la, lb := luminance(a), luminance(b)
	return (max(la, lb) + 0.05) / (min(la, lb) + 0.05)
}

// luminance is WCAG 2.2's relative luminance.
func luminance(rgb [3]float64) float64 {
	weights, sum := [3]float64{0.2126, 0.7152, 0.0722}, 0.0
	for i, v := range rgb {
		v /= 255
		if v <= 0.04045 {
			v /= 12.92
		} else {
			v = math.Pow((v+0.055)/1.055, 2.4)
		}
		sum += weights[i] * v
	}
	return sum
}

package quantity_test

import (
	"math"
	"testing"

	"rockledger/internal/quantity"
)

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-9*math.Max(1, math.Abs(b)) }

func TestUnits(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct {
		name      string
		got, want float64
	}{
		{"half an inch", (quantity.Inch / 2).Millimetres(), 12.7}, // 25.4 mm, international yard and pound agreement 1959
		{"micrometres", quantity.Length(0.085).Micrometres(), 85},
		{"a micrometre", (85 * quantity.Micrometre).Millimetres(), 0.085},
		{"metres", quantity.Length(1500).Metres(), 1.5},
		{"kilometres", (250 * quantity.Metre).Kilometres(), 0.25},
		{"newtons", quantity.Force(15).Newtons(), 15000},
		{"kilonewtons", (2500 * quantity.Newton).Kilonewtons(), 2.5},
		{"celsius", quantity.Temperature(-5).Celsius(), -5},
		{"unknown unit", quantity.Unit("ft").Length().Millimetres(), 0},
	} {
		if !near(tc.got, tc.want) {
			t.Errorf("%s = %v, want %v", tc.name, tc.got, tc.want)
		}
	}
}

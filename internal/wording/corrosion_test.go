package wording_test

import (
	"slices"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestCorrosionWarning(t *testing.T) {
	t.Parallel()
	values := func(pairs ...string) registry.Values {
		var v registry.Values
		for pair := range slices.Chunk(pairs, 2) {
			v = append(v, registry.Value{Name: pair[0], Text: pair[1]})
		}
		return v
	}
	for _, c := range []struct {
		code string
		v    registry.Values
		want string
	}{
		{
			"humidity-outside-model", values("field", "humidity_pct", "value", "99", "used", "93", "from", "34", "to", "93", "treatment", "clamped"),
			"The relative humidity, 99 %, lies outside the range of the model (34 to 93 %); 93 % was used, and the estimate is less certain.",
		},
		{
			"years-outside-model", values("field", "years", "value", "120", "used", "120", "from", "0", "to", "100", "treatment", "extrapolated"),
			"The number of years, 120, lies outside the range of the model (0 to 100); it was used as it is, and the estimate is less certain.",
		},
		{"no-deposition", nil, "Neither sulphur dioxide nor chloride was given; no air is free of both, so the least amounts of the model were used."},
		{"something-new", nil, "Something new."},
	} {
		if got := wording.CorrosionWarning(c.code, c.v); got != c.want {
			t.Errorf("CorrosionWarning(%q, %v) = %q, want %q", c.code, c.v, got, c.want)
		}
	}
}

package bench

import (
	"math"
	"testing"
	"time"

	"github.com/jackc/pgx/v5/pgtype"
)

func TestMedian(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name   string
		values []time.Duration
		want   time.Duration
	}{
		{"none", nil, 0},
		{"one", []time.Duration{7}, 7},
		{"the middle, not the mean", []time.Duration{90, 1, 2}, 2},
		{"between the middle two", []time.Duration{8, 1, 2, 90}, 5},
	}
	for _, tt := range tests {
		if got := median(tt.values); got != tt.want {
			t.Errorf("%s: median(%v) = %v, want %v", tt.name, tt.values, got, tt.want)
		}
	}
}

func TestQuantile(t *testing.T) {
	t.Parallel()
	tests := []struct {
		values []float64
		p      float64
		want   float64
	}{
		{[]float64{7}, 0.25, 7},
		{[]float64{90, 1, 2}, 0.5, 2},
		{[]float64{8, 1, 2, 90}, 0.5, 5},    // between the middle two
		{[]float64{4, 0, 1, 3, 2}, 0.25, 1}, // the second of five
		{[]float64{-4, 0, 4, 8}, 0.75, 5},   // a quarter of the way from 4 to 8
		{[]float64{3, 1}, 1, 3},             // the greatest
	}
	for _, tt := range tests {
		if got := quantile(tt.values, tt.p); got != tt.want {
			t.Errorf("quantile(%v, %v) = %v, want %v", tt.values, tt.p, got, tt.want)
		}
	}
	if got := quantile(nil, 0.5); !math.IsNaN(got) {
		t.Errorf("quantile of none = %v, want NaN", got)
	}
}

// What pgbench prints is that of version 15, shortened.
func TestPerSecond(t *testing.T) {
	t.Parallel()
	const out = "number of failed transactions: 0 (0.000%)\nlatency average = 0.5 ms\ntps = 1999.25 (without initial connection time)\n"
	if got, err := perSecond(out); err != nil || got != 1999.25 {
		t.Errorf("perSecond(%q) = %v, %v, want 1999.25", out, got, err)
	}
	for _, bad := range []string{"", "tps = 0.000000 (without initial connection time)\n", "number of failed transactions: 3 (1%)\n" + out} {
		if got, err := perSecond(bad); err == nil {
			t.Errorf("perSecond(%q) = %v, want an error", bad, got)
		}
	}
}

func TestLiteral(t *testing.T) {
	t.Parallel()
	text := `{"a":1, "b":"it's \ $1"}`
	tests := []struct {
		name  string
		oid   uint32
		value any
		want  string
	}{
		{"what pgbench would take for a variable", pgtype.TextOID, text, `E'{"a"\x3a1, "b"\x3a"it''s \\ \x241"}'::text`},
		{"number", pgtype.Int8OID, 100, `E'100'::int8`},
		{"not known", pgtype.DateOID, nil, `NULL::date`},
		{"list", pgtype.TextArrayOID, []string{"a", "b"}, `E'{a,b}'::_text`},
	}
	for _, tt := range tests {
		if got, err := literal(pgtype.NewMap(), tt.oid, tt.value); err != nil || got != tt.want {
			t.Errorf("%s: literal(%v) = %s, %v, want %s", tt.name, tt.value, got, err, tt.want)
		}
	}
}

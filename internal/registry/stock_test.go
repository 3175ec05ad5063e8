package registry_test

import (
	"fmt"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

func ptr[T any](v T) *T { return &v }

func wrongFields(err error) []string {
	e, ok := fault.As(err)
	if !ok {
		return nil
	}
	var out []string
	for _, v := range e.Violations {
		out = append(out, v.Field+" "+string(v.Code))
	}
	return out
}

// The rows are invented; what may not be is the form of any sheet.
func TestSheetRejects(t *testing.T) {
	t.Parallel()
	row := func(from, to quantity.Temperature, work, cure int) registry.CureRow {
		return registry.CureRow{FromC: from, ToC: to, WorkMinutes: work, CureMinutes: cure}
	}
	for name, tc := range map[string]struct {
		change func(*registry.ProductVersion)
		want   []string
	}{
		"from cold to warm": {func(v *registry.ProductVersion) {
			v.CureRows = []registry.CureRow{row(0, 4, 45, 420), row(5, 9, 25, 120), row(40, 40, 5, 5)}
		}, nil},
		"rows overlap": {func(v *registry.ProductVersion) {
			v.CureRows = []registry.CureRow{row(0, 5, 45, 420), row(5, 9, 25, 120)}
		}, []string{"cure_rows[1].from_c order"}},
		"rows from warm to cold": {func(v *registry.ProductVersion) {
			v.CureRows = []registry.CureRow{row(5, 9, 25, 120), row(0, 4, 45, 420)}
		}, []string{"cure_rows[1].from_c order"}},
		"row turned round":     {func(v *registry.ProductVersion) { v.CureRows = []registry.CureRow{row(9, 5, 25, 120)} }, []string{"cure_rows[0].to_c order"}},
		"no minutes":           {func(v *registry.ProductVersion) { v.CureRows = []registry.CureRow{row(5, 9, 0, 0)} }, []string{"cure_rows[0].work_minutes out-of-range", "cure_rows[0].cure_minutes out-of-range"}},
		"cured while workable": {func(v *registry.ProductVersion) { v.CureRows = []registry.CureRow{row(5, 9, 120, 25)} }, []string{"cure_rows[0].cure_minutes mismatch"}},
		"wet sooner than dry": {func(v *registry.ProductVersion) {
			v.CureRows = []registry.CureRow{{FromC: 5, ToC: 9, WorkMinutes: 25, CureMinutes: 120, CureWetMinutes: ptr(60)}}
		}, []string{"cure_rows[0].cure_wet_minutes mismatch"}},
		"wet factor below one": {func(v *registry.ProductVersion) { v.WetFactor = ptr(0.5) }, []string{"wet_factor out-of-range"}},
		"wet factor of one":    {func(v *registry.ProductVersion) { v.WetFactor = ptr(1.0) }, nil},
		"moisture twice": {func(v *registry.ProductVersion) {
			v.Moistures = []registry.Moisture{registry.HoleDry, registry.HoleDry}
		}, []string{"moistures duplicate"}},
		"no such moisture": {func(v *registry.ProductVersion) { v.Moistures = []registry.Moisture{"moist"} }, []string{"moistures unknown"}},
		"band turned round": {func(v *registry.ProductVersion) {
			v.RockLowC, v.RockHighC = ptr(quantity.Temperature(30)), ptr(quantity.Temperature(5))
		}, []string{"rock_high_c order"}},
		"section of nothing":    {func(v *registry.ProductVersion) { v.SteelAreaMM2, v.TorqueNM = ptr(0.0), ptr(501.0) }, []string{"steel_area_mm2 not-positive", "torque_nm out-of-range"}},
		"a bucket of cartridge": {func(v *registry.ProductVersion) { v.CartridgeML, v.ShelfMonths = ptr(5001.0), ptr(0) }, []string{"shelf_months out-of-range", "cartridge_ml out-of-range"}},
	} {
		v := registry.ProductVersion{From: calendar.NewDate(2024, time.May, 1), Source: "invented"}
		tc.change(&v)
		if d := cmp.Diff(tc.want, wrongFields(v.Validate())); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
}

func TestFitsKind(t *testing.T) {
	t.Parallel()
	v := registry.ProductVersion{Hole: ptr(quantity.Length(12)), TorqueNM: ptr(40.0)}
	if err := v.FitsKind(registry.Hardware); err != nil {
		t.Errorf("hardware: %v", err)
	}
	if d := cmp.Diff([]string{"hole_diameter_mm mismatch", "torque_nm mismatch"}, wrongFields(v.FitsKind(registry.Adhesive))); d != "" {
		t.Errorf("adhesive with a hole (-want +got):\n%s", d)
	}
	glue := registry.ProductVersion{CureRows: make([]registry.CureRow, 1), ShelfMonths: ptr(12)}
	if d := cmp.Diff([]string{"cure_rows mismatch", "shelf_months mismatch"}, wrongFields(glue.FitsKind(registry.Hardware))); d != "" {
		t.Errorf("hardware with a cure table (-want +got):\n%s", d)
	}
}

func TestBatchCounts(t *testing.T) {
	t.Parallel()
	for name, tc := range map[string]struct {
		b    registry.Batch
		want []string
	}{
		"counted":            {registry.Batch{Text: "A", Received: ptr(12), OnHand: ptr(12)}, nil},
		"not counted":        {registry.Batch{Text: "A", OnHand: ptr(3)}, nil},
		"more than received": {registry.Batch{Text: "A", Received: ptr(12), OnHand: ptr(13)}, []string{"count_on_hand mismatch"}},
		"below nothing":      {registry.Batch{Text: "A", OnHand: ptr(-1)}, []string{"count_on_hand out-of-range"}},
		"punctuation alone":  {registry.Batch{Text: "- /"}, []string{"text blank"}},
	} {
		if d := cmp.Diff(tc.want, wrongFields(tc.b.Validate())); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
}

// Sixty days ahead is a default of this project; the day printed is the last
// good one.
func TestExpiry(t *testing.T) {
	t.Parallel()
	on := calendar.NewDate(2026, time.May, 3)
	for days, want := range map[int]registry.Expiry{
		-1: registry.InDate, 0: registry.InDate, 1: registry.ExpiresSoon, 61: registry.ExpiresSoon, 62: registry.Expired,
	} {
		asOf := on.AddDays(days - 61)
		if got := (registry.Batch{ExpiresOn: on}).Expiry(asOf); got != want {
			t.Errorf("%d days before: %q, want %q", 61-days, got, want)
		}
	}
	if got := (registry.Batch{}).Expiry(on); got != "" {
		t.Errorf("not known: %q", got)
	}
	for want, b := range map[bool][]registry.Batch{
		true:  {{}, {OnHand: ptr(1)}},
		false: {{OnHand: ptr(0)}, {EndedOn: on}, {EndedOn: on, OnHand: ptr(4)}},
	} {
		for _, x := range b {
			if x.Shelved() != want {
				t.Errorf("Shelved() of %+v, want %v", x, want)
			}
		}
	}
}

// Nothing that ships names a maker, a metal or more than a form.
func TestShippedProducts(t *testing.T) {
	t.Parallel()
	seen := make(map[string]bool)
	for i, p := range registry.ShippedProducts() {
		if err := p.Validate(); err != nil || !p.Shipped || p.Maker != "" || p.Metal.Known() || seen[p.Name] {
			t.Error(fmt.Sprint("product ", i), p, err)
		}
		seen[p.Name] = true
	}
}

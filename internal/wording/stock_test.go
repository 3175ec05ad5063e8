package wording_test

import (
	"strings"
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestStockWords(t *testing.T) {
	t.Parallel()
	n := func(v int) *int { return &v }
	on := calendar.NewDate(2026, time.May, 1)
	for want, got := range map[string]string{
		"25 min":                               wording.SheetMinutes(25),
		"2 h":                                  wording.SheetMinutes(120),
		"1 h 20 min":                           wording.SheetMinutes(80),
		"5 to 9":                               wording.Span(5, 9),
		"-5.5":                                 wording.Span(-5.5, -5.5),
		"Slow resin":                           wording.ProductName(registry.Product{Name: "Slow resin"}),
		"Slow resin, invented maker":           wording.ProductName(registry.Product{Name: "Slow resin", Maker: "invented maker"}),
		"Vinylester (generic entry)":           wording.ProductName(registry.Product{Name: "Vinylester", Shipped: true}),
		"received: 20 cartridges":              wording.ReceivedAs(registry.Batch{Quantity: "20 cartridges"}),
		"7 of 12 on hand":                      wording.OnHand(registry.Batch{Received: n(12), OnHand: n(7)}),
		"7 on hand":                            wording.OnHand(registry.Batch{OnHand: n(7)}),
		"count not known":                      wording.OnHand(registry.Batch{Received: n(12)}),
		"used up or thrown away on 1 May 2026": wording.OnHand(registry.Batch{OnHand: n(7), EndedOn: on}),
		"expired on 1 May 2026: never to be used": wording.Expiry(registry.Expired, on),
		"expires soon, on 1 May 2026":             wording.Expiry(registry.ExpiresSoon, on),
		"expires on 1 May 2026":                   wording.Expiry(registry.InDate, on),
		"expiry not known":                        wording.Expiry("", 0),
	} {
		if got != want {
			t.Errorf("got %q, want %q", got, want)
		}
	}
}

// A default is named as one, a number of one reads as one, and a code without a
// sentence says at least its name.
func TestMortarNote(t *testing.T) {
	t.Parallel()
	for code, want := range map[string]string{
		"default-waste": "default of this project", "default-cartridge": "common practice, no source", "default-purge": "common practice, no source",
		"short": "1 more cartridge wanted", "nominal-diameter": "give the real section", "expired": "1 expired batch is left out",
		"no-such-note": "No such note.",
	} {
		v := registry.Values{{Name: "short", Text: "1"}, {Name: "batches", Text: "1"}, {Name: "waste", Text: "1.3"}, {Name: "ml", Text: "300"}}
		if got := wording.MortarNote(code, v); !strings.Contains(got, want) {
			t.Errorf("MortarNote(%s) = %q, want %q in it", code, got, want)
		}
	}
}

func TestStockFaults(t *testing.T) {
	t.Parallel()
	for want, v := range map[string]fault.Violation{
		"as “L1709-A”":          {Code: fault.Duplicate, Values: map[string]string{"batch": "L1709-A"}},
		"Line 2, “5..9: 25, 2”": {Code: fault.Malformed, Values: map[string]string{"line": "2", "text": "5..9: 25, 2", "wanted": "5..9: 25 min, 2 h"}},
		"deeper than the hole":  {Code: fault.Mismatch, Values: map[string]string{"with": "hole_depth_mm"}},
		"no such figure":        {Code: fault.Mismatch, Values: map[string]string{"with": "kind"}},
		"above 9 °C":            {Code: fault.Order, Values: map[string]string{"above_c": "9"}},
		"takes no sheet":        {Code: fault.NotAllowed, Values: map[string]string{"shipped": "Generic"}},
	} {
		if got := wording.Violation(v); !strings.Contains(got, want) {
			t.Errorf("%v: %q, want %q in it", v.Code, got, want)
		}
	}
}

package postgres

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"reflect"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

// A row's whole text is what ledger.Canonical makes of it (RFC 8785).
func TestRowTexts(t *testing.T) {
	t.Parallel()
	t.Run("anchor", rowTexts[anchorRow])
	t.Run("fitting", rowTexts[fittingRow])
	t.Run("position", rowTexts[positionRow])
	t.Run("site", rowTexts[siteRow])
	t.Run("sector", rowTexts[sectorRow])
	t.Run("route", rowTexts[routeRow])
	t.Run("stop", rowTexts[stopRow])
	t.Run("assembly", rowTexts[assemblyRow])
	t.Run("person", rowTexts[personRow])
	t.Run("landowner", rowTexts[landownerRow])
	t.Run("parcel", rowTexts[parcelRow])
	t.Run("agreement", rowTexts[agreementRow])
	t.Run("product", rowTexts[productRow])
	t.Run("product version", rowTexts[productVersionRow])
	t.Run("batch", rowTexts[batchRow])
	t.Run("picture", rowTexts[pictureRow])
	t.Run("restriction", rowTexts[restrictionRow])
	t.Run("environment", rowTexts[environmentRow])
	t.Run("event", rowTexts[eventRow])
	t.Run("notice", rowTexts[noticeRow])
	t.Run("session", rowTexts[sessionRow])
	t.Run("installation", rowTexts[installationRow])
	t.Run("cure", rowTexts[cureRow])
	t.Run("first use", rowTexts[firstUseRow])
	t.Run("inspection", rowTexts[inspectionRow])
	t.Run("maintenance", rowTexts[maintenanceRow])
	t.Run("removal", rowTexts[removalRow])
	t.Run("marking", rowTexts[markingRow])
	t.Run("settlement", rowTexts[settlementRow])
	t.Run("retraction", rowTexts[retractionRow])
	t.Run("proposal", rowTexts[proposalRow])
	t.Run("job", rowTexts[jobRow])
	t.Run("import row", rowTexts[importedTableRow])
	t.Run("assessment", rowTexts[assessmentRow])
	t.Run("finding", rowTexts[findingRow])
	t.Run("candidate", rowTexts[candidateRow])
	t.Run("history", rowTexts[historyRow])
	t.Run("piece", rowTexts[pieceEntry])
	t.Run("measurement", rowTexts[registry.Measurement])
}

func rowTexts[R any](t *testing.T) {
	t.Parallel()
	dice := rand.New(rand.NewPCG(1, 2))
	for range 200 {
		var r R
		invent(dice, reflect.ValueOf(&r).Elem())
		want, err := ledger.Canonical(r)
		if err != nil {
			t.Fatal(err)
		}
		got, err := textOf(r, whole)
		if err != nil || got != want {
			t.Fatalf("whole text, %v (-want +got):\n%s", err, cmp.Diff(want, got))
		}
		present := sparseOf(t, want)
		if got, err = textOf(r, sparse); err != nil || got != present {
			t.Fatalf("sparse text, %v (-want +got):\n%s", err, cmp.Diff(present, got))
		}
	}
}

// sparseOf leaves the members of a canonical text out that are null.
func sparseOf(t *testing.T, text string) string {
	t.Helper()
	out, err := ledger.Canonical(presentOf(t, text))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

func presentOf(t *testing.T, text string) map[string]json.RawMessage {
	t.Helper()
	var out map[string]json.RawMessage
	if err := json.Unmarshal([]byte(text), &out); err != nil {
		t.Fatalf("%v in %s", err, text)
	}
	for name, value := range out {
		if string(value) == "null" {
			delete(out, name)
		}
	}
	return out
}

// awkward texts and numbers, with those that JSON writes in a way of its own.
var (
	awkward = []string{"", "plain", "é – \u2028 <&>", `quote " and \`, "tab\tand\x00nul", "\x7f", "\xff not UTF-8", "😀", "null"}
	numbers = []float64{0, math.Copysign(0, -1), 1, -3, 0.1, 12.5, 1e-6, 9.99e-7, 1e20, 1e21, -1e22, 1 << 53, 1<<53 + 2, 5e-324, math.MaxFloat64, 123456.789}
	wholes  = []int{0, 1, -1, 42, 1<<53 - 1, 1 << 53, 1<<53 + 1, -1 << 60}
)

// invent fills a value with anything, awkward things too.
func invent(dice *rand.Rand, v reflect.Value) {
	switch v.Type() {
	case reflect.TypeFor[calendar.Date]():
		v.SetInt(int64(dice.IntN(2) * dice.IntN(900_000)))
		return
	case reflect.TypeFor[time.Time]():
		zone := []*time.Location{time.UTC, time.FixedZone("east", 3600)}[dice.IntN(2)]
		v.Set(reflect.ValueOf(time.Unix(dice.Int64N(4e9), dice.Int64N(1e9)/1000*1000).In(zone)))
		return
	case reflect.TypeFor[json.RawMessage]():
		v.SetBytes([]byte(`{"b": 1, "a": [2, null]}`))
		return
	case reflect.TypeFor[registry.Values]():
		v.Set(reflect.ValueOf(registry.Values{{Name: "b", Text: awkward[dice.IntN(len(awkward)-3)]}, {Name: "a", Text: "1"}}))
		return
	}
	switch v.Kind() {
	case reflect.Struct:
		for i := range v.NumField() {
			if f := v.Type().Field(i); f.IsExported() || f.Anonymous {
				invent(dice, v.Field(i))
			}
		}
	case reflect.Array:
		for i := range v.Len() {
			invent(dice, v.Index(i))
		}
	case reflect.Pointer:
		if dice.IntN(2) == 0 {
			v.Set(reflect.New(v.Type().Elem()))
			invent(dice, v.Elem())
		}
	case reflect.Slice:
		if n := dice.IntN(4); n > 0 {
			v.Set(reflect.MakeSlice(v.Type(), n-1, n-1))
			for i := range n - 1 {
				invent(dice, v.Index(i))
			}
		}
	case reflect.String:
		v.SetString(awkward[dice.IntN(len(awkward))])
	case reflect.Float64:
		v.SetFloat(numbers[dice.IntN(len(numbers))])
	case reflect.Int:
		v.SetInt(int64(wholes[dice.IntN(len(wholes))]))
	case reflect.Uint8:
		v.SetUint(uint64(dice.IntN(256)))
	case reflect.Bool:
		v.SetBool(dice.IntN(2) == 0)
	default:
	}
}

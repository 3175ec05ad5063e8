package httpapi_test

import (
	"slices"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

func spec(t *testing.T) *openapi3.T {
	t.Helper()
	doc, err := api.GetSpec()
	if err != nil {
		t.Fatalf("contract: %v", err)
	}
	return doc
}

// TestOperationsHaveRoles holds that the contract and the table of who may do
// what name the same operations; only the pages have viewToday.
func TestOperationsHaveRoles(t *testing.T) {
	t.Parallel()
	var inSpec, inTable []string
	for _, item := range spec(t).Paths.Map() {
		for _, op := range item.Operations() {
			inSpec = append(inSpec, op.OperationID)
		}
	}
	for _, op := range app.Operations() {
		if op != app.ViewToday {
			inTable = append(inTable, string(op))
		}
	}
	slices.Sort(inSpec)
	slices.Sort(inTable)
	if diff := cmp.Diff(inTable, inSpec); diff != "" {
		t.Errorf("operations differ (-permission table +contract):\n%s", diff)
	}
}

// TestClosedLists holds that each closed list has the same words in the
// contract and in the code.
func TestClosedLists(t *testing.T) {
	t.Parallel()
	lists := map[string][]string{
		"Code":            words(fault.Codes()),
		"SiteKind":        words(registry.SiteKinds()),
		"RockClass":       words(registry.RockClasses()),
		"RouteKind":       words(registry.RouteKinds()),
		"Traffic":         words(registry.Traffics()),
		"PositionRole":    words(registry.PositionRoles()),
		"Face":            words(registry.Faces()),
		"Form":            words(registry.Forms()),
		"Origin":          words([]registry.Origin{registry.Recorded, registry.Imported}),
		"FittingKind":     words(registry.FittingKinds()),
		"Presence":        words(registry.Presences()),
		"ProductKind":     words([]registry.ProductKind{registry.Hardware, registry.Adhesive}),
		"Expiry":          words(registry.Expiries()),
		"RockSound":       words(registry.Sounds()),
		"HowRead":         words(registry.HowReads()),
		"CureBasis":       words(registry.CureBases()),
		"LowestBy":        words(registry.LowestBys()),
		"Moisture":        words(registry.Moistures()),
		"HoleState":       words(registry.HoleStates()),
		"SampleState":     words(registry.SampleStates()),
		"Level":           words(registry.Levels()),
		"Verdict":         words(registry.Verdicts()),
		"Observation":     words(registry.Observations()),
		"Severity":        words(registry.Severities()),
		"Standing":        words(registry.Standings()),
		"DueState":        words(registry.DueStates()),
		"Band":            words(registry.Bands()),
		"PictureSize":     app.PictureSizes(),
		"PlaceKind":       words(registry.PlaceKinds()),
		"AssemblyKind":    words(registry.AssemblyKinds()),
		"AgreementKind":   words(registry.AgreementKinds()),
		"RestrictionKind": words(registry.RestrictionKinds()),
		"ProposalKind":    words(registry.ProposalKinds()),
		"ProposalState":   words(registry.ProposalStates()),
		"Weight":          words(registry.Weights()),
		"EventKind":       words(registry.EventKinds()),
		"NoticeHit":       words(registry.NoticeHits()),
		"NoticeProgress":  words(registry.NoticeProgresses()),
		"Category":        words(registry.Categories()),
		"Coast":           words(registry.Coasts()),
		"Wetness":         words(registry.Wetnesses()),
		"Preset":          {registry.PresetSeaCliff, registry.PresetCave},
		"WorkKind":        words(registry.WorkKinds()),
		"KitKind":         words(registry.KitKinds()),
		"SampleFound":     words(registry.SamplesFound()),
		"HoldOver":        words(registry.HoldOvers()),
		"LedgerTrouble":   words(registry.LedgerTroubles()),
		"Upkeep":          words(registry.Upkeeps()),
		"MarkingHow":      words(registry.MarkingHows()),
		"RemovalHow":      words(registry.RemovalHows()),
		"OldHole":         words(registry.OldHoles()),
	}
	for name, schema := range spec(t).Components.Schemas {
		if len(schema.Value.Enum) == 0 {
			continue
		}
		got := make([]string, len(schema.Value.Enum))
		for i, w := range schema.Value.Enum {
			got[i], _ = w.(string)
		}
		if diff := cmp.Diff(lists[name], got); diff != "" {
			t.Errorf("%s differs (-code +contract):\n%s", name, diff)
		}
		delete(lists, name)
	}
	for name := range lists {
		t.Errorf("%s is no closed list of the contract", name)
	}
}

func words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}

// TestStandingsCarryCaution walks the answers: where one holds a standing, a
// day or a load, at whatever depth, it has a caution. One of a noun carries it
// beside what lists of the noun leave to the list.
func TestStandingsCarryCaution(t *testing.T) {
	t.Parallel()
	for path, item := range spec(t).Paths.Map() {
		for method, op := range item.Operations() {
			for status, answer := range op.Responses.Map() {
				media := answer.Value.Content["application/json"]
				if media == nil {
					continue
				}
				s := media.Schema.Value
				must := slices.Contains(s.Required, "caution") || s.Properties["id"] != nil && s.Properties["caution"] != nil
				if holds(s, map[*openapi3.Schema]bool{}) && !must {
					t.Errorf("%s %s, %s: a standing, date or load without a caution", method, path, status)
				}
			}
		}
	}
}

// holds says whether a value of s can hold a standing, a day or a load.
func holds(s *openapi3.Schema, seen map[*openapi3.Schema]bool) bool {
	if seen[s] {
		return false
	}
	seen[s] = true
	for name, p := range s.Properties {
		if p.Value.Format == "date" || slices.Contains([]string{"standing", "rated_axial_kn"}, name) || holds(p.Value, seen) {
			return true
		}
	}
	return s.Items != nil && holds(s.Items.Value, seen)
}

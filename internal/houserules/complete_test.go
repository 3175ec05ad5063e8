package houserules_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"rockledger/internal/houserules"
)

// firstRules returns the default rules as they were kept before the place and
// the wear of an anchor counted, as a tree to edit.
func firstRules(t *testing.T) map[string]any {
	t.Helper()
	data, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	var tree map[string]any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	for _, name := range []string{
		"event_days", "fitting_months", "duty", "duty_months", "wear_lost_percent", "wear_rate_factor",
		"section_lost_percent", "coating_um", "service_life_years", "finding_severities",
	} {
		delete(tree, name)
	}
	for _, clock := range []string{"event", "fitting", "duty"} {
		delete(tree["resets"].(map[string]any), clock)
	}
	metal := metalTable(tree)
	for environment := range metal {
		if environment != houserules.EnvironmentNotKnown {
			delete(metal, environment)
		}
	}
	return tree
}

func metalTable(tree map[string]any) map[string]any {
	return tree["longest_interval_months"].(map[string]any)["metal"].(map[string]any)
}

func parse(t *testing.T, tree map[string]any) houserules.Rules {
	t.Helper()
	data, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	r, err := houserules.Parse(data)
	if err != nil {
		t.Fatalf("Parse = %v", err)
	}
	return r
}

func TestEarlierRulesAreCompletedFromTheDefaults(t *testing.T) {
	t.Parallel()
	tree := firstRules(t)
	tree["bad_state_months"] = map[string]any{"value": 2, "source": "our own"}
	got := parse(t, tree)
	want := houserules.Default()
	want.BadState = houserules.Number{Value: 2, Source: "our own"}
	if d := cmp.Diff(want, got, cmpopts.IgnoreFields(houserules.Rules{}, "Completed")); d != "" {
		t.Errorf("Parse of earlier rules (-want +got):\n%s", d)
	}
	for _, path := range []string{"duty", "finding_severities.rust", "longest_interval_months.metal.cracking.high", "resets.event.full"} {
		if !slices.Contains(got.Completed, path) {
			t.Errorf("Completed = %v, want %v among them", got.Completed, path)
		}
	}
}

func TestCompleteRulesNameNothing(t *testing.T) {
	t.Parallel()
	data, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	if r, err := houserules.Parse(data); err != nil || r.Completed != nil {
		t.Errorf("Completed = %v, %v, want none", r.Completed, err)
	}
}

func TestACompletedIntervalIsRaisedToTheShortest(t *testing.T) {
	t.Parallel()
	tree := firstRules(t)
	tree["shortest_interval_months"] = map[string]any{"value": 12, "source": "our own"}
	for _, row := range metalTable(tree)[houserules.EnvironmentNotKnown].(map[string]any) {
		row.(map[string]any)["value"] = 12
	}
	in := parse(t, tree).Intervals.Metal
	if got := in[houserules.Cracking][houserules.RiskHigh]; got.Value != 12 || got.Source == "default of this project" {
		t.Errorf("cracking, high = %+v, want 12 months and a source that says why", got)
	}
	if got := in[houserules.RequiredClass][houserules.OfClass]; got.Value != 48 || got.Source != "default of this project" {
		t.Errorf("of the required class = %+v, want the default", got)
	}
}

func TestATableInTheWayIsAViolation(t *testing.T) {
	t.Parallel()
	tree := firstRules(t)
	tree["coating_um"] = 5
	data, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	_, err = houserules.Parse(data)
	if got := violations(err); !slices.Contains(got, "coating_um unknown") || !slices.Contains(got, "coating_um.steel-sherardised required") {
		t.Errorf("violations = %v, want coating_um unknown and its rows required", got)
	}
}

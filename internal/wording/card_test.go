package wording_test

import (
	"os"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"go.yaml.in/yaml/v3"

	"rockledger/internal/wording"
)

// properties lists the properties of a schema of the contract, in its order.
func properties(t *testing.T, schema string) []string {
	t.Helper()
	text, err := os.ReadFile("../../openapi/rockledger.yaml")
	if err != nil {
		t.Fatal(err)
	}
	var doc struct {
		Components struct {
			Schemas map[string]struct {
				Properties yaml.Node `yaml:"properties"`
			} `yaml:"schemas"`
		} `yaml:"components"`
	}
	if err := yaml.Unmarshal(text, &doc); err != nil {
		t.Fatal(err)
	}
	var names []string
	for k, n := range doc.Components.Schemas[schema].Properties.Content {
		if k%2 == 0 {
			names = append(names, n.Value)
		}
	}
	if len(names) == 0 {
		t.Fatalf("the contract has no schema %s", schema)
	}
	return names
}

func names(fields ...[]wording.CardField) []string {
	var list []string
	for _, f := range slices.Concat(fields...) {
		list = append(list, f.Name)
	}
	return list
}

// The card, the form and the contract have the same fields in the same order.
// Beside those of the card the contract only has ids, what is said once for a
// session, what its sample is found to be later, how a temperature is known, which the card has in one box with it,
// and a batch by its text.
func TestCardHasTheFieldsOfTheContract(t *testing.T) {
	t.Parallel()
	for schema, want := range map[string][]string{
		"NewGluing":         names(wording.SessionFields()),
		"GluedInstallation": names(wording.LineFields(), wording.MoreFields()),
		"NewInstallation":   names(wording.LineFields(), wording.MoreFields()),
	} {
		beside := []string{
			"id", "site_id", "done_on", "person_id", "session_id", "anchor_id", "position_id", "replaces", "batch_text", "anchors", "installations",
			"sample_found", "sample_found_on", "sample_found_by_id",
		}
		got := slices.DeleteFunc(properties(t, schema), func(name string) bool {
			return slices.Contains(beside, name) || strings.HasSuffix(name, "_how")
		})
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("%s (-card +contract):\n%s", schema, diff)
		}
	}
}

func TestCardLabels(t *testing.T) {
	t.Parallel()
	for _, line := range []bool{false, true} {
		seen := map[string]string{}
		fields := wording.SessionFields()
		if line {
			fields = slices.Concat(wording.LineFields(), wording.MoreFields())
		}
		for _, f := range fields {
			got, known := wording.CardLabel(f.Name, line)
			if !known || got != f.Label || seen[got] != "" {
				t.Errorf("CardLabel(%q, %v) = %q, %v, want %q and no other's", f.Name, line, got, known, f.Label)
			}
			seen[got] = f.Name
		}
	}
	if got, known := wording.CardLabel("hole_depth_cm", true); known {
		t.Errorf("CardLabel of a name that is none = %q", got)
	}
}

func TestCardKeyNamesTheChoices(t *testing.T) {
	t.Parallel()
	for _, want := range []string{"Form: glue-in, single shank / ", "Hole was: dry / damp / saturated / full of water / water running in."} {
		if got := wording.CardKey(); !strings.Contains(got, want) {
			t.Errorf("CardKey = %q, want %q in it", got, want)
		}
	}
}

package houserules_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"rockledger/internal/houserules"
)

// Each choice is one that Parse takes, and no other word is.
func TestChoicesAreWhatParseTakes(t *testing.T) {
	t.Parallel()
	for path, want := range map[string][]string{
		"duty": {"off", "work", "rope-access"}, "first_use_by": {"another-person", "anyone"}, "kept_sample": {"stated", "not-asked"},
		"resets.interval.full": {"no", "yes", "at-its-level-or-above"}, "finding_severities.rust": {"note", "watch", "suspect"},
		"imported_severities.imported-rust": {"note", "watch", "suspect"},
		"due_soon_days":                     nil, "settled_by.rust": nil, "resets.interval": nil, "nothing": nil, "": nil,
	} {
		got := houserules.Choices(path)
		if !slices.Equal(got, want) {
			t.Errorf("Choices(%q) = %v, want %v", path, got, want)
		}
		for _, word := range append(slices.Clone(got), "an invented word") {
			if want == nil {
				continue
			}
			tree := tree(t)
			table, steps := tree, strings.Split(path, ".")
			for _, s := range steps[:len(steps)-1] {
				table = table[s].(map[string]any)
			}
			table[steps[len(steps)-1]] = map[string]any{"value": word, "source": "our own"}
			data, err := json.Marshal(tree)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := houserules.Parse(data); (err == nil) != slices.Contains(want, word) {
				t.Errorf("%s = %q: %v", path, word, err)
			}
		}
	}
}

// tree is the default rules as a tree to edit.
func tree(t *testing.T) map[string]any {
	t.Helper()
	data, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	var tree map[string]any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	return tree
}

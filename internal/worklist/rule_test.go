package worklist_test

import (
	"encoding/json"
	"testing"

	"rockledger/internal/sheetcheck"
	"rockledger/internal/suspicion"
	"rockledger/internal/worklist"
)

// Every rule that is named here is one of the shipped rules.
func TestKindsNameRules(t *testing.T) {
	t.Parallel()
	shipped := make(map[string]bool)
	for _, source := range [][]byte{suspicion.Source(), sheetcheck.Source()} {
		var rules []struct {
			ID string `json:"id"`
		}
		if err := json.Unmarshal(source, &rules); err != nil {
			t.Fatal(err)
		}
		for _, r := range rules {
			shipped[r.ID] = true
		}
	}
	for id := range worklist.Kinds {
		if !shipped[id] {
			t.Errorf("there is no rule %q", id)
		}
	}
}

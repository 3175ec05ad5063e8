package worklist_test

import (
	"encoding/json"
	"testing"

	"rockledger/internal/suspicion"
	"rockledger/internal/worklist"
)

// Every rule that is named here is one of the shipped rules.
func TestKindsNameRules(t *testing.T) {
	t.Parallel()
	var rules []struct {
		ID string `json:"id"`
	}
	if err := json.Unmarshal(suspicion.Source(), &rules); err != nil {
		t.Fatal(err)
	}
	shipped := make(map[string]bool)
	for _, r := range rules {
		shipped[r.ID] = true
	}
	for id := range worklist.Kinds {
		if !shipped[id] {
			t.Errorf("there is no rule %q", id)
		}
	}
}

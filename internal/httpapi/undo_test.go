package httpapi_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
)

// A corrected list shows what it changes before it does; the import before it
// can then not be undone, and says why. All of it is invented.
func TestCorrectAndUndoImport(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	steward := s.group(t, "fell-end")[registry.RoleSteward]
	_, first := countsOf(t, s.enter(t, steward, gutter).Body.Bytes())

	corrected := strings.Replace(gutter, "spins", "loose nut", 1)
	for _, dry := range []string{"true", "false"} {
		w := s.enter(t, steward, corrected, "dry_run", dry)
		_, r := countsOf(t, w.Body.Bytes())
		if r.Changed != 1 || len(r.ChangedCells) != 1 || r.ChangedCells[0].From != "spins" || r.ChangedCells[0].To != "loose nut" || r.ChangedCells[0].Column != "Condition" {
			t.Errorf("dry run %s: %d %s, want one changed cell", dry, w.Code, w.Body)
		}
	}
	undo := func(id string, status int) []byte {
		t.Helper()
		w := s.do(t, call{method: http.MethodPost, target: "/v1/imports/" + id + "/undo", token: steward})
		if w.Code != status {
			t.Fatalf("undo = %d %s, want %d", w.Code, w.Body, status)
		}
		return w.Body.Bytes()
	}
	var p api.Problem
	if err := json.Unmarshal(undo(first.Id.String(), http.StatusConflict), &p); err != nil || len(p.Violations) == 0 || p.Code != api.CodeInUse {
		t.Errorf("problem %+v, %v: want what stands in the way", p, err)
	}
	undo("01900000-0000-7000-8000-000000000000", http.StatusNotFound)
}

func TestUndoImport(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	steward := tokens[registry.RoleSteward]
	_, first := countsOf(t, s.enter(t, steward, gutter).Body.Bytes())
	target := "/v1/imports/" + first.Id.String() + "/undo"
	if w := s.do(t, call{method: http.MethodPost, target: target, token: tokens[registry.RoleRecorder]}); w.Code != http.StatusForbidden {
		t.Errorf("undo by a recorder = %d, want 403", w.Code)
	}
	w := s.do(t, call{method: http.MethodPost, target: target, token: steward})
	var done api.ImportUndone
	if err := json.Unmarshal(w.Body.Bytes(), &done); err != nil || w.Code != http.StatusOK || done.Anchors != 4 || done.Text == "" {
		t.Fatalf("undo = %d %s, %v", w.Code, w.Body, err)
	}
	cautioned(t, w)
	if got, _ := countsOf(t, s.enter(t, steward, gutter).Body.Bytes()); got.Entered != 4 {
		t.Errorf("entered again: %+v, want 4", got)
	}
}

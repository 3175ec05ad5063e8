package httpapi_test

import (
	"encoding/json"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// counts are a report's numbers.
type counts struct{ Rows, Entered, Successors, Duplicates, Blank, Refused, Unchanged int }

func countsOf(t *testing.T, body []byte) (counts, api.ImportReport) {
	t.Helper()
	var r api.ImportReport
	if err := json.Unmarshal(body, &r); err != nil {
		t.Fatalf("import report %s: %v", body, err)
	}
	return counts{r.Rows, r.Entered, r.Successors, r.Duplicates, r.Blank, r.Refused, r.Unchanged}, r
}

func TestImport(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	steward := tokens[registry.RoleSteward]

	w := s.enter(t, steward, gutter, "dry_run", "true")
	all := counts{Rows: 4, Entered: 4}
	if got, _ := countsOf(t, w.Body.Bytes()); w.Code != http.StatusOK || got != all {
		t.Fatalf("dry run = %d %+v, want 200 %+v", w.Code, got, all)
	}
	var sites api.SiteList
	if s.get(t, "/v1/sites", steward, &sites); len(sites.Items) != 0 {
		t.Fatalf("sites after a dry run = %v, want none", sites.Items)
	}

	w = s.enter(t, steward, gutter, "dry_run", "false")
	got, report := countsOf(t, w.Body.Bytes())
	if w.Code != http.StatusCreated || got != all {
		t.Fatalf("import = %d %+v, want 201 %+v", w.Code, got, all)
	}
	cautioned(t, w)
	for _, d := range report.Doubts {
		if d.What == "" || d.Remedy == "" {
			t.Errorf("doubt %+v says nothing", d)
		}
	}

	w = s.enter(t, steward, gutter)
	again := counts{Rows: 4, Unchanged: 4}
	if got, _ := countsOf(t, w.Body.Bytes()); w.Code != http.StatusOK || got != again {
		t.Errorf("the same list again = %d %+v, want 200 %+v", w.Code, got, again)
	}
}

// A long list is answered with where to ask how far it is.
func TestLongImport(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	steward := tokens[registry.RoleSteward]
	long := gutter + strings.Repeat(strings.SplitAfter(gutter, "\n")[1], app.MostAtOnce)

	w := s.enter(t, steward, long)
	at := w.Header().Get("Location")
	if w.Code != http.StatusAccepted || at == "" {
		t.Fatalf("import = %d to %q, want 202 with a Location: %s", w.Code, at, w.Body)
	}
	cautioned(t, w)
	if again := s.enter(t, steward, long); again.Code != http.StatusAccepted || again.Header().Get("Location") != at {
		t.Errorf("the same list meanwhile = %d to %q, want 202 to %q", again.Code, again.Header().Get("Location"), at)
	}
	var state api.ImportState
	if s.get(t, at, steward, &state); state.State != "waiting" || state.Rows != app.MostAtOnce+4 || state.RowsDone != app.MostAtOnce {
		t.Errorf("state %s with %d of %d rows, want waiting with the repeats done", state.State, state.RowsDone, state.Rows)
	}
	if err := s.service.RunImports(t.Context()); err != nil {
		t.Fatal(err)
	}
	cautioned(t, s.get(t, at, steward, &state))
	if state.State != "done" || state.RowsDone != state.Rows || state.Entered != 4 || state.Report.Id != state.Id || len(state.Report.DuplicateRows) != report.MostTold {
		t.Errorf("state %s with %d of %d rows and %d entered, want done", state.State, state.RowsDone, state.Rows, state.Entered)
	}
	var all api.ImportList
	if s.get(t, "/v1/imports", steward, &all); len(all.Items) != 1 || all.Items[0].Id != state.Id {
		t.Errorf("imports %+v, want the one", all.Items)
	}
	reader := call{method: http.MethodGet, target: at, token: tokens[registry.RoleReader]}
	if w := s.do(t, reader); w.Code != http.StatusForbidden {
		t.Errorf("a reader asks = %d, want 403", w.Code)
	}
}

// A long list that is only to be tried is answered the same way, and enters
// nothing.
func TestTryLongImport(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	steward := s.group(t, "fell-end")[registry.RoleSteward]
	long := gutter + strings.Repeat(strings.SplitAfter(gutter, "\n")[1], app.MostAtOnce)
	w := s.enter(t, steward, long, "dry_run", "true")
	at := w.Header().Get("Location")
	var state api.ImportState
	if err := json.Unmarshal(w.Body.Bytes(), &state); err != nil || w.Code != http.StatusAccepted || at == "" || state.State != "trying" || !state.DryRun {
		t.Fatalf("dry run = %d to %q, %s, want 202 and trying", w.Code, at, w.Body)
	}
	cautioned(t, w)
	if w := s.enter(t, steward, long); w.Code != http.StatusAccepted || w.Header().Get("Location") == at {
		t.Errorf("the same list to be entered = %d to %q, want 202 to another", w.Code, w.Header().Get("Location"))
	}
	if err := s.service.RunImports(t.Context()); err != nil {
		t.Fatal(err)
	}
	cautioned(t, s.get(t, at, steward, &state))
	r := state.Report
	if state.State != "tried" || state.RowsDone != state.Rows || r.Entered != 4 || !r.DryRun || r.Totals.DuplicateRows != app.MostAtOnce {
		t.Errorf("state %s with %d of %d rows, %d would be entered, want tried and 4", state.State, state.RowsDone, state.Rows, r.Entered)
	}
}

// A long list is undone while nobody waits for the answer, and what is in the way
// is told.
func TestUndoLongImport(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	steward := tokens[registry.RoleSteward]
	long := gutter + strings.Repeat(strings.SplitAfter(gutter, "\n")[1], app.MostAtOnce)
	at := s.enter(t, steward, long).Header().Get("Location")
	run := func() {
		t.Helper()
		if err := s.service.RunImports(t.Context()); err != nil {
			t.Fatal(err)
		}
	}
	undo := func() *httptest.ResponseRecorder {
		return s.do(t, call{method: http.MethodPost, target: at + "/undo", token: steward})
	}
	run()
	var list api.AnchorList
	s.get(t, "/v1/anchors", steward, &list)
	var state api.ImportState
	for range 2 {
		w := undo()
		if err := json.Unmarshal(w.Body.Bytes(), &state); err != nil || w.Code != http.StatusAccepted || w.Header().Get("Location") != at || state.State != "undoing" {
			t.Fatalf("undo = %d to %q, %s, want 202 and undoing", w.Code, w.Header().Get("Location"), w.Body)
		}
		cautioned(t, w)
	}
	s.answer(t, call{
		method: http.MethodPost, target: "/v1/anchors/" + list.Items[0].Id.String() + "/inspections", token: steward,
		body: object{"done_on": object{"from": "2026-05-02"}, "level": "glance"},
	}, http.StatusCreated, nil)
	run()
	cautioned(t, s.get(t, at, steward, &state))
	if w := state.InTheWay; state.State != "done" || len(w.Violations) != 1 || w.Violations[0].Text == "" || w.Text == "" || state.UndoAskedAt.IsZero() {
		t.Errorf("state %s, in the way %+v, want done and one thing", state.State, w)
	}
	var p api.Problem
	if w := undo(); w.Code != http.StatusConflict || json.Unmarshal(w.Body.Bytes(), &p) != nil || len(p.Violations) != 1 || !strings.Contains(p.Detail, "at least 1") {
		t.Errorf("undo of what is in use = %d %s, want 409 at once", w.Code, w.Body)
	}
}

// TestImportMapping holds that a mapping overrules what would be guessed.
func TestImportMapping(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	steward := s.group(t, "fell-end")[registry.RoleSteward]
	w := s.enter(t, steward, gutter, "columns", "site_kind: quarry\n")
	if w.Code != http.StatusCreated {
		t.Fatalf("import = %d %s, want 201", w.Code, w.Body)
	}
	var sites api.SiteList
	s.get(t, "/v1/sites", steward, &sites)
	if len(sites.Items) != 1 || sites.Items[0].Kind != api.SiteKindQuarry {
		t.Errorf("sites = %+v, want one quarry", sites.Items)
	}
}

func TestImportRejects(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	steward := tokens[registry.RoleSteward]
	for _, c := range []struct {
		name   string
		list   string
		fields []string
		status int
		want   []string
	}{
		{"an empty file", "", nil, 422, []string{"file blank"}},
		{"a mapping that is none", gutter, []string{"columns", "{"}, 422, []string{"columns malformed"}},
		{"a dry run that is neither", gutter, []string{"dry_run", "perhaps"}, 422, []string{"dry_run unknown"}},
		{"a field that is none", gutter, []string{"dryrun", "true"}, 422, []string{"dryrun not-allowed"}},
		{"everything at once", "", []string{"dry_run", "1", "x", "y"}, 422, []string{"dry_run unknown", "x not-allowed", "file blank"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			w := s.enter(t, steward, c.list, c.fields...)
			if diff := cmp.Diff(c.want, fieldsOf(t, w.Body.Bytes())); w.Code != c.status || diff != "" {
				t.Errorf("import = %d %s, want %d (-want +got):\n%s", w.Code, w.Body, c.status, diff)
			}
		})
	}
	t.Run("a reader", func(t *testing.T) {
		t.Parallel()
		if w := s.enter(t, tokens[registry.RoleRecorder], gutter); w.Code != http.StatusForbidden {
			t.Errorf("import by a recorder = %d, want 403", w.Code)
		}
	})
	t.Run("a list too long", func(t *testing.T) {
		t.Parallel()
		w := s.enter(t, steward, strings.Repeat("x", httpapi.MaxList))
		if w.Code != http.StatusRequestEntityTooLarge {
			t.Errorf("import of more than 24 MiB = %d, want 413", w.Code)
		}
		if !strings.Contains(w.Body.String(), "the limit is 24 MiB") {
			t.Errorf("import of more than 24 MiB = %s, want the limit told", w.Body)
		}
	})
}

// fieldsOf reads a problem's violations as "field code".
func fieldsOf(t *testing.T, body []byte) []string {
	t.Helper()
	var p api.Problem
	if err := json.Unmarshal(body, &p); err != nil {
		t.Fatalf("problem %s: %v", body, err)
	}
	var out []string
	for _, v := range p.Violations {
		out = append(out, v.Field+" "+string(v.Code))
	}
	return out
}

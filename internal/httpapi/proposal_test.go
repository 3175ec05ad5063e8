package httpapi_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
)

// Notes of an invented list become proposals that a steward decides in bulk.
func TestProposals(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	steward := tokens[registry.RoleSteward]
	noted := strings.Replace(gutter, "Estate,\n", "Estate,bird ban Mar-Jul; check next year\n", 1)
	noted = strings.Replace(noted, "by the bush", "bird ban Mar-Jul", 1)
	_, first := countsOf(t, s.enter(t, steward, noted).Body.Bytes())
	if first.Proposals != 3 {
		t.Fatalf("import = %+v, want 3 proposals", first)
	}
	var list api.ProposalList
	s.get(t, "/v1/proposals?state=open&import_id="+first.Id.String(), steward, &list)
	if len(list.Items) != 3 || len(list.Groups) != 2 || list.Groups[0].Anchors != 2 || list.Groups[0].Site != "Gutter Edge" || list.Items[0].Yearly == nil {
		t.Fatalf("proposals %+v, want a ban of two anchors and a date", list)
	}
	if list.Caution == "" || list.Items[0].Text == "" || list.Groups[0].Accepting == "" {
		t.Errorf("proposals %+v say too little", list)
	}
	var dates api.ProposalList
	s.get(t, "/v1/proposals?kind=date", steward, &dates)
	if len(dates.Items) != 1 || dates.Items[0].InspectBy.Format("2006-01-02") != "2026-12-31" || dates.Items[0].CountedFrom != "checked-on" {
		t.Errorf("dates %+v, want the end of the year after the check", dates.Items)
	}
	decide := func(token, decision string, ids ...api.Id) (int, []byte) {
		t.Helper()
		body := map[string]any{"decision": decision, "ids": ids}
		w := s.do(t, call{method: http.MethodPost, target: "/v1/proposals/decide", token: token, body: body})
		return w.Code, w.Body.Bytes()
	}
	if code, _ := decide(tokens[registry.RoleRecorder], "accept", list.Groups[0].Ids...); code != http.StatusForbidden {
		t.Errorf("a recorder accepts = %d, want 403", code)
	}
	code, body := decide(steward, "accept", list.Groups[0].Ids...)
	var done api.ProposalsDecided
	if err := json.Unmarshal(body, &done); err != nil || code != http.StatusOK || len(done.Items) != 2 || len(done.Made) != 1 ||
		done.Made[0].What != "restriction" || done.Made[0].PlaceKind != "route" || done.Caution == "" || done.Text == "" {
		t.Fatalf("accept = %d %s, %v; want one restriction of the route", code, body, err)
	}
	if done.Items[0].MadeId != done.Made[0].Id || done.Items[0].DecidedBy == "" || done.Items[0].DecidedAt.IsZero() {
		t.Errorf("accepted %+v, want who, when and what it made", done.Items[0])
	}
	var made api.Restriction
	s.get(t, "/v1/restrictions/"+done.Made[0].Id.String(), steward, &made)
	if made.Why != "bird ban Mar-Jul" || made.Kind != "climbing" || made.Weight != "request" {
		t.Errorf("restriction %+v", made)
	}
	code, body = decide(steward, "decline", list.Groups[0].Ids[0], dates.Items[0].Id)
	var p api.Problem
	if err := json.Unmarshal(body, &p); err != nil || code != http.StatusConflict || len(p.Violations) != 1 {
		t.Errorf("decided once more = %d %s, %v; want 409 that names one", code, body, err)
	}
	if code, body = decide(steward, "decline", dates.Items[0].Id); code != http.StatusOK {
		t.Errorf("decline = %d %s", code, body)
	}
	if w := s.do(t, call{method: http.MethodGet, target: "/v1/proposals", token: tokens[registry.RoleReader]}); w.Code != http.StatusForbidden {
		t.Errorf("proposals for a reader = %d, want 403", w.Code)
	}
}

package httpapi_test

import (
	"encoding/json"
	"net/http"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
)

func TestEvidence(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	steward := tokens[registry.RoleSteward]
	s.enter(t, steward, gutter)
	var list api.AnchorList
	read(t, s.do(t, call{target: "/v1/anchors?standing=suspect", token: steward}).Body.Bytes(), &list)
	anchor := list.Items[0].Id.String()
	ask := func(token, day string) (api.Evidence, int) {
		t.Helper()
		w := s.do(t, call{target: "/v1/anchors/" + anchor + "/evidence?as_known_on=" + day, token: token})
		var e api.Evidence
		if w.Code == http.StatusOK {
			cautioned(t, w)
			read(t, w.Body.Bytes(), &e)
		}
		return e, w.Code
	}
	e, status := ask(steward, "2026-05-03")
	if status != http.StatusOK || !e.Known || e.Shown == nil || e.Shown.Standing != api.StandingSuspect || e.Place.Site != "Gutter Edge" || len(e.Afterwards) != 0 {
		t.Fatalf("evidence of today = %d %+v", status, e)
	}
	for _, l := range e.Rows {
		if l.Who == "" || l.WhoName != "steward" || l.What == "" || l.After["id"] == "" || l.Text == "" {
			t.Errorf("row %+v lacks who, what or the row itself", l)
		}
	}
	e, status = ask(steward, "2026-05-02")
	if status != http.StatusOK || e.Known || e.Shown != nil || len(e.Rows) != 0 || len(e.Afterwards) == 0 {
		t.Errorf("evidence of the day before = %d %+v, want nothing known", status, e)
	}
	if last := e.Afterwards[len(e.Afterwards)-1]; last.Shown.Standing != api.StandingSuspect || last.Who != "" {
		t.Errorf("last line %+v, want what was shown", last)
	}
	for _, c := range []struct {
		token, day string
		want       int
	}{
		{tokens[registry.RoleRecorder], "2026-05-03", http.StatusForbidden},
		{s.group(t, "other")[registry.RoleOwner], "2026-05-03", http.StatusNotFound},
		{steward, "2026-05-04", http.StatusUnprocessableEntity},
		{steward, "", http.StatusUnprocessableEntity},
	} {
		if _, status := ask(c.token, c.day); status != c.want {
			t.Errorf("evidence of %q = %d, want %d", c.day, status, c.want)
		}
	}
}

// read decodes an answer.
func read(t *testing.T, body []byte, into any) {
	t.Helper()
	if err := json.Unmarshal(body, into); err != nil {
		t.Fatalf("%s: %v", body, err)
	}
}

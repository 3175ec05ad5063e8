package httpapi_test

import (
	"encoding/json"
	"net/http"
	"strings"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
)

func TestErasePerson(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	owner, steward := tokens[registry.RoleOwner], tokens[registry.RoleSteward]
	s.enter(t, steward, gutter)
	var people api.PersonList
	s.get(t, "/v1/persons", steward, &people)
	target := "/v1/persons/" + people.Items[0].Id.String() + "/erasure"
	post := func(target, token, body string, status int, out any) {
		t.Helper()
		c := call{method: http.MethodPost, target: target, token: token}
		if body != "" {
			c.body = json.RawMessage(body)
		}
		s.answer(t, c, status, out)
	}
	var p api.Problem
	post(target, steward, `{"reason": "asked to, invented"}`, http.StatusForbidden, &p)
	var hold api.LegalHold
	post("/v1/legal-holds", steward, `{"over": "all", "reason": "a court asks, invented"}`, http.StatusOK, &hold)
	post(target, owner, `{"reason": "asked to, invented"}`, http.StatusConflict, &p)
	if p.Code != api.Code("on-hold") {
		t.Errorf("erasing on hold = %+v, want code on-hold", p)
	}
	post("/v1/legal-holds/"+hold.Id.String()+"/lift", owner, "", http.StatusOK, &hold)
	if hold.LiftedOn.IsZero() {
		t.Errorf("lifted hold = %+v", hold)
	}
	var list api.LegalHoldList
	s.get(t, "/v1/legal-holds", steward, &list)
	if len(list.Items) != 1 {
		t.Errorf("holds = %+v, want one", list)
	}
	var done api.Erased
	post(target, owner, `{"reason": "asked to, invented"}`, http.StatusOK, &done)
	s.get(t, "/v1/persons", steward, &people)
	if !people.Items[0].Erased || people.Items[0].Name != registry.ErasedName || done.Text == "" {
		t.Errorf("erased = %+v, %+v", people.Items[0], done)
	}
}

func TestEraseLandowner(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	owner, steward := tokens[registry.RoleOwner], tokens[registry.RoleSteward]
	s.enter(t, steward, gutter)
	var list api.LandownerList
	s.get(t, "/v1/landowners", steward, &list)
	target := "/v1/landowners/" + list.Items[0].Id.String() + "/erasure"
	body := json.RawMessage(`{"reason": "asked to, invented"}`)
	var p api.Problem
	s.answer(t, call{method: http.MethodPost, target: target, token: steward, body: body}, http.StatusForbidden, &p)
	s.answer(t, call{method: http.MethodPost, target: target, token: owner, body: json.RawMessage(`{"reason": " "}`)}, http.StatusUnprocessableEntity, &p)
	var done api.ErasedLandowner
	s.answer(t, call{method: http.MethodPost, target: target, token: owner, body: body}, http.StatusOK, &done)
	if done.Parcels != 1 || done.Text == "" {
		t.Errorf("erased = %+v, want one parcel that was called after the landowner", done)
	}
	s.get(t, "/v1/landowners", steward, &list)
	if l := list.Items[0]; l.ErasedOn.IsZero() || !strings.HasPrefix(l.Name, "name erased on ") {
		t.Errorf("landowner = %+v, want it erased", l)
	}
	var land api.LandReport
	s.get(t, "/v1/reports/land", steward, &land)
	if got := land.Landowners[0].Name; got != list.Items[0].Name {
		t.Errorf("land report names %q, want %q", got, list.Items[0].Name)
	}
}

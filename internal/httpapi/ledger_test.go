package httpapi_test

import (
	"net/http"
	"strings"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
)

func TestLedger(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	tokens := s.group(t, "fell-end")
	steward := tokens[registry.RoleSteward]
	s.enter(t, steward, gutter)
	var check api.LedgerCheck
	s.get(t, "/v1/ledger/verify", steward, &check)
	if !check.Ok || check.Rows == 0 || len(check.Faults) != 0 {
		t.Errorf("verify = %+v, want nothing wrong", check)
	}
	s.get(t, "/v1/ledger/verify?seal="+strings.Repeat("0", 64), steward, &check)
	if check.Ok || !check.SealMissing {
		t.Errorf("verify of a seal that is not there = %+v", check)
	}
	var seals api.SealList
	s.get(t, "/v1/ledger/seals", steward, &seals)
	if seals.Unsealed != check.Rows || seals.UnsealedSince.IsZero() || len(seals.Items) != 0 {
		t.Errorf("seals = %+v, want all of %d rows waiting", seals, check.Rows)
	}
	for seals.Unsealed > 0 { // until no older transaction of another test is at work
		if _, err := s.service.SealLedgers(t.Context()); err != nil {
			t.Fatal(err)
		}
		seals = api.SealList{}
		s.get(t, "/v1/ledger/seals?limit=1", steward, &seals)
	}
	if len(seals.Items) != 1 || len(seals.Items[0].Hash) != 64 || !seals.UnsealedSince.IsZero() {
		t.Fatalf("seals = %+v, want the newest", seals)
	}
	s.get(t, "/v1/ledger/seals?limit=1&cursor="+string(seals.NextCursor), steward, &seals)
	var land api.LandReport
	s.get(t, "/v1/reports/land", tokens[registry.RoleReader], &land)
	if len(land.Seal.Hash) != 64 {
		t.Errorf("land report names seal %+v, want the newest", land.Seal)
	}
	for _, target := range []string{"/v1/ledger/verify", "/v1/ledger/seals"} {
		if w := s.do(t, call{method: http.MethodGet, target: target, token: tokens[registry.RoleRecorder]}); w.Code != http.StatusForbidden {
			t.Errorf("%s by a recorder = %d, want 403", target, w.Code)
		}
	}
	if w := s.do(t, call{method: http.MethodGet, target: "/v1/ledger/seals?cursor=eHh4", token: steward}); w.Code != http.StatusBadRequest && w.Code != http.StatusUnprocessableEntity {
		t.Errorf("a cursor that is none = %d, want it refused", w.Code)
	}
}

package web_test

import (
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestLedgerPage(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	p := b.get("/g/fell-end/ledger")
	if p.status != 200 || !strings.Contains(p.text(), "to be sealed") {
		t.Errorf("ledger = %d %s", p.status, p.text())
	}
	if p = b.get("/g/fell-end/ledger?verify=yes&seal="); p.status != 200 || !strings.Contains(p.text(), "Everything fits.") {
		t.Errorf("verified = %d %s", p.status, p.text())
	}
	if p = b.get("/g/fell-end/ledger?verify=yes&seal=rock"); p.status != 422 || !strings.Contains(p.text(), "A seal on paper") {
		t.Errorf("what is no seal = %d %s", p.status, p.text())
	}
	if strings.Contains(p.text(), wording.LedgerFirst) {
		t.Error("a ledger that was not verified says what to do where one does not hold")
	}
	if p = b.get("/g/fell-end/ledger?verify=yes&seal=0000000000000000"); p.status != 200 || !strings.Contains(p.text(), wording.LedgerFirst) {
		t.Errorf("a seal that is not there = %d, want what to do first: %s", p.status, p.text())
	}
	if p = s.member(t, registry.RoleRecorder).get("/g/fell-end/ledger"); p.status != 403 {
		t.Errorf("ledger for a recorder = %d, want 403", p.status)
	}
}

package main

import (
	"errors"
	"strings"
	"testing"

	"github.com/jackc/pgx/v5"

	"rockledger/internal/wording"
)

func TestLedger(t *testing.T) {
	t.Parallel()
	s := newSite(t)
	must(t, "import", list("anchor-list.csv"), "--group", "fell-end", s.app)
	if out := must(t, "ledger", "seal", s.app); !strings.HasPrefix(out, "seals made: ") {
		t.Errorf("seal printed %q", out)
	}
	var doc ledgerDocument
	decode(t, must(t, "ledger", "verify", "--format", "json", s.app), &doc)
	if !doc.OK || doc.Rows == 0 || doc.Faults == nil || len(doc.Faults) != 0 {
		t.Errorf("verify printed %+v, want nothing wrong", doc)
	}
	if out := must(t, "ledger", "verify", "--group", "fell-end", s.app); !strings.Contains(out, "fell-end: ") || !strings.Contains(out, "Everything fits.") || strings.Contains(out, wording.LedgerFirst) {
		t.Errorf("verify printed %q", out)
	}
	if _, err := command(t, "ledger", "verify", "--seal", strings.Repeat("0", 16), s.app); !errors.Is(err, errLedgerFaulty) {
		t.Errorf("verify of a seal that is not there: error %v, want that it does not hold", err)
	}
	if _, err := command(t, "ledger", "verify", "--seal", "rock", s.app); err == nil || errors.Is(err, errLedgerFaulty) {
		t.Errorf("verify of what is no seal: error %v, want that it is malformed", err)
	}
	if out := must(t, "ledger", "new-era", "--why", "invented", s.admin); !strings.Contains(out, "era 2") {
		t.Errorf("new-era printed %q", out)
	}
	decode(t, must(t, "ledger", "verify", "--format", "json", s.app), &doc)
	if !doc.OK {
		t.Errorf("verify in a new era printed %+v", doc)
	}

	conn, err := pgx.Connect(t.Context(), strings.TrimPrefix(s.admin, "--admin-url="))
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = conn.Close(t.Context()) }()
	if _, err := conn.Exec(t.Context(), `UPDATE anchor SET notes = 'x' WHERE id = (SELECT id FROM anchor ORDER BY id LIMIT 1)`); err != nil {
		t.Fatal(err)
	}
	out, err := command(t, "ledger", "verify", s.app)
	if !errors.Is(err, errLedgerFaulty) || !strings.Contains(out, "The row of anchor ") || !strings.Contains(out, ": a name or free text that ") || !strings.Contains(out, wording.LedgerFirst) {
		t.Errorf("verify of a changed row printed %q, %v", out, err)
	}
}

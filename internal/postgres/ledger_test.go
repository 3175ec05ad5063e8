package postgres_test

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/ledger"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

type ledgerRow struct {
	GroupID uuid.UUID
	At      time.Time
	Who     string
	What    string
	Noun    string
	RowID   uuid.UUID
	Before  *string
	After   *string
	Hash    []byte
}

func (r *register) ledger(t *testing.T, what string) []ledgerRow {
	t.Helper()
	rows, err := r.db.Owner().Query(t.Context(), `
SELECT group_id, at, who, what, noun, row_id, before, after, hash
FROM ledger
WHERE what = $1
ORDER BY id`, what)
	if err != nil {
		t.Fatal(err)
	}
	got, err := pgx.CollectRows(rows, pgx.RowToStructByName[ledgerRow])
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func TestLedgerHoldsEachChange(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	rows := r.ledger(t, "test")
	if len(rows) != nouns {
		t.Errorf("a change of %d nouns has %d ledger rows", nouns, len(rows))
	}
	for _, row := range rows {
		e := ledger.Entry{GroupID: row.GroupID, At: row.At, Who: row.Who, What: row.What, Noun: row.Noun, RowID: row.RowID, After: *row.After}
		hash, err := e.Hash()
		if err != nil || !bytes.Equal(hash[:], row.Hash) {
			t.Errorf("hash of %s %s = %x, want %x of its own text (%v)", row.Noun, row.RowID, row.Hash, hash, err)
		}
		if row.Before != nil || row.Who != r.who.Who || !row.At.Equal(sample.At) {
			t.Errorf("entry of new %s: before %v, by %q at %v, want none, %q, %v", row.Noun, row.Before, row.Who, row.At, r.who.Who, sample.At)
		}
	}
	if n := r.count(t, `SELECT count(DISTINCT txid) FROM ledger WHERE what = 'test'`); n != 1 {
		t.Errorf("one change has %d transaction ids", n)
	}
}

func TestLedgerHoldsBeforeAndAfter(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	site := stored(s.site, func(s *registry.Site) *int { return &s.Version })
	site.Name = "Example Crag, lower"
	r.enter(t, registry.Change{What: "site changed", Sites: []registry.Site{site}})
	rows := r.ledger(t, "site changed")
	if len(rows) != 1 {
		t.Fatalf("one changed site has %d ledger rows", len(rows))
	}
	before, after := *rows[0].Before, *rows[0].After
	for text, part := range map[string]string{
		`"name":"Example Crag"`: before, `"version":1`: before, `"name":"Example Crag, lower"`: after, `"version":2`: after,
	} {
		if !strings.Contains(part, text) {
			t.Errorf("%s lacks %s", part, text)
		}
	}
}

func TestLedgerHoldsNoNames(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	for _, name := range []string{s.person.Name, s.landowner.Name, s.landowner.Contact, s.parcel.Name, s.agreement.Issuer, s.settlement.Reason} {
		n := r.count(t, `SELECT count(*) FROM ledger WHERE strpos(coalesce(before, '') || coalesce(after, ''), $1) > 0`, name)
		if n != 0 {
			t.Errorf("%q stands in %d ledger rows, want none", name, n)
		}
	}
}

func TestDerivedRowsHaveNoLedgerEntry(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	worse := sample.Assessment(s.anchor, func(a *registry.Assessment) { a.Standing = registry.StandingSuspect })
	r.enter(t, registry.Change{What: "refresh", Assessments: []registry.Assessment{worse}}, s.anchor.ID)
	if rows := r.ledger(t, "refresh"); len(rows) != 0 {
		t.Errorf("an assessment has %d ledger rows, want none", len(rows))
	}
}

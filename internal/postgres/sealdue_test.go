package postgres_test

import (
	"context"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// unsealed are the groups that have something to seal.
func (r *register) unsealed(t *testing.T, groups ...*register) []uuid.UUID {
	t.Helper()
	var all []uuid.UUID
	for _, g := range groups {
		all = append(all, g.group.ID)
	}
	due, err := r.store.Unsealed(t.Context(), all)
	check(t, err)
	return due
}

// A group is due from its first entry until that is sealed, and no other with it.
func TestUnsealedIsWhatSealWouldClose(t *testing.T) {
	t.Parallel()
	a := newRegister(t)
	b := a.beside(t)
	want := func(when string, groups ...uuid.UUID) {
		t.Helper()
		if d := cmp.Diff(groups, a.unsealed(t, b, a)); d != "" {
			t.Errorf("%s (-want +got):\n%s", when, d)
		}
	}
	want("groups were added", b.group.ID, a.group.ID) // an entry each, and in the order asked for
	a.seal(t)
	want("one is sealed", b.group.ID)
	b.seal(t)
	want("both are sealed")
	a.enter(t, registry.Change{What: "one more", Sites: []registry.Site{sample.Site()}})
	want("one goes on", a.group.ID)
	if _, err := a.admin.RaiseEra(t.Context(), "restored, invented"); err != nil {
		t.Fatal(err)
	}
	want("what the era before left over", a.group.ID)
	b.enter(t, registry.Change{What: "in the new era", Sites: []registry.Site{sample.Site()}})
	a.seal(t)
	want("the new era", b.group.ID)
	b.seal(t)
	want("all of it")
	if due, err := a.store.Unsealed(t.Context(), nil); err != nil || due != nil {
		t.Errorf("Unsealed() of no group = %v, %v, want none", due, err)
	}
}

// A transaction that was at work when the last seal was made is where the next one
// begins: what it enters is due.
func TestUnsealedSeesWhatWasAtWorkAtTheLastSeal(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	site := r.addSite(t)
	tx, err := r.db.Owner().Begin(t.Context())
	check(t, err)
	defer func() { _ = tx.Rollback(context.WithoutCancel(t.Context())) }()
	_, err = tx.Exec(t.Context(), `SELECT pg_current_xact_id()`)
	check(t, err)
	for r.count(t, `SELECT count(*) FROM ledger WHERE txid >= pg_snapshot_xmin(pg_current_snapshot())`) > 0 {
		time.Sleep(5 * time.Millisecond) // another test's transaction is older than the site
	}
	made, err := r.store.Seal(t.Context(), r.group.ID, sample.At)
	if err != nil || len(made) != 1 {
		t.Fatalf("Seal() = %+v, %v, want one", made, err)
	}
	_, err = tx.Exec(t.Context(), `
INSERT INTO ledger (group_id, era, at, who, what, noun, row_id, before, after, hash)
SELECT group_id, era, at, who, what, noun, row_id, before, after, hash FROM ledger WHERE row_id = $1`, site)
	check(t, err)
	check(t, tx.Commit(t.Context()))
	if d := cmp.Diff([]uuid.UUID{r.group.ID}, r.unsealed(t, r)); d != "" {
		t.Errorf("Unsealed() (-want +got):\n%s", d)
	}
}

// insertSeals makes a long chain, which need not hold.
const insertSeals = `
INSERT INTO ledger_seal (group_id, era, number, at, entries, first_id, last_id, until_txid, root, previous, hash)
SELECT s.group_id, s.era, s.number + n, s.at, s.entries, s.first_id, s.last_id, s.until_txid, s.root, s.previous, s.hash
FROM ledger_seal AS s
CROSS JOIN generate_series(1, $1::int) AS n
WHERE s.group_id = $2 AND s.number = 1`

// madeRows is how many rows a step of a plan came to, each time it ran.
var madeRows = regexp.MustCompile(`actual time=\S+ rows=(\d+)`)

// Whether there is something to seal, and how much, is asked every few seconds: a
// long chain of seals must not be read for it.
func TestTheLastSealIsLookedUp(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	r.seal(t)
	const chain = 3000
	_, err := r.db.Owner().Exec(t.Context(), insertSeals, chain, r.group.ID)
	check(t, err)
	store, rec := r.recorded(t)
	_, err = store.Unsealed(t.Context(), []uuid.UUID{r.group.ID})
	check(t, err)
	_, err = store.SealLag(t.Context(), r.group.ID)
	check(t, err)
	looked := 0
	for _, q := range rec.sent {
		if !strings.Contains(q.sql, "ledger_seal") {
			continue
		}
		looked++
		var plan []string
		r.as(t, r.group.ID, func(ctx context.Context, tx pgx.Tx) {
			_, err := tx.Exec(ctx, rec.sent[0].sql, r.group.ID.String())
			check(t, err)
			rows, err := tx.Query(ctx, "EXPLAIN (ANALYSE, COSTS off) "+q.sql, q.args...)
			check(t, err)
			plan, err = pgx.CollectRows(rows, pgx.RowTo[string])
			check(t, err)
		})
		for _, m := range madeRows.FindAllStringSubmatch(strings.Join(plan, "\n"), -1) {
			if n, err := strconv.Atoi(m[1]); err != nil || n > 1 {
				t.Errorf("a step reads %s rows of %d seals:\n%s", m[1], chain, strings.Join(plan, "\n"))
			}
		}
	}
	if looked != 2 {
		t.Errorf("%d statements looked at, want 2", looked)
	}
}

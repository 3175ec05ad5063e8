package postgres_test

import (
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// thrice is a register in which three sites were entered, each sealed before the
// next.
func thrice(t *testing.T) (r *register, newest uuid.UUID) {
	t.Helper()
	r = newRegister(t)
	for range 3 {
		newest = r.addSite(t)
		r.seal(t)
	}
	if got := r.verify(t, ""); !got.OK() || got.Seals != 3 || got.Unsealed != 0 {
		t.Fatalf("VerifyLedger() = %+v, want three seals and nothing wrong", got)
	}
	return r, newest
}

func (r *register) addSite(t *testing.T) uuid.UUID {
	t.Helper()
	s := sample.Site()
	r.enter(t, registry.Change{What: "site added", Sites: []registry.Site{s}})
	return s.ID
}

// owner runs statements behind the service's back.
func (r *register) owner(t *testing.T, sql string, args ...any) {
	t.Helper()
	if _, err := r.db.Owner().Exec(t.Context(), sql, args...); err != nil {
		t.Fatalf("%s: %v", sql, err)
	}
}

const (
	cutSeal = `DELETE FROM ledger_seal WHERE number = 3`
	// cutRows takes away what the newest seal covers, and all that came after.
	cutRows = `DELETE FROM ledger WHERE txid >= (SELECT until_txid FROM ledger_seal WHERE number = 2)`
	// cutCarefully leaves the ledger as it was just after the second seal.
	cutCarefully = cutRows + ` AND COALESCE(after, '') NOT LIKE '%"number":2}'`
	setTipBack   = `UPDATE ledger_tip AS t SET number = s.number, hash = s.hash FROM ledger_seal AS s WHERE s.number = 2`
)

// What is taken off the end of seals or ledger is named at once, and still once
// the service has gone on and sealed more. Where nothing is named later, or at
// all, that is said.
func TestVerifyNamesACutEnd(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name  string
		sql   []string
		want  []string
		later []string
	}{
		{
			"all seals truncated",
			[]string{`TRUNCATE ledger_seal`},
			[]string{"end-cut 1.3", "seal-gone 1.1"},
			[]string{"seal-gone 1.1", "seal-missing 1.4"},
		},
		{
			"the newest seal deleted",
			[]string{cutSeal},
			[]string{"end-cut 1.3", "seal-gone 1.3"},
			[]string{"seal-gone 1.3", "seal-missing 1.4"},
		},
		{
			"the newest seal deleted, and the one before noted",
			[]string{cutSeal, setTipBack},
			[]string{"seal-gone 1.3"},
			[]string{"seal-gone 1.3"},
		},
		{
			"the newest seals deleted",
			[]string{`DELETE FROM ledger_seal WHERE number > 1`},
			[]string{"end-cut 1.3", "seal-gone 1.2"},
			[]string{"seal-gone 1.2", "seal-missing 1.4"},
		},
		{
			"the newest seal and what it covers",
			[]string{cutRows, cutSeal},
			[]string{"end-cut 1.3", "witness-missing 1.2"},
			[]string{"seal-missing 1.4", "witness-missing 1.2"},
		},
		{
			"the same, and the one before noted",
			[]string{cutRows, cutSeal, setTipBack},
			[]string{"witness-missing 1.2"},
			[]string{"witness-missing 1.2"},
		},
		{
			"the newest seal and what came after the one before",
			[]string{cutCarefully, cutSeal},
			[]string{"end-cut 1.3"},
			[]string{"seal-missing 1.4"},
		},
		{
			"all seals and the note",
			[]string{`TRUNCATE ledger_seal, ledger_tip`},
			[]string{"seal-gone 1.1"},
			[]string{"seal-gone 1.1"},
		},
		{
			"the newest seal changed",
			[]string{`UPDATE ledger_seal SET hash = sha256('x') WHERE number = 3`},
			[]string{"end-cut 1.3", "seal-changed 1.3", "seal-gone 1.3"},
			[]string{"seal-changed 1.3", "seal-gone 1.3", "seal-missing 1.4"},
		},
		{"the note taken away", []string{`TRUNCATE ledger_tip`}, []string{"tip-wrong 1.3"}, nil},
		{"an earlier seal noted", []string{setTipBack}, []string{"tip-wrong 1.3"}, nil},
		{"another hash noted", []string{`UPDATE ledger_tip SET hash = sha256('x')`}, []string{"end-cut 1.3"}, []string{"seal-missing 1.4"}},
		{
			"the newest witness deleted",
			[]string{`DELETE FROM ledger WHERE noun = 'ledger_seal' AND after LIKE '%"number":3}'`},
			[]string{"witness-missing 1.3"},
			[]string{"witness-missing 1.3"},
		},
		{"all of it taken back, which only a seal on paper shows", []string{cutCarefully, cutSeal, setTipBack}, nil, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			r, newest := thrice(t)
			paper := r.newestSeal(t)
			for _, sql := range tt.sql {
				r.owner(t, sql)
			}
			if r.count(t, `SELECT count(*) FROM ledger WHERE row_id = $1`, newest) == 0 {
				r.owner(t, `DELETE FROM site WHERE id = $1`, newest)
			}
			got := r.verify(t, paper)
			if d := cmp.Diff(tt.want, faults(got)); d != "" {
				t.Errorf("VerifyLedger() differs (-want +got):\n%s", d)
			}
			there := r.count(t, `SELECT count(*) FROM ledger_seal WHERE encode(hash, 'hex') = $1`, paper)
			if got.OK() || (got.Found != nil) != (there == 1) {
				t.Errorf("VerifyLedger(%s) = %+v, want not OK, and the seal if it is there", paper, got)
			}
			r.addSite(t)
			if made := r.seal(t); len(made) != 1 {
				t.Errorf("Seal() after it made %+v, want one", made)
			}
			if d := cmp.Diff(tt.later, distinctFaults(r.verify(t, ""), "entries-extra 1.4")); d != "" {
				t.Errorf("VerifyLedger() once more was sealed differs (-want +got):\n%s", d)
			}
		})
	}
}

func (r *register) newestSeal(t *testing.T) string {
	t.Helper()
	seals, err := r.store.Seals(t.Context(), r.group.ID, registry.SealPage{Limit: 1})
	if err != nil || len(seals) != 1 {
		t.Fatal(seals, err)
	}
	return seals[0].Hash
}

// distinctFaults writes faults in short but for those named.
func distinctFaults(c registry.LedgerCheck, but ...string) (list []string) {
	for _, f := range faults(c) {
		if !slices.Contains(but, f) {
			list = append(list, f)
		}
	}
	return list
}

// A register whose seals are from before there were witnesses: its newest seal is
// noted by the migration.
func TestSealsFromBeforeWitnesses(t *testing.T) {
	t.Parallel()
	r, _ := thrice(t)
	r.owner(t, `TRUNCATE ledger_seal, ledger_tip`)
	r.owner(t, `DELETE FROM ledger WHERE noun = 'ledger_seal'`)
	for range 2 {
		r.addSite(t)
		r.seal(t)
		r.owner(t, `DELETE FROM ledger WHERE noun = 'ledger_seal'`)
	}
	if got := r.verify(t, ""); !got.OK() || got.Seals != 2 {
		t.Errorf("VerifyLedger() before there were witnesses = %v of %d seals", faults(got), got.Seals)
	}
	for range 2 {
		r.addSite(t)
		r.seal(t)
	}
	if got := r.verify(t, ""); !got.OK() || got.Seals != 4 {
		t.Errorf("VerifyLedger() = %v of %d seals, want nothing wrong with 4", faults(got), got.Seals)
	}
	r.owner(t, `DELETE FROM ledger_seal WHERE number = 3`)
	if got := r.verify(t, ""); got.OK() {
		t.Error("VerifyLedger() without the first seal that has a witness finds nothing")
	}
}

// A seal's witness waits for the next change: no seal is made for its sake, but in
// an era that is over.
func TestWitnessesMakeNoSeals(t *testing.T) {
	t.Parallel()
	r, _ := thrice(t)
	for range 3 {
		if made := r.seal(t); len(made) != 0 {
			t.Errorf("Seal() of a witness alone made %+v", made)
		}
	}
	lag, err := r.store.SealLag(t.Context(), r.group.ID)
	if err != nil || lag.Entries != 0 || lag.Since != nil {
		t.Errorf("SealLag() = %+v, %v, want none", lag, err)
	}
	for era := 2; era <= 3; era++ {
		if _, err := r.admin.RaiseEra(t.Context(), "restored, invented"); err != nil {
			t.Fatal(err)
		}
		if made := r.seal(t); len(made) != 1 || made[0].Era != era-1 || made[0].Entries != 1 {
			t.Errorf("Seal() of an era that is over made %+v, want one over its last witness", made)
		}
		if made := r.seal(t); len(made) != 0 {
			t.Errorf("Seal() once more made %+v", made)
		}
	}
	r.addSite(t)
	r.seal(t)
	if got := r.verify(t, ""); !got.OK() || got.Seals != 6 {
		t.Errorf("VerifyLedger() = %+v, want six seals and nothing wrong", got)
	}
}

// The service may move the note of the newest seal on, and not take it away.
func TestTheTipIsNotTakenAway(t *testing.T) {
	t.Parallel()
	r, _ := thrice(t)
	for _, sql := range []string{`DELETE FROM ledger_tip`, `TRUNCATE ledger_tip`} {
		if _, err := r.db.App.Exec(t.Context(), sql); !refused(err) {
			t.Errorf("%s as the application: %v, want refused", sql, err)
		}
	}
}

package ledger_test

import (
	"errors"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/ledger"
)

// chain makes rows in transactions 10, 20, ... two each, seals over four rows
// each but for the last two rows, the second half in another era with
// transactions from 5 on.
func chain(t require) ([]ledger.StoredSeal, []ledger.Row) {
	var rows []ledger.Row
	for i := range 18 {
		e := entry()
		e.At = e.At.Add(time.Duration(i) * time.Second)
		r := ledger.Row{ID: int64(i + 1), Era: 1, TxID: uint64(10 * (i/2 + 1)), Entry: e}
		if i >= 8 {
			r.Era, r.TxID = 2, uint64(5*(i/2-3))
		}
		hash, err := e.Hash()
		if err != nil {
			t.Fatal(err)
		}
		r.Hash = hash
		rows = append(rows, r)
	}
	var seals []ledger.StoredSeal
	for i := 0; i < 16; i += 4 {
		part := rows[i : i+4]
		s := ledger.StoredSeal{Seal: ledger.Seal{
			GroupID: entry().GroupID, Era: part[0].Era, Number: len(seals)%2 + 1, At: part[0].Entry.At,
			Count: 4, First: part[0].ID, Last: part[3].ID, Until: part[3].TxID + 1,
		}}
		var tree ledger.Tree
		for _, r := range part {
			tree.Add(ledger.Leaf(r.TxID, r.ID, r.Hash))
		}
		s.Root = tree.Root()
		if len(seals) > 0 {
			previous := seals[len(seals)-1].Hash
			s.Previous = &previous
		}
		hash, err := s.Seal.Hash()
		if err != nil {
			t.Fatal(err)
		}
		s.Hash = hash
		seals = append(seals, s)
	}
	return seals, rows
}

type require interface{ Fatal(args ...any) }

// present is when the chain is walked, with its last seal for the newest.
func present(t require) ledger.Present {
	seals, _ := chain(t)
	tip := seals[len(seals)-1].Mark()
	return ledger.Present{Era: 2, Ahead: 26, Tip: &tip}
}

// found walks and lists the troubles.
func found(t require, seals []ledger.StoredSeal, rows []ledger.Row) (list []ledger.Trouble, totals ledger.Totals) {
	totals, err := ledger.Walk(ledger.All(seals), ledger.All(rows), present(t), func(f ledger.Finding) { list = append(list, f.Trouble) })
	if err != nil {
		t.Fatal(err)
	}
	return list, totals
}

func TestWalk(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name   string
		tamper func(*[]ledger.StoredSeal, *[]ledger.Row)
		want   []ledger.Trouble
	}{
		{"nothing", func(*[]ledger.StoredSeal, *[]ledger.Row) {}, nil},
		{"an entry rewritten", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) { (*r)[1].Entry.After = "{}" }, []ledger.Trouble{ledger.EntryChanged}},
		{"an entry and its hash rewritten", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) {
			(*r)[1].Entry.After = "{}"
			(*r)[1].Hash, _ = (*r)[1].Entry.Hash()
		}, []ledger.Trouble{ledger.StretchChanged}},
		{"an entry deleted", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) { *r = slices.Delete(*r, 2, 3) }, []ledger.Trouble{ledger.EntriesMissing}},
		{"an entry inserted", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) {
			(*r) = slices.Insert(*r, 2, (*r)[1])
			(*r)[2].ID = 99
		}, []ledger.Trouble{ledger.EntriesExtra}},
		{"two entries in another order", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) {
			(*r)[0], (*r)[1] = (*r)[1], (*r)[0]
			(*r)[0].ID, (*r)[1].ID = 1, 2
		}, []ledger.Trouble{ledger.StretchChanged}},
		{"an entry of an era that is over", func(s *[]ledger.StoredSeal, r *[]ledger.Row) {
			late := (*r)[7]
			late.TxID, late.ID = 1000, 99
			*r = slices.Insert(*r, 8, late)
		}, []ledger.Trouble{ledger.EntryMisplaced}},
		{"an entry that nobody has sealed is put before the last seal", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) {
			last := &(*r)[17]
			last.Entry.At = (*r)[12].Entry.At.Add(-ledger.Lateness - time.Second)
			last.Hash, _ = last.Entry.Hash()
		}, []ledger.Trouble{ledger.EntryBackdated}},
		{"an entry that began as long before the last seal as may be", func(s *[]ledger.StoredSeal, r *[]ledger.Row) {
			last := &(*r)[17]
			last.Entry.At = (*s)[3].At.Add(-ledger.Lateness)
			last.Hash, _ = last.Entry.Hash()
		}, nil},
		{"an entry of a transaction to come", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) { (*r)[17].TxID = 26 }, []ledger.Trouble{ledger.EntryAhead}},
		{"an entry of an era to come", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) { (*r)[17].Era = 3 }, []ledger.Trouble{ledger.EntryAhead}},
		{"a seal rewritten", func(s *[]ledger.StoredSeal, _ *[]ledger.Row) { (*s)[0].At = (*s)[0].At.Add(1e9) }, []ledger.Trouble{ledger.SealChanged}},
		{"a seal and its hash rewritten", func(s *[]ledger.StoredSeal, _ *[]ledger.Row) {
			(*s)[0].At = (*s)[0].At.Add(1e9)
			(*s)[0].Hash, _ = (*s)[0].Seal.Hash()
		}, []ledger.Trouble{ledger.SealMissing}},
		{"a seal deleted", func(s *[]ledger.StoredSeal, _ *[]ledger.Row) { *s = slices.Delete(*s, 1, 2) }, []ledger.Trouble{ledger.SealMissing, ledger.EntryMisplaced, ledger.EntryMisplaced, ledger.EntryMisplaced, ledger.EntryMisplaced}},
		{"all entries deleted", func(_ *[]ledger.StoredSeal, r *[]ledger.Row) { *r = nil }, []ledger.Trouble{ledger.EntriesMissing, ledger.EntriesMissing, ledger.EntriesMissing, ledger.EntriesMissing}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			seals, rows := chain(t)
			tt.tamper(&seals, &rows)
			if got, _ := found(t, seals, rows); !cmp.Equal(got, tt.want) {
				t.Errorf("Walk() found %v, want %v", got, tt.want)
			}
		})
	}
}

func TestWalkCounts(t *testing.T) {
	t.Parallel()
	seals, rows := chain(t)
	if _, got := found(t, seals, rows); got != (ledger.Totals{Seals: 4, Rows: 18, Unsealed: 2}) {
		t.Errorf("Walk() went over %+v", got)
	}
	broken := errors.New("broken")
	_, err := ledger.Walk(ledger.All(seals), func() (ledger.Row, bool, error) { return ledger.Row{}, false, broken }, present(t), func(ledger.Finding) {})
	if !errors.Is(err, broken) {
		t.Errorf("Walk() of a broken stream: %v", err)
	}
}

// Any one change of a sealed row or a seal is found.
func TestWalkFindsAnyChange(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		seals, rows := chain(t)
		i, j := rapid.IntRange(0, 15).Draw(t, "row"), rapid.IntRange(0, 3).Draw(t, "seal")
		changes := []func(){
			func() { rows[i].ID += 100 },
			func() { rows[i].TxID++ },
			func() { rows[i].Entry.Who += "x" },
			func() { rows[i].Entry.After = `{"name":"x"}` },
			func() { rows[i].Entry.At = rows[i].Entry.At.Add(time.Microsecond) },
			func() { rows[i].Hash[rapid.IntRange(0, 31).Draw(t, "byte")]++ },
			func() { rows = slices.Delete(rows, i, i+1) },
			func() { seals[j].Root[rapid.IntRange(0, 31).Draw(t, "byte")]++ },
			func() { seals[j].Hash[rapid.IntRange(0, 31).Draw(t, "byte")]++ },
			func() { seals[j].Count-- },
			func() { seals[j].Until-- },
			func() { seals[j].Number++ },
			func() { seals[j].Previous = &ledger.Digest{9} },
		}
		changes[rapid.IntRange(0, len(changes)-1).Draw(t, "change")]()
		if got, _ := found(t, seals, rows); len(got) == 0 {
			t.Errorf("Walk() found nothing")
		}
	})
}

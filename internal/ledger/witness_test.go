package ledger_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/ledger"
)

// witnessed makes n seals over a row each and the entry that bears witness to the
// seal before; that to the last one waits. None bears witness to the first bare
// ones.
func witnessed(t require, n, bare int) (seals []ledger.StoredSeal, rows []ledger.Row, now ledger.Present) {
	at := time.Date(2026, time.May, 3, 9, 30, 0, 0, time.UTC)
	add := func(noun, after string, txid int) {
		r := ledger.Row{ID: int64(len(rows) + 1), Era: 1, TxID: uint64(txid), Entry: ledger.Entry{
			GroupID: uuid.Max, At: at, Who: "test", What: "test", Noun: noun, RowID: uuid.Max, After: after,
		}}
		hash, err := r.Entry.Hash()
		if err != nil {
			t.Fatal(err)
		}
		r.Hash = hash
		rows = append(rows, r)
	}
	begin := 0
	for i := range n {
		add("site", "{}", 10*i+5)
		s := ledger.StoredSeal{Seal: ledger.Seal{
			GroupID: uuid.Max, Era: 1, Number: i + 1, At: at, Count: len(rows) - begin, First: rows[begin].ID, Last: int64(len(rows)), Until: uint64(10*i + 6),
		}}
		var tree ledger.Tree
		for _, r := range rows[begin:] {
			tree.Add(ledger.Leaf(r.TxID, r.ID, r.Hash))
		}
		s.Root, begin = tree.Root(), len(rows)
		if i > 0 {
			s.Previous = &seals[i-1].Hash
		}
		var err error
		if s.Hash, err = s.Seal.Hash(); err != nil {
			t.Fatal(err)
		}
		seals = append(seals, s)
		if i >= bare {
			text, err := s.Mark().Text()
			if err != nil {
				t.Fatal(err)
			}
			add(ledger.SealNoun, text, 10*i+8)
		}
	}
	tip := seals[n-1].Mark()
	return seals, rows, ledger.Present{Era: 1, Ahead: uint64(10 * n), Tip: &tip}
}

func TestWalkHoldsSealsAgainstWitnesses(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		name    string
		n, bare int
		tamper  func(seals *[]ledger.StoredSeal, rows *[]ledger.Row, now *ledger.Present)
		want    []ledger.Trouble
	}{
		{"nothing", 4, 0, nil, nil},
		{"seals from before witnesses", 4, 2, nil, nil},
		{"many seals from before witnesses", 1100, 1099, nil, nil},
		{"seals, none of which has a witness", 3, 3, nil, nil},
		{"the newest seal taken away", 4, 0, func(s *[]ledger.StoredSeal, _ *[]ledger.Row, _ *ledger.Present) {
			*s = (*s)[:3]
		}, []ledger.Trouble{ledger.SealGone, ledger.EndCut}},
		{"the three newest seals taken away", 4, 0, func(s *[]ledger.StoredSeal, _ *[]ledger.Row, _ *ledger.Present) {
			*s = (*s)[:1]
		}, []ledger.Trouble{ledger.SealGone, ledger.EndCut}},
		{"all seals and the note taken away", 4, 0, func(s *[]ledger.StoredSeal, _ *[]ledger.Row, now *ledger.Present) {
			*s, now.Tip = nil, nil
		}, []ledger.Trouble{ledger.SealGone}},
		{"the newest seal, its row and its witness taken away", 4, 0, func(s *[]ledger.StoredSeal, r *[]ledger.Row, _ *ledger.Present) {
			*s, *r = (*s)[:3], (*r)[:6]
		}, []ledger.Trouble{ledger.EndCut}},
		{"the newest witness taken away", 4, 0, func(_ *[]ledger.StoredSeal, r *[]ledger.Row, _ *ledger.Present) {
			*r = (*r)[:7]
		}, []ledger.Trouble{ledger.WitnessMissing}},
		{"an earlier witness taken away", 4, 0, func(_ *[]ledger.StoredSeal, r *[]ledger.Row, _ *ledger.Present) {
			*r = slices.Delete(*r, 3, 4)
		}, []ledger.Trouble{ledger.EntriesMissing, ledger.WitnessMissing}},
		{"a witness that says nothing", 4, 0, func(_ *[]ledger.StoredSeal, r *[]ledger.Row, _ *ledger.Present) {
			last := &(*r)[7]
			last.Entry.After = `{"era":1,"hash":"00","number":4}`
			last.Hash, _ = last.Entry.Hash()
		}, []ledger.Trouble{ledger.EntryChanged, ledger.WitnessMissing}},
		{"a witness to another seal of the number", 4, 0, func(_ *[]ledger.StoredSeal, r *[]ledger.Row, _ *ledger.Present) {
			last := &(*r)[7]
			last.Entry.After, _ = ledger.Mark{Era: 1, Number: 4}.Text()
			last.Hash, _ = last.Entry.Hash()
		}, []ledger.Trouble{ledger.SealGone}},
		{"no note", 4, 0, func(_ *[]ledger.StoredSeal, _ *[]ledger.Row, now *ledger.Present) { now.Tip = nil }, []ledger.Trouble{ledger.TipWrong}},
		{"a note of an earlier seal", 4, 0, func(s *[]ledger.StoredSeal, _ *[]ledger.Row, now *ledger.Present) {
			tip := (*s)[0].Mark()
			now.Tip = &tip
		}, []ledger.Trouble{ledger.TipWrong}},
		{"a note of another hash", 4, 0, func(_ *[]ledger.StoredSeal, _ *[]ledger.Row, now *ledger.Present) { now.Tip.Hash[0]++ }, []ledger.Trouble{ledger.EndCut}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			seals, rows, now := witnessed(t, tt.n, tt.bare)
			if tt.tamper != nil {
				tt.tamper(&seals, &rows, &now)
			}
			var got []ledger.Trouble
			totals, err := ledger.Walk(ledger.All(seals), ledger.All(rows), now, func(f ledger.Finding) { got = append(got, f.Trouble) })
			if err != nil || !cmp.Equal(got, tt.want) {
				t.Errorf("Walk() found %v, %v, want %v", got, err, tt.want)
			}
			if len(tt.want) == 0 && totals.Unsealed != 0 {
				t.Errorf("Walk() went over %+v, want the witness that waits not counted", totals)
			}
		})
	}
}

func TestBare(t *testing.T) {
	t.Parallel()
	got, err := ledger.Bare(`{"name":"a","notes":"b","private":"c"}`, []string{"notes"})
	if err != nil || got != `{"name":"a"}` {
		t.Errorf("Bare() = %s, %v", got, err)
	}
	if _, err := ledger.Bare(`[]`, nil); err == nil {
		t.Error("Bare() of no object = nil, want an error")
	}
}

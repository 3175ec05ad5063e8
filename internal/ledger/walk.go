package ledger

import "time"

// Trouble is what is wrong with a seal, an entry or a row.
type Trouble string

// What a walk and a comparison can find.
const (
	SealChanged    Trouble = "seal-changed"    // it is not what its hash was taken of
	SealMissing    Trouble = "seal-missing"    // it does not follow the one before it
	StretchChanged Trouble = "stretch-changed" // its entries are altered or in another order
	EntriesMissing Trouble = "entries-missing" // it closed more entries than there are
	EntriesExtra   Trouble = "entries-extra"   // it closed fewer entries than there are
	EntryChanged   Trouble = "entry-changed"   // it is not what its hash was taken of
	EntryMisplaced Trouble = "entry-misplaced" // it lies in a stretch that is closed, and in no seal
	EntryBackdated Trouble = "entry-backdated" // its instant lies long before the seal that it comes after
	EntryAhead     Trouble = "entry-ahead"     // it bears a transaction that has not begun
	EntryUnjoined  Trouble = "entry-unjoined"  // it does not begin with the text that the one before it ended with
	SealGone       Trouble = "seal-gone"       // an entry bears witness to it, and it is not there
	WitnessMissing Trouble = "witness-missing" // no entry bears witness to it
	EndCut         Trouble = "end-cut"         // it is noted as the newest, and is not at the end of the chain
	TipWrong       Trouble = "tip-wrong"       // it is the newest and not noted as such
	NounUnknown    Trouble = "noun-unknown"    // no table is known for the entry
	RowChanged     Trouble = "row-changed"     // it is not as its last entry says
	RowMissing     Trouble = "row-missing"     // its last entry says that it is there
	RowExtra       Trouble = "row-extra"       // no entry says that it is there
)

// Finding is one thing that is wrong.
type Finding struct {
	Trouble Trouble
	Seal    *StoredSeal // of a seal or its stretch; of one that is not there, era, number and hash
	Row     *Row        // of an entry
}

// StoredSeal is a seal with the hash that was stored with it.
type StoredSeal struct {
	Seal
	Hash Digest
}

// Next gives the next item of a stream, false after the last one.
type Next[T any] func() (item T, ok bool, err error)

// Present is where a log stands when it is walked.
type Present struct {
	Era   int
	Ahead uint64 // transactions of the era from this one on have not begun
	Tip   *Mark  // the newest seal, as noted when it was made; nil: none is noted
}

// Lateness is how long before the last seal the instant of an entry may lie that
// comes after it: instants are taken when a change begins, and a long import or a
// clock that is put right comes late. A bound of ours, no source.
const Lateness = time.Hour

// Totals is how much a walk went over. Entries that bear witness to seals do not
// count as unsealed: they wait for the next change.
type Totals struct{ Seals, Rows, Unsealed int }

// Walk goes over a group's seals, in the order of era and number, and rows, in
// the order of era, transaction and id, and tells found of all that does not
// fit as of now. It keeps neither. Rows after the last seal wait for the next one.
//
// What was taken off the end is told by the entries that bear witness to seals,
// and by the note of the newest. Where these were taken back too, or rows that
// wait for a seal were taken away, only a seal kept elsewhere tells.
//
// Its error is that of a stream.
func Walk(seals Next[StoredSeal], rows Next[Row], now Present, found func(Finding)) (Totals, error) {
	w := &walk{rows: rows, now: now, found: found, witnesses: witnesses{found: found}}
	if err := w.step(); err != nil {
		return w.totals, err
	}
	var before *StoredSeal
	for {
		s, ok, err := seals()
		if err != nil {
			return w.totals, err
		}
		if !ok {
			err := w.rest(before)
			w.witnesses.end()
			checkTip(now.Tip, before, found)
			return w.totals, err
		}
		w.totals.Seals++
		w.witnesses.seal(&s)
		w.checkSeal(before, &s)
		if err := w.stretch(&s); err != nil {
			return w.totals, err
		}
		before = &s
		if hash, err := s.Seal.Hash(); err == nil && hash == s.Hash { // else its instant says nothing
			w.sealed = s.At
		}
	}
}

type walk struct {
	rows   Next[Row]
	row    Row
	more   bool // row is the next one
	now    Present
	sealed time.Time // instant of the last seal that is over and unchanged; zero: there is none
	found  func(Finding)
	totals Totals

	witnesses witnesses
}

// step moves on to the next row.
func (w *walk) step() (err error) {
	w.row, w.more, err = w.rows()
	return err
}

// checkSeal looks at the seal by itself and at what it follows.
func (w *walk) checkSeal(before, s *StoredSeal) {
	if hash, err := s.Seal.Hash(); err != nil || hash != s.Hash {
		w.found(Finding{Trouble: SealChanged, Seal: s})
	}
	if !follows(before, s) {
		w.found(Finding{Trouble: SealMissing, Seal: s})
	}
}

func follows(before, s *StoredSeal) bool {
	if before == nil {
		return s.Previous == nil && s.Number == 1
	}
	if s.Previous == nil || *s.Previous != before.Hash {
		return false
	}
	if s.Era == before.Era {
		return s.Number == before.Number+1 && s.Until > before.Until
	}
	return s.Era > before.Era && s.Number == 1
}

// stretch takes the rows up to the seal's end and compares.
func (w *walk) stretch(s *StoredSeal) error {
	var (
		tree        Tree
		first, last int64
	)
	for w.more && (w.row.Era < s.Era || w.row.Era == s.Era && w.row.TxID < s.Until) {
		w.checkRow()
		if w.row.Era < s.Era {
			row := w.row
			w.found(Finding{Trouble: EntryMisplaced, Row: &row})
		} else {
			if tree.Count() == 0 {
				first = w.row.ID
			}
			last = w.row.ID
			tree.Add(Leaf(w.row.TxID, w.row.ID, w.row.Hash))
		}
		if err := w.step(); err != nil {
			return err
		}
	}
	switch n := tree.Count(); {
	case n < s.Count:
		w.found(Finding{Trouble: EntriesMissing, Seal: s})
	case n > s.Count:
		w.found(Finding{Trouble: EntriesExtra, Seal: s})
	case first != s.First || last != s.Last || tree.Root() != s.Root:
		w.found(Finding{Trouble: StretchChanged, Seal: s})
	}
	return nil
}

// rest takes the rows that no seal has closed yet.
func (w *walk) rest(last *StoredSeal) error {
	for w.more {
		w.checkRow()
		if w.row.Entry.Noun != SealNoun {
			w.totals.Unsealed++
		}
		if last != nil && w.row.Era < last.Era {
			row := w.row
			w.found(Finding{Trouble: EntryMisplaced, Row: &row})
		}
		if err := w.step(); err != nil {
			return err
		}
	}
	return nil
}

func (w *walk) checkRow() {
	w.totals.Rows++
	if w.row.Entry.Noun == SealNoun {
		w.witnesses.entry(&w.row)
	}
	if hash, err := w.row.Entry.Hash(); err != nil || hash != w.row.Hash {
		row := w.row
		w.found(Finding{Trouble: EntryChanged, Row: &row})
	}
	if w.row.Entry.At.Before(w.sealed.Add(-Lateness)) {
		row := w.row
		w.found(Finding{Trouble: EntryBackdated, Row: &row})
	}
	if w.row.Era > w.now.Era || w.row.Era == w.now.Era && w.row.TxID >= w.now.Ahead {
		row := w.row
		w.found(Finding{Trouble: EntryAhead, Row: &row})
	}
}

// All gives the items of a list one by one.
func All[T any](list []T) Next[T] {
	return func() (item T, ok bool, err error) {
		if len(list) == 0 {
			return item, false, nil
		}
		item, list = list[0], list[1:]
		return item, true, nil
	}
}

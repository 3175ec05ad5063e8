package ledger

import (
	"encoding/hex"
	"encoding/json"
	"slices"

	"rockledger/internal/fault"
)

// SealNoun is the noun of the entries that bear witness to seals: each is
// entered with its seal and closed by a later one, so that seals which are taken
// away are missed by the log itself.
const SealNoun = "ledger_seal"

// Mark names a seal: its place in the chain and its hash.
type Mark struct {
	Era    int
	Number int
	Hash   Digest
}

// Mark returns the seal's mark, with the hash that was stored with it.
func (s *StoredSeal) Mark() Mark { return Mark{s.Era, s.Number, s.Hash} }

// After says that m is of a later seal than o, whatever their hashes.
func (m Mark) After(o Mark) bool {
	return m.Era > o.Era || m.Era == o.Era && m.Number > o.Number
}

// bare is a seal of which no more is known than its mark.
func (m Mark) bare() *StoredSeal {
	return &StoredSeal{Seal: Seal{Era: m.Era, Number: m.Number}, Hash: m.Hash}
}

type markText struct {
	Era    int    `json:"era"`
	Hash   string `json:"hash"`
	Number int    `json:"number"`
}

// Text returns what an entry that bears witness says, as by Canonical.
func (m Mark) Text() (string, error) {
	return Canonical(markText{m.Era, hex.EncodeToString(m.Hash[:]), m.Number})
}

// markOf reads what Text wrote; otherwise fault.Invalid.
func markOf(text string) (Mark, error) {
	var t markText
	if err := json.Unmarshal([]byte(text), &t); err != nil {
		return Mark{}, fault.New(fault.Invalid, "entry about a seal is no JSON object")
	}
	hash, err := hex.DecodeString(t.Hash)
	if err != nil || len(hash) != len(Digest{}) {
		return Mark{}, fault.New(fault.Invalid, "entry about a seal holds no hash")
	}
	return Mark{t.Era, t.Number, Digest(hash)}, nil
}

// witnesses holds the seals of a walk against the entries that bear witness to
// them. Both come in the order in which the seals were made, an entry after its
// seal. Seals made before there were such entries have none.
type witnesses struct {
	found   func(Finding)
	waiting []Mark // seals gone over that no entry has borne witness to, oldest first
	begun   bool   // an entry has borne witness: every seal from there on has one
	gone    Mark   // the last seal that was not there
}

// maxWaiting bounds how many seals wait for the first entry of all. An entry lags
// behind its seal by no more seals than transactions were at work beside it.
const maxWaiting = 1000

// seal takes a seal in.
func (w *witnesses) seal(s *StoredSeal) {
	w.waiting = append(w.waiting, s.Mark())
	if !w.begun && len(w.waiting) > maxWaiting {
		w.waiting = slices.Delete(w.waiting, 0, 1)
	}
}

// entry takes an entry in that bears witness. Of seals that are gone one after
// another the first is told of.
func (w *witnesses) entry(r *Row) {
	m, err := markOf(r.Entry.After)
	if err != nil {
		row := *r
		w.found(Finding{Trouble: EntryChanged, Row: &row})
		return
	}
	for len(w.waiting) > 0 && m.After(w.waiting[0]) {
		w.miss()
	}
	w.begun = true
	if len(w.waiting) > 0 && w.waiting[0] == m {
		w.waiting = w.waiting[1:]
		return
	}
	if len(w.waiting) > 0 && !w.waiting[0].After(m) {
		w.waiting = w.waiting[1:] // another stands in its place
	}
	if !m.After(w.gone) {
		return // told already: the chain was begun anew from there
	}
	if m.Era != w.gone.Era || m.Number != w.gone.Number+1 {
		row := *r
		w.found(Finding{Trouble: SealGone, Seal: m.bare(), Row: &row})
	}
	w.gone = m
}

// miss gives up waiting for the entry of the oldest seal that has none.
func (w *witnesses) miss() {
	if w.begun {
		w.found(Finding{Trouble: WitnessMissing, Seal: w.waiting[0].bare()})
	}
	w.waiting = w.waiting[1:]
}

// end takes the end of the walk in.
func (w *witnesses) end() {
	for len(w.waiting) > 0 {
		w.miss()
	}
}

// checkTip holds the note of the newest seal, nil for none, against the last seal
// of the chain, nil for none.
func checkTip(tip *Mark, last *StoredSeal, found func(Finding)) {
	switch {
	case tip == nil && last == nil:
	case last == nil || tip != nil && (tip.After(last.Mark()) || !last.Mark().After(*tip) && tip.Hash != last.Hash):
		found(Finding{Trouble: EndCut, Seal: tip.bare()})
	case tip == nil || *tip != last.Mark():
		found(Finding{Trouble: TipWrong, Seal: last})
	}
}

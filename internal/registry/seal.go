package registry

import (
	"time"

	"github.com/google/uuid"
)

// Seal closes a stretch of a group's ledger: whoever holds its hash on paper can
// have the ledger proved against it.
type Seal struct {
	Era      int // 1 and up; a restore raises it
	Number   int // 1 and up within the era
	At       time.Time
	Entries  int
	Hash     string // SHA-256, 64 hex digits
	Previous string // hash of the seal before; empty: it is the first
}

// SealPage asks for at most Limit seals before the one of Era and Number,
// newest first; zero: from the newest on.
type SealPage struct {
	Limit       int
	Era, Number int
}

// SealLag is what waits to be sealed.
type SealLag struct {
	Entries int
	Since   *time.Time // instant of the oldest; nil: nothing waits
}

// LedgerTrouble is what is wrong with a seal, an entry of the ledger or a row.
type LedgerTrouble string

// What going over the ledger can find; the words are those of package ledger.
const (
	SealChanged    LedgerTrouble = "seal-changed"
	SealMissing    LedgerTrouble = "seal-missing"
	StretchChanged LedgerTrouble = "stretch-changed"
	EntriesMissing LedgerTrouble = "entries-missing"
	EntriesExtra   LedgerTrouble = "entries-extra"
	EntryChanged   LedgerTrouble = "entry-changed"
	EntryMisplaced LedgerTrouble = "entry-misplaced"
	EntryBackdated LedgerTrouble = "entry-backdated"
	EntryAhead     LedgerTrouble = "entry-ahead"
	EntryUnjoined  LedgerTrouble = "entry-unjoined"
	SealGone       LedgerTrouble = "seal-gone"
	WitnessMissing LedgerTrouble = "witness-missing"
	EndCut         LedgerTrouble = "end-cut"
	TipWrong       LedgerTrouble = "tip-wrong"
	NounUnknown    LedgerTrouble = "noun-unknown"
	RowChanged     LedgerTrouble = "row-changed"
	RowMissing     LedgerTrouble = "row-missing"
	RowExtra       LedgerTrouble = "row-extra"
)

// LedgerTroubles lists them.
func LedgerTroubles() []LedgerTrouble {
	return []LedgerTrouble{
		SealChanged, SealMissing, StretchChanged, EntriesMissing, EntriesExtra, EntryChanged, EntryMisplaced,
		EntryBackdated, EntryAhead, EntryUnjoined, SealGone, WitnessMissing, EndCut, TipWrong, NounUnknown,
		RowChanged, RowMissing, RowExtra,
	}
}

// LedgerFault is one thing that does not fit. It names, but holds no values.
type LedgerFault struct {
	Trouble LedgerTrouble
	Noun    string     // the table; empty: it is about a seal
	RowID   *uuid.UUID // nil: it is about a seal
	Entry   int64      // id in the ledger; 0: none is at fault by itself
	Fields  []string   // by which a row differs
	Era     int        // of the seal; 0: it is about none
	Number  int
}

// LedgerCheck is what going over a group's ledger has found.
type LedgerCheck struct {
	Seals    int
	Entries  int
	Unsealed int // of the entries, those that wait for a seal
	Faults   []LedgerFault
	LeftOut  int    // faults beyond those listed
	Asked    string // the hash that was asked for, or its beginning; empty: none
	Found    *Seal  // the seal of that hash; nil: none was asked for, or it is not in the chain
}

// NotProved lists the tables that verifying a ledger does not hold against it, by
// name: what is worked out anew, the bytes of pictures (of which the entry binds
// the file as it was sent, not the sizes made of it), work in hand, and who may
// sign in.
func NotProved() []string {
	return []string{
		"account", "assessment", "assessment_candidate", "assessment_due", "assessment_finding", "assessment_history",
		"import_job", "import_piece", "picture_data", "web_session",
	}
}

// OK says that nothing is wrong and that the seal asked for, if any, is there.
func (c *LedgerCheck) OK() bool {
	return len(c.Faults) == 0 && (c.Asked == "" || c.Found != nil)
}

package postgres

import (
	"maps"

	"github.com/google/uuid"

	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

// An entry begins with the text of the row that the entry before it ended with.
// Before and after are the entries of one row in the order of era and id: a row
// is locked before its change is entered, so that ids follow the order of the
// changes, which transaction ids need not.

// loose says how far entries of a noun may depart from that.
type loose struct {
	all    bool         // they are not held against each other
	idOnly bool         // one that ends the row may begin with its id alone
	anew   bool         // one may say that a row is new which was there
	later  ledger.Later // beside what came later to the table
}

// looselyJoined are the nouns that depart from it.
var looselyJoined = map[string]loose{
	// An entry tells of a piece of a list and how many came before. Each is held
	// against the rows of its piece instead (auditImport).
	"import": {all: true},
	// A token is dropped by its id; what its role was is in the entry before.
	"access_token": {idOnly: true},
	// So is a membership. A role in place of another is entered without the one
	// before: it is set, not changed.
	"membership": {idOnly: true, anew: true},
	// Migration 5 made true what was not there yet, where a parcel was named.
	"position": {later: ledger.Later{"parcel_by_hand": ledger.Anything}},
}

// saidRow is what the ledger says of a row, or of one of several that share its
// id, in its newest entry, or in one that does not join the one before.
type saidRow struct {
	ID      int64     `json:"id"`
	RowID   uuid.UUID `json:"row_id"`
	Text    string    `json:"text"` // of the newest entry alone
	There   bool      `json:"there"`
	Newest  bool      `json:"newest"`
	Joins   bool      `json:"joins"`
	Before  *string   `json:"before"`  // of an entry that does not join
	Earlier *string   `json:"earlier"` // what the entry before it ended with
}

// entriesRead says which entries of a noun are compared with its rows.
type entriesRead int

const (
	eachRow  entriesRead = iota // the newest of each row
	eachLink                    // the newest of each row, several of which share an id
	allOfID                     // every one of an id
)

// declareEntries names a cursor after the noun, so that a statement kept for one
// has never another's columns. It takes the noun, a name of ours, into its text:
// a cursor has no arguments.
func declareEntries(noun string, which entriesRead) string {
	one, newest, where := "l.row_id", "row_number() OVER entry = 1", "\nWHERE e.newest OR NOT e.joins"
	switch which {
	case eachLink:
		one += ", COALESCE(l.after, l.before)"
	case allOfID:
		newest, where = "true", ""
	}
	return `
DECLARE entries_of_` + noun + ` NO SCROLL CURSOR FOR
SELECT e.id, e.row_id, CASE WHEN e.newest THEN COALESCE(e.after, e.before, '') ELSE '' END AS text, e.after IS NOT NULL AS there,
  e.newest, e.joins, CASE WHEN NOT e.joins THEN e.before END AS before, CASE WHEN NOT e.joins THEN e.earlier END AS earlier
FROM (
  SELECT l.id, l.row_id, l.before, l.after, lead(l.after) OVER entry AS earlier,
    l.before IS NOT DISTINCT FROM lead(l.after) OVER entry AS joins, ` + newest + ` AS newest
  FROM ledger AS l
  WHERE l.noun = '` + noun + `'
  WINDOW entry AS (PARTITION BY ` + one + ` ORDER BY l.era DESC, l.id DESC)) AS e` + where + `
ORDER BY e.row_id`
}

// join tells of entries that do not join the one before, and returns the newest.
func (h held[R]) join(v *verifier, entries []saidRow) []saidRow {
	newest := entries[:0]
	for _, e := range entries {
		if !e.Joins {
			if fields, joins := h.joins(e); !joins {
				v.fault(registry.LedgerFault{Trouble: registry.EntryUnjoined, Noun: h.name, RowID: &e.RowID, Entry: e.ID, Fields: fields})
			}
		}
		if e.Newest {
			newest = append(newest, e)
		}
	}
	return newest
}

// joins says whether an entry that begins otherwise than the one before it ended
// does so for a reason that is known, and if not, by which members.
func (h held[R]) joins(e saidRow) ([]string, bool) {
	may := looselyJoined[h.name]
	switch {
	case may.all:
		return nil, true
	case e.Before == nil:
		return nil, may.anew
	case e.Earlier == nil:
		return nil, false
	}
	ended, begins := *e.Earlier, *e.Before
	if id, err := ledger.Canonical(idEntry{e.RowID}); err == nil && may.idOnly && !e.There && begins == id {
		return nil, true
	}
	if ledger.Veiled(begins) && !ledger.Veiled(ended) { // it is from before the veil
		var err error
		if ended, err = ledger.Bare(ended, veiled[h.name]); err == nil {
			begins, err = ledger.Bare(begins, nil)
		}
		if err != nil {
			return nil, false
		}
	}
	later := ledger.Later{}
	maps.Copy(later, h.later)
	maps.Copy(later, may.later)
	fields, err := ledger.Differing(ended, begins, later)
	return fields, err == nil && len(fields) == 0
}

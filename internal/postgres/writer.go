package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"rockledger/internal/fault"
	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

// writer is one transaction that changes one group, and what it must enter in
// the ledger before it ends.
type writer struct {
	*wire
	group uuid.UUID
	who   string
	what  string
	at    time.Time
	looks bool // it locks nothing and writes nothing

	judge   func(registry.Facts) (registry.Assessment, error) // nil: the change brings its assessments
	held    map[uuid.UUID]bool                                // anchors locked or made here: these may be assessed
	made    map[uuid.UUID]bool                                // of those, anchors made here
	queued  []uuid.UUID                                       // of those, anchors that stood on the queue of stale ones
	places  []registry.Place                                  // whose anchors may stand otherwise after this
	beside  []uuid.UUID                                       // anchors that may stand otherwise after this
	grown   map[string]int64                                  // rows entered here, by table
	calm    bool                                              // what grew was analysed not long ago
	pieces  int                                               // of a long list, that this one stands for
	entries []ledger.Entry

	salts    map[saltKey][]byte // of rows whose text in the ledger is veiled
	newSalts []saltKey          // of those, made here
	anew     map[saltKey]bool   // rows whose stored salt gives way to another with their next entry
	hashes   <-chan hashed      // of the entries so far. Nil: not begun
}

// hashed are the hashes of the first of a writer's entries, in order.
type hashed struct {
	hashes [][]byte
	err    error
}

// hash begins to work out the hashes of the entries noted so far, while the
// database is busy with the rest of the change.
func (w *writer) hash(context.Context, *registry.Change) error {
	done, entries := make(chan hashed, 1), w.entries
	go func() {
		hashes, err := hashesOf(entries)
		done <- hashed{hashes, err}
	}()
	w.hashes = done
	return nil
}

func hashesOf(entries []ledger.Entry) ([][]byte, error) {
	hashes := make([][]byte, len(entries))
	for i := range entries {
		hash, err := entries[i].Hash()
		if err != nil {
			return nil, fault.Wrap(fault.Internal, err, "append to ledger")
		}
		hashes[i] = hash[:]
	}
	return hashes, nil
}

// allHashes waits for the hashes that were begun, and works out the others.
func (w *writer) allHashes() ([][]byte, error) {
	var begun hashed
	if w.hashes != nil {
		begun, w.hashes = <-w.hashes, nil
	}
	if begun.err != nil {
		return nil, begun.err
	}
	rest, err := hashesOf(w.entries[len(begun.hashes):])
	return append(begun.hashes, rest...), err
}

// manyAtOnce is how many rows make a statement worth going on beside it.
const manyAtOnce = 100

// enterRows runs a statement that enters rows of a table. Where they are many it
// returns while the database is busy with it, see wire.start.
func (w *writer) enterRows(ctx context.Context, doing, sql string, args pgx.StrictNamedArgs, rows int) error {
	if rows < manyAtOnce {
		return w.exec(ctx, doing, sql, args)
	}
	return w.start(ctx, doing, sql, args)
}

// grow counts rows entered in a table.
func (w *writer) grow(name string, rows int) {
	if w.grown == nil {
		w.grown = make(map[string]int64)
	}
	w.grown[name] += int64(rows)
}

// placed rows say something of the anchors at a place.
type placed interface{ place() registry.Place }

// touch remembers the place that a row, new, changed or replaced, speaks of.
func (w *writer) touch(r any) {
	if p, ok := r.(placed); ok {
		w.places = append(w.places, p.place())
	}
}

// note remembers a ledger entry for one row; before is nil for a new row,
// after for one that is taken away.
func (w *writer) note(noun string, id uuid.UUID, before, after any) error {
	e := ledger.Entry{GroupID: w.group, At: w.at, Who: w.who, What: w.what, Noun: noun, RowID: id}
	var err error
	if e.Before, err = w.text(noun, id, before); err != nil {
		return err
	}
	w.forgetSalt(saltKey{noun, id})
	if e.After, err = w.text(noun, id, after); err != nil {
		return err
	}
	w.entries = append(w.entries, e)
	return nil
}

// text is the canonical text of what the ledger may hold of a row.
func (w *writer) text(noun string, id uuid.UUID, r any) (string, error) {
	if _, ok := veiled[noun]; ok && r != nil {
		return veilText(noun, r, func() ([]byte, error) { return w.salt(noun, id) })
	}
	return publicText(r)
}

// publicText is the text of a row without a veil, as entries had it before some
// were veiled, absent members left out.
func publicText(r any) (string, error) {
	if r == nil {
		return "", nil
	}
	if d, ok := r.(discreet); ok {
		r = d.public()
	}
	return textOf(r, sparse)
}

// manyRows is how many rows entered in one change make a table worth analysing
// at once: the order of a long list.
const manyRows = 1000

// analyse brings the statistics of tables up to date that this change made grow
// by many rows, or that the pieces of a long list did: a piece of which rows were
// refused enters fewer than many, and while nothing analyses a table, each check
// of a foreign key may read all that was entered so far, by a plan made when it
// was nearly empty. It comes last, since it holds off other analyses until the
// transaction ends.
func (w *writer) analyse(ctx context.Context) error {
	if w.calm {
		return nil
	}
	var names []string
	var written []int64
	for name, rows := range w.grown {
		if rows *= int64(max(w.pieces, 1)); rows >= manyRows || w.pieces > 0 {
			names, written = append(names, name), append(written, rows)
		}
	}
	if len(names) == 0 {
		return nil
	}
	return w.exec(ctx, "analyse what grew", selectAnalyse, pgx.StrictNamedArgs{"names": names, "written": written})
}

const selectAnalyse = `SELECT analyse_grown(@names::text[], @written::bigint[])`

const insertLedger = `
INSERT INTO ledger (group_id, era, at, who, what, noun, row_id, before, after, hash)
SELECT @group_id, (SELECT max(x.era) FROM ledger_era AS x), @at, @who, @what, e.noun, e.row_id, e.before, e.after, e.hash
FROM unnest(@nouns::text[], @row_ids::uuid[], @befores::text[], @afters::text[], @hashes::bytea[])
  WITH ORDINALITY AS e (noun, row_id, before, after, hash, n)
ORDER BY e.n`

// enter writes the noted entries, in order, and the salts they took.
func (w *writer) enter(ctx context.Context) error {
	if err := w.keepSalts(ctx); err != nil {
		return err
	}
	hashes, err := w.allHashes()
	if err != nil {
		return err
	}
	for from := 0; from < len(w.entries); from += chunk {
		to := min(from+chunk, len(w.entries))
		part, args := w.entries[from:to], ledgerColumns(w.entries[from:to], hashes[from:to])
		args["group_id"], args["at"], args["who"], args["what"] = w.group, w.at, w.who, w.what
		if err := w.enterRows(ctx, "append to ledger", insertLedger, args, len(part)); err != nil {
			return err
		}
		w.grow("ledger", len(part))
	}
	return nil
}

// ledgerColumns are arrays of types that need no look at each of their values.
func ledgerColumns(entries []ledger.Entry, hashes [][]byte) pgx.StrictNamedArgs {
	n := len(entries)
	nouns, rowIDs := make(pgtype.FlatArray[string], n), make(pgtype.FlatArray[pgtype.UUID], n)
	befores, afters := make(pgtype.FlatArray[pgtype.Text], n), make(pgtype.FlatArray[pgtype.Text], n)
	for i := range entries {
		e := &entries[i]
		nouns[i], rowIDs[i] = e.Noun, pgtype.UUID{Bytes: e.RowID, Valid: true} // a uuid.UUID would be sent as text
		befores[i], afters[i] = orNull(e.Before), orNull(e.After)
	}
	return pgx.StrictNamedArgs{
		"nouns": nouns, "row_ids": rowIDs, "befores": befores, "afters": afters, "hashes": pgtype.FlatArray[[]byte](hashes),
	}
}

func orNull(text string) pgtype.Text { return pgtype.Text{String: text, Valid: text != ""} }

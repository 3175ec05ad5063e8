package postgres

import (
	"bytes"
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

// holding is a table that the ledger speaks of.
type holding interface {
	noun() string
	// check compares the table's rows with what the ledger says of them.
	check(ctx context.Context, v *verifier) error
	laterColumns() []string
}

// held is a holding whose rows read as R.
type held[R any] struct {
	name      string
	selectSQL string // up to its ORDER BY; the table's alias is t
	key       string // the column of the ledger's row_id
	id        func(R) uuid.UUID
	entry     func(context.Context, *verifier, R) (any, error) // what is noted of a row; nil: the row
	many      bool                                             // several rows share a row_id, and none of them ever changes
	reads     entriesRead                                      // which entries are compared
	later     ledger.Later
	// audit, if not nil, takes compare's place.
	audit func(ctx context.Context, v *verifier, id uuid.UUID, said []saidRow, stored []R) error
}

func (h held[R]) noun() string { return h.name }

// ofTable is the holding of a table whose rows are noted as they are.
func ofTable[R row](t table[R], later ledger.Later) held[R] {
	return held[R]{name: t.name, selectSQL: t.selectSQL, key: "id", id: R.rowID, later: later}
}

// ofLinks is the holding of links, which go by the id in column key.
func ofLinks[R row](t table[R], key string) held[R] {
	return held[R]{name: t.name, selectSQL: t.selectSQL, key: key, id: R.rowID, many: true, reads: eachLink}
}

// Columns that came later, NOT NULL with a default: what it means that an
// older entry lacks them.
var (
	laterInPerson     = ledger.Later{"erased": "false"}
	laterInPosition   = ledger.Later{"parcel_by_hand": "false"}
	laterInInspection = ledger.Later{"measured": "[]"}
	laterInAnchor     = ledger.Later{"mistaken": "false"}
	laterInRemoval    = ledger.Later{"observations": "[]", "metal_where": `""`}
	laterInNotice     = ledger.Later{"product_ids": "[]", "batch_ids": "[]", "setter_ids": "[]", "site_ids": "[]", "rocks": "[]", "ended_reason": `""`}
	laterInProduct    = ledger.Later{"shipped": "false"}
	laterInSheet      = ledger.Later{"cure_rows": "[]", "moistures": "[]"}
	laterInSetting    = ledger.Later{"set_at_words": `""`, "rock_words": `""`, "torque_tool": `""`}
	laterInFirstUse   = ledger.Later{"at_words": `""`}
)

// holdings are all tables that the ledger speaks of.
func holdings() []holding {
	return []holding{
		groupHolding, tokenHolding, membershipHolding, rulesHolding,
		ofTable(persons, laterInPerson), ofTable(erasures, nil), ofTable(holds, nil), ofTable(landowners, nil), ofTable(parcels, nil), ofTable(agreements, nil),
		ofTable(products, laterInProduct), ofTable(productVersions, laterInSheet), ofTable(batches, nil),
		ofTable(sites, nil), ofTable(sectors, nil), ofTable(routes, nil), ofTable(positions, laterInPosition),
		ofLinks(stops, "position_id"), ofTable(assemblies, nil), ofLinks(members, "position_id"),
		ofTable(anchors, laterInAnchor), ofTable(fittings, nil), ofTable(pictures, nil),
		ofTable(restrictions, nil), ofTable(environments, nil), ofTable(events, nil),
		ofTable(notices, laterInNotice), ofLinks(named, "notice_id"),
		ofTable(sessions, nil), ofTable(installations, laterInSetting), ofTable(cures, nil), ofTable(firstUses, laterInFirstUse),
		ofTable(inspections, laterInInspection), ofTable(maintenance, nil), ofTable(removals, laterInRemoval), ofTable(markings, nil),
		ofTable(settlements, nil), ofTable(retractions, nil), ofTable(proposals, nil),
		importHolding, undoHolding,
	}
}

func (h held[R]) laterColumns() []string {
	var list []string
	for column := range h.later {
		list = append(list, h.name+"."+column)
	}
	return list
}

// LaterColumns lists, by name, the columns that came later with a default that
// stands for what older entries of the ledger lack.
func LaterColumns() []string {
	var list []string
	for _, h := range holdings() {
		list = append(list, h.laterColumns()...)
	}
	slices.Sort(list)
	return list
}

// LedgerTables lists, by name, the tables that the ledger speaks of.
func LedgerTables() []string {
	var list []string
	for _, h := range holdings() {
		list = append(list, h.noun())
	}
	slices.Sort(list)
	return list
}

// tables goes over all of them, and tells of entries that speak of none.
func (v *verifier) tables(ctx context.Context) error {
	for _, h := range holdings() {
		delete(v.nouns, h.noun())
		if err := h.check(ctx, v); err != nil {
			return fmt.Errorf("verify %s: %w", h.noun(), err)
		}
	}
	for _, r := range v.nouns {
		v.found(ledger.Finding{Trouble: ledger.NounUnknown, Row: r})
	}
	return nil
}

func declareSalts(noun string) string {
	return `
DECLARE salts_of_` + noun + ` NO SCROLL CURSOR FOR
SELECT s.row_id, s.salt
FROM ledger_salt AS s
WHERE s.noun = '` + noun + `'
ORDER BY s.row_id`
}

// check goes through entries and rows side by side, in the order of ids.
func (h held[R]) check(ctx context.Context, v *verifier) error {
	err := v.ask(ctx, "declare", func(b *pgx.Batch) {
		b.Queue(declareEntries(h.name, h.reads))
		b.Queue(declareSalts(h.name))
		b.Queue("\nDECLARE rows_of_" + h.name + " NO SCROLL CURSOR FOR" + h.selectSQL + "\nORDER BY t." + h.key)
	})
	if err != nil {
		return err
	}
	entries := fetch(ctx, v, "entries_of_"+h.name, func(r saidRow) uuid.UUID { return r.RowID })
	rows := fetch(ctx, v, "rows_of_"+h.name, h.id)
	salts := fetch(ctx, v, "salts_of_"+h.name, func(r saltRow) uuid.UUID { return r.RowID })
	for {
		if err := first(entries.fill, rows.fill); err != nil {
			return err
		}
		id, ok := earlier(entries.id, rows.id)
		if !ok {
			break
		}
		said, err := entries.take(id)
		if err != nil {
			return err
		}
		stored, err := rows.take(id)
		if err != nil {
			return err
		}
		if v.rowSalt, err = saltOf(salts, id); err != nil {
			return err
		}
		compare := h.compare
		if h.audit != nil {
			compare = h.audit
		}
		if err := compare(ctx, v, id, h.join(v, said), stored); err != nil {
			return err
		}
	}
	return v.ask(ctx, "close", func(b *pgx.Batch) {
		b.Queue("CLOSE entries_of_" + h.name)
		b.Queue("CLOSE rows_of_" + h.name)
		b.Queue("CLOSE salts_of_" + h.name)
	})
}

// earlier is the lesser of two ids that may be missing.
func earlier(a, b *uuid.UUID) (uuid.UUID, bool) {
	switch {
	case a == nil && b == nil:
		return uuid.Nil, false
	case b == nil || a != nil && bytes.Compare(a[:], b[:]) < 0:
		return *a, true
	}
	return *b, true
}

// compare sets what the ledger says of one id against what is stored.
func (h held[R]) compare(ctx context.Context, v *verifier, id uuid.UUID, said []saidRow, stored []R) error {
	texts := make([]storedText, len(stored))
	for i, r := range stored {
		var err error
		if texts[i], err = h.text(ctx, v, r); err != nil {
			return err
		}
	}
	trouble := func(t registry.LedgerTrouble, entry int64, fields []string) {
		v.fault(registry.LedgerFault{Trouble: t, Noun: h.name, RowID: &id, Entry: entry, Fields: fields})
	}
	for _, l := range said {
		i, fields, err := h.match(l, texts)
		switch {
		case err != nil:
			trouble(registry.EntryChanged, l.ID, nil)
		case i < 0 && l.There:
			trouble(registry.RowMissing, l.ID, nil)
		case i < 0:
			// it is gone, as said
		case !l.There:
			trouble(registry.RowExtra, l.ID, nil)
		case len(fields) > 0:
			trouble(registry.RowChanged, l.ID, fields)
		}
		if i >= 0 {
			texts = append(texts[:i], texts[i+1:]...)
		}
	}
	for range texts {
		trouble(registry.RowExtra, 0, nil)
	}
	return nil
}

// match finds the row that an entry speaks of, -1 for none, and by what it
// differs. Among several it is the one that does not differ.
func (h held[R]) match(l saidRow, texts []storedText) (int, []string, error) {
	for i, text := range texts {
		if !h.many && !l.There {
			return i, nil, nil
		}
		now, err := text.as(l.Text)
		if err != nil {
			return i, nil, err
		}
		fields, err := ledger.Differing(l.Text, now, h.later)
		if err != nil || !h.many || len(fields) == 0 {
			return i, fields, err
		}
	}
	return -1, nil, nil
}

// storedText is what the ledger would say of a stored row: as entries had it
// before they were veiled, and veiled but for the columns that are told.
type storedText struct {
	open   string
	hidden []string // columns that are veiled now
	veiled func(names []string) (string, error)
}

// as is the text in the manner of an entry: what the entry tells was not veiled
// yet when it was made.
func (t *storedText) as(entry string) (string, error) {
	if !ledger.Veiled(entry) {
		return t.open, nil
	}
	names, err := ledger.Untold(entry, t.hidden)
	if err != nil {
		return "", err
	}
	return t.veiled(names)
}

// text is what the ledger would say of a stored row.
func (h held[R]) text(ctx context.Context, v *verifier, r R) (t storedText, err error) {
	var noted any = r
	if h.entry != nil {
		if noted, err = h.entry(ctx, v, r); err != nil {
			return t, err
		}
	}
	salt := v.rowSalt
	t.hidden = hiddenIn(h.name, noted)
	t.veiled = func(names []string) (string, error) {
		// in another way than veilText wrote it, so that either tells of a mistake in the other
		return ledger.Veil(noted, names, func() ([]byte, error) { return salt, nil })
	}
	t.open, err = publicText(noted)
	return t, err
}

// fetched reads a cursor, whose rows come in the order of ids.
type fetched[R any] struct {
	more func() ([]R, error)
	of   func(R) uuid.UUID
	rows []R
	end  bool
	id   *uuid.UUID // of the next row; nil: there is none
}

func fetch[R any](ctx context.Context, v *verifier, cursor string, of func(R) uuid.UUID) *fetched[R] {
	return &fetched[R]{of: of, more: func() (rows []R, err error) {
		err = v.ask(ctx, "fetch", func(b *pgx.Batch) { all(b, &rows, fmt.Sprintf("FETCH %d FROM %s", verifyChunk, cursor), nil) })
		return rows, err
	}}
}

// fill sees to it that the next row is at hand.
func (f *fetched[R]) fill() (err error) {
	if len(f.rows) == 0 && !f.end {
		f.rows, err = f.more()
		f.end = len(f.rows) < verifyChunk
	}
	f.id = nil
	if len(f.rows) > 0 {
		id := f.of(f.rows[0])
		f.id = &id
	}
	return err
}

// take takes the next rows of an id.
func (f *fetched[R]) take(id uuid.UUID) (taken []R, err error) {
	for err == nil && f.id != nil && *f.id == id {
		taken, f.rows = append(taken, f.rows[0]), f.rows[1:]
		err = f.fill()
	}
	return taken, err
}

// saltOf takes the salt of an id, nil for none, and passes over those before.
func saltOf(f *fetched[saltRow], id uuid.UUID) ([]byte, error) {
	err := f.fill()
	for err == nil && f.id != nil && bytes.Compare(f.id[:], id[:]) < 0 {
		_, err = f.take(*f.id)
	}
	if err != nil {
		return nil, err
	}
	taken, err := f.take(id)
	if len(taken) == 0 {
		return nil, err
	}
	return taken[0].Salt, err
}

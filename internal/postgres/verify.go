package postgres

import (
	"context"
	"encoding/hex"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

// maxFaults bounds how many faults are listed; the others are counted.
const maxFaults = 1000

// VerifyLedger goes over the group's seals and ledger, and then over each table
// that the ledger speaks of, as of one instant, and lists what does not fit.
// hash, if not empty, is a seal's or its beginning: whether it is in the chain.
func (s *Store) VerifyLedger(ctx context.Context, group uuid.UUID, hash string) (registry.LedgerCheck, error) {
	v := &verifier{asked: strings.ToLower(hash), nouns: make(map[string]*ledger.Row)}
	v.check.Asked, v.check.Faults = v.asked, []registry.LedgerFault{}
	err := onWire(ctx, s.pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(l *wire) error {
		inUTC(l.tx.Conn())
		v.writer = writer{wire: l, group: group}
		if err := v.ask(ctx, "set group", func(b *pgx.Batch) { b.Queue(setOnlyGroup, group.String()) }); err != nil {
			return err
		}
		return first(
			func() error { return v.walk(ctx) },
			func() error { return v.tables(ctx) },
		)
	})
	return v.check, translate(err, "verify ledger")
}

// setOnlyGroup leaves the planner all its means: whole tables are read.
const setOnlyGroup = `SELECT set_config('rockledger.group_id', $1, true)`

// inUTC has a connection give instants as the ledger writes them.
func inUTC(conn *pgx.Conn) {
	conn.TypeMap().RegisterType(&pgtype.Type{
		Name: "timestamptz", OID: pgtype.TimestamptzOID, Codec: &pgtype.TimestamptzCodec{ScanLocation: time.UTC},
	})
}

// verifier is one transaction that verifies.
type verifier struct {
	writer
	check   registry.LedgerCheck
	asked   string
	rowSalt []byte                 // of the row that is compared; nil: there is none
	nouns   map[string]*ledger.Row // an entry of each noun that the ledger speaks of
}

// fault adds a fault.
func (v *verifier) fault(f registry.LedgerFault) {
	if len(v.check.Faults) == maxFaults {
		v.check.LeftOut++
		return
	}
	v.check.Faults = append(v.check.Faults, f)
}

// found adds what package ledger has found.
func (v *verifier) found(f ledger.Finding) {
	out := registry.LedgerFault{Trouble: registry.LedgerTrouble(f.Trouble)}
	if s := f.Seal; s != nil {
		out.Era, out.Number = s.Era, s.Number
	}
	if r := f.Row; r != nil && f.Seal != nil {
		out.Entry = r.ID
	} else if r != nil {
		out.Noun, out.RowID, out.Entry = r.Entry.Noun, &r.Entry.RowID, r.ID
	}
	v.fault(out)
}

type presentRow struct {
	Era   int    `json:"era"`
	Ahead string `json:"ahead"`
}

// selectPresent reads the present era and the transaction from which on none has
// begun: no entry that is seen here can be of one.
const selectPresent = `
SELECT max(x.era) AS era, pg_snapshot_xmax(pg_current_snapshot())::text AS ahead
FROM ledger_era AS x`

// walk goes over seals and entries.
func (v *verifier) walk(ctx context.Context) error {
	var (
		at   presentRow
		tips []tipRow
	)
	err := v.ask(ctx, "read era", func(b *pgx.Batch) {
		one(b, &at, selectPresent, nil)
		all(b, &tips, selectTip, nil)
	})
	if err != nil {
		return err
	}
	ahead, err := strconv.ParseUint(at.Ahead, 10, 64)
	if err != nil {
		return translate(err, "read era")
	}
	now := ledger.Present{Era: at.Era, Ahead: ahead}
	for _, t := range tips {
		m := t.mark()
		now.Tip = &m
	}
	totals, err := ledger.Walk(v.seals(ctx), v.entriesInOrder(ctx), now, v.found)
	v.check.Seals, v.check.Entries, v.check.Unsealed = totals.Seals, totals.Rows, totals.Unsealed
	return err
}

// stream reads chunk after chunk. args is changed by after to begin behind a
// chunk's last row.
func stream[R any](ctx context.Context, v *verifier, sql string, args pgx.StrictNamedArgs, after func(R)) ledger.Next[R] {
	var (
		rows []R
		at   int
		end  bool
	)
	args["max_rows"] = verifyChunk
	return func() (r R, ok bool, err error) {
		if at == len(rows) {
			if end {
				return r, false, nil
			}
			rows, at = nil, 0
			if err := v.ask(ctx, "verify ledger", func(b *pgx.Batch) { all(b, &rows, sql, args) }); err != nil {
				return r, false, err
			}
			end = len(rows) < verifyChunk
			if len(rows) == 0 {
				return r, false, nil
			}
			after(rows[len(rows)-1])
		}
		at++
		return rows[at-1], true, nil
	}
}

// verifyChunk bounds how many rows are in memory at a time.
const verifyChunk = 1000

// selectNextSeals is served by the primary key.
const selectNextSeals = selectSeals + `
WHERE (s.era, s.number) > (@era, @number)
ORDER BY s.era, s.number
LIMIT @max_rows`

// seals streams the seals, and looks out for the one asked for.
func (v *verifier) seals(ctx context.Context) ledger.Next[ledger.StoredSeal] {
	args := pgx.StrictNamedArgs{"era": 0, "number": 0}
	next := stream(ctx, v, selectNextSeals, args, func(r sealRow) { args["era"], args["number"] = r.Era, r.Number })
	return func() (s ledger.StoredSeal, ok bool, err error) {
		r, ok, err := next()
		if err != nil || !ok {
			return s, false, err
		}
		if v.asked != "" && strings.HasPrefix(hex.EncodeToString(r.Hash), v.asked) {
			found := r.noun()
			v.check.Found = &found
		}
		s.Hash = ledger.Digest(r.Hash)
		s.Seal, err = r.seal(v.group)
		return s, err == nil, err
	}
}

// entryRow is an entry as it is stored.
type entryRow struct {
	ID     int64     `json:"id"`
	Era    int       `json:"era"`
	TxID   string    `json:"txid"`
	At     time.Time `json:"at"`
	Who    string    `json:"who"`
	What   string    `json:"what"`
	Noun   string    `json:"noun"`
	RowID  uuid.UUID `json:"row_id"`
	Before *string   `json:"before"`
	After  *string   `json:"after"`
	Hash   []byte    `json:"hash"`
}

// selectNextEntries is served by ledger_in_order_idx.
const selectNextEntries = `
SELECT l.id, l.era, l.txid::text AS txid, l.at, l.who, l.what, l.noun, l.row_id, l.before, l.after, l.hash
FROM ledger AS l
WHERE (l.era, l.txid, l.id) > (@era, @txid::text::xid8, @id::bigint)
ORDER BY l.era, l.txid, l.id
LIMIT @max_rows`

// entriesInOrder streams the entries, and remembers what nouns there are.
func (v *verifier) entriesInOrder(ctx context.Context) ledger.Next[ledger.Row] {
	args := pgx.StrictNamedArgs{"era": 0, "txid": "0", "id": 0}
	next := stream(ctx, v, selectNextEntries, args, func(r entryRow) { args["era"], args["txid"], args["id"] = r.Era, r.TxID, r.ID })
	return func() (row ledger.Row, ok bool, err error) {
		r, ok, err := next()
		if err != nil || !ok {
			return row, false, err
		}
		row = ledger.Row{ID: r.ID, Era: r.Era, Hash: ledger.Digest(r.Hash), Entry: ledger.Entry{
			GroupID: v.group, At: r.At, Who: r.Who, What: r.What, Noun: r.Noun, RowID: r.RowID,
			Before: orEmpty(r.Before), After: orEmpty(r.After),
		}}
		if row.TxID, err = strconv.ParseUint(r.TxID, 10, 64); err != nil {
			return row, false, translate(err, "read ledger")
		}
		if v.nouns[r.Noun] == nil && r.Noun != ledger.SealNoun {
			v.nouns[r.Noun] = &row
		}
		return row, true, nil
	}
}

func orEmpty(text *string) string {
	if text == nil {
		return ""
	}
	return *text
}

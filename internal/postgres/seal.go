package postgres

import (
	"context"
	"encoding/hex"
	"math"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

// SealEvery is how often a service seals what was entered.
const SealEvery = 5 * time.Second

// sealRow is a seal as it is stored. Transaction ids travel as text.
type sealRow struct {
	Era       int       `json:"era"`
	Number    int       `json:"number"`
	At        time.Time `json:"at"`
	Entries   int       `json:"entries"`
	FirstID   int64     `json:"first_id"`
	LastID    int64     `json:"last_id"`
	UntilTxID string    `json:"until_txid"`
	Root      []byte    `json:"root"`
	Previous  []byte    `json:"previous"`
	Hash      []byte    `json:"hash"`
}

const selectSeals = `
SELECT s.era, s.number, s.at, s.entries, s.first_id, s.last_id, s.until_txid::text AS until_txid, s.root, s.previous, s.hash
FROM ledger_seal AS s`

func (r sealRow) noun() registry.Seal {
	return registry.Seal{
		Era: r.Era, Number: r.Number, At: r.At.UTC(), Entries: r.Entries,
		Hash: hex.EncodeToString(r.Hash), Previous: hex.EncodeToString(r.Previous),
	}
}

// seal is the seal that a row holds, without its hash.
func (r sealRow) seal(group uuid.UUID) (ledger.Seal, error) {
	until, err := strconv.ParseUint(r.UntilTxID, 10, 64)
	s := ledger.Seal{
		GroupID: group, Era: r.Era, Number: r.Number, At: r.At, Count: r.Entries, First: r.FirstID, Last: r.LastID,
		Until: until, Root: ledger.Digest(r.Root),
	}
	if r.Previous != nil {
		previous := ledger.Digest(r.Previous)
		s.Previous = &previous
	}
	return s, translate(err, "read seal")
}

// Seals lists seals, newest first; served by the primary key.
func (s *Store) Seals(ctx context.Context, group uuid.UUID, page registry.SealPage) ([]registry.Seal, error) {
	f := pageOf(registry.Page{Limit: page.Limit})
	delete(f.args, "after")
	sql := selectSeals
	if page.Era > 0 {
		sql += "\nWHERE (s.era, s.number) < (@era, @number)"
		f.args["era"], f.args["number"] = page.Era, page.Number
	}
	return list(ctx, s, group, query{"list seals", sql + "\nORDER BY s.era DESC, s.number DESC\nLIMIT @max_rows", f.args}, sealRow.noun)
}

// fromLastSeal is where the stretch after the last seal begins. The last seal is
// taken before it is set beside none: the two sorted together would read every
// seal of the group.
const fromLastSeal = `
WITH last AS MATERIALIZED (
  SELECT era, until_txid
  FROM (
    (SELECT s.era, s.number, s.until_txid FROM ledger_seal AS s ORDER BY s.era DESC, s.number DESC LIMIT 1)
    UNION ALL
    SELECT 1, 0, '0'::xid8) AS s
  ORDER BY s.era DESC, s.number DESC
  LIMIT 1)`

// selectLag counts what is not sealed, but for what bears witness to seals; served
// by ledger_in_order_idx.
const selectLag = fromLastSeal + `
SELECT count(*) AS entries, min(l.at) AS since
FROM last
CROSS JOIN LATERAL (
  SELECT l.at
  FROM ledger AS l
  WHERE (l.era, l.txid) >= (last.era, last.until_txid)
    AND l.noun <> '` + ledger.SealNoun + `'
  OFFSET 0) AS l`

type lagRow struct {
	Entries int        `json:"entries"`
	Since   *time.Time `json:"since"`
}

func (r lagRow) noun() registry.SealLag {
	if r.Since != nil {
		since := r.Since.UTC()
		r.Since = &since
	}
	return registry.SealLag(r)
}

// SealLag returns what waits to be sealed.
func (s *Store) SealLag(ctx context.Context, group uuid.UUID) (registry.SealLag, error) {
	return single(ctx, s, group, query{"read seal lag", selectLag, nil}, lagRow.noun)
}

// Seal closes the group's ledger up to the oldest transaction still at work, and
// returns the seals that it made: none when nothing is there to seal, one, and
// one more for each era that ended without. What bears witness to seals alone is
// sealed only when its era is over. It locks nothing that a writer needs. Of
// several that seal at once one succeeds; the others make no seal.
func (s *Store) Seal(ctx context.Context, group uuid.UUID, at time.Time) ([]registry.Seal, error) {
	var made []registry.Seal
	err := onWire(ctx, s.pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead}, func(l *wire) error {
		k := &sealer{writer: writer{wire: l, group: group, who: sealing, what: "sealed", at: instant(at)}}
		if err := k.open(ctx); err != nil {
			return err
		}
		for era := k.last.Era; era <= k.era; era++ {
			if err := k.seal(ctx, era); err != nil {
				return err
			}
		}
		made = convert(k.made, sealRow.noun)
		return k.keepTip(ctx)
	})
	if stateOf(err) == uniqueViolation || stateOf(err) == serializationFailure {
		return nil, nil // another sealed at the same time
	}
	return made, translate(err, "seal ledger")
}

// sealer is one transaction that seals.
type sealer struct {
	writer
	last    sealRow // the seal before; number 0: there is none
	tip     tipRow  // the newest seal as noted; number 0: none is
	era     int     // the present one
	oldest  string  // the oldest transaction still at work
	tree    ledger.Tree
	changes bool    // something in the tree is more than witness to a seal
	stretch sealRow // as far as it is known
	made    []sealRow
}

type sealBounds struct {
	Era    int    `json:"era"`
	Oldest string `json:"oldest"`
}

// selectBounds reads the present era and the oldest transaction at work: all
// that any earlier one has entered is seen here.
const selectBounds = `
SELECT max(x.era) AS era, pg_snapshot_xmin(pg_current_snapshot())::text AS oldest
FROM ledger_era AS x`

func (k *sealer) open(ctx context.Context) error {
	var (
		last   []sealRow
		tips   []tipRow
		bounds sealBounds
	)
	err := k.ask(ctx, "read last seal", func(b *pgx.Batch) {
		b.Queue(setGroup, k.group.String())
		one(b, &bounds, selectBounds, nil)
		all(b, &last, selectSeals+"\nORDER BY s.era DESC, s.number DESC\nLIMIT 1", nil)
		all(b, &tips, selectTip, nil)
	})
	k.last = sealRow{Era: 1, UntilTxID: "0"}
	if len(last) > 0 {
		k.last = last[0]
	}
	if len(tips) > 0 {
		k.tip = tips[0]
	}
	k.era, k.oldest = bounds.Era, bounds.Oldest
	return err
}

// sealChunk bounds how many entries are read at a time.
const sealChunk = 5000

type leafRow struct {
	ID   int64  `json:"id"`
	TxID string `json:"txid"`
	Noun string `json:"noun"`
	Hash []byte `json:"hash"`
}

// selectLeaves is served by ledger_in_order_idx. Of an era that is over every
// entry is seen.
const selectLeaves = `
SELECT l.id, l.txid::text AS txid, l.noun, l.hash
FROM ledger AS l
WHERE l.era = @era
  AND (l.txid, l.id) > (@txid::text::xid8, @id::bigint)
  AND l.txid < @end::text::xid8
ORDER BY l.txid, l.id
LIMIT @max_rows`

// seal closes what is there of one era.
func (k *sealer) seal(ctx context.Context, era int) error {
	k.tree, k.changes = ledger.Tree{}, false
	k.stretch = sealRow{Era: era, Number: k.next(era), At: k.at, UntilTxID: "0"}
	if era == k.last.Era {
		k.stretch.UntilTxID = k.last.UntilTxID
	}
	end := k.oldest
	if era < k.era {
		end = strconv.FormatUint(math.MaxUint64, 10)
	}
	args := pgx.StrictNamedArgs{"era": era, "txid": k.stretch.UntilTxID, "id": 0, "end": end, "max_rows": sealChunk}
	for {
		var leaves []leafRow
		if err := k.ask(ctx, "read ledger", func(b *pgx.Batch) { all(b, &leaves, selectLeaves, args) }); err != nil {
			return err
		}
		for _, l := range leaves {
			if err := k.take(l); err != nil {
				return err
			}
		}
		if len(leaves) < sealChunk {
			break
		}
		last := leaves[len(leaves)-1]
		args["txid"], args["id"] = last.TxID, last.ID
	}
	if k.tree.Count() == 0 || era == k.era && !k.changes {
		return nil
	}
	return k.close(ctx, era)
}

func (k *sealer) take(l leafRow) error {
	txid, err := strconv.ParseUint(l.TxID, 10, 64)
	if err != nil {
		return translate(err, "read ledger")
	}
	if k.tree.Count() == 0 {
		k.stretch.FirstID = l.ID
	}
	k.stretch.LastID, k.stretch.UntilTxID = l.ID, strconv.FormatUint(txid+1, 10)
	k.tree.Add(ledger.Leaf(txid, l.ID, ledger.Digest(l.Hash)))
	k.changes = k.changes || l.Noun != ledger.SealNoun
	return nil
}

const insertSeal = `
INSERT INTO ledger_seal (group_id, era, number, at, entries, first_id, last_id, until_txid, root, previous, hash)
VALUES (@group_id, @era, @number, @at, @entries, @first_id, @last_id, @until_txid::text::xid8, @root, @previous, @hash)`

// close writes the seal over what was taken.
func (k *sealer) close(ctx context.Context, era int) error {
	root := k.tree.Root()
	k.stretch.Entries, k.stretch.Root, k.stretch.Previous = k.tree.Count(), root[:], k.previous()
	if era == k.era {
		k.stretch.UntilTxID = k.oldest
	}
	s, err := k.stretch.seal(k.group)
	if err != nil {
		return err
	}
	hash, err := s.Hash()
	if err != nil {
		return err
	}
	k.stretch.Hash = hash[:]
	args := pgx.StrictNamedArgs{
		"group_id": k.group, "era": era, "number": k.stretch.Number, "at": k.stretch.At, "entries": k.stretch.Entries,
		"first_id": k.stretch.FirstID, "last_id": k.stretch.LastID, "until_txid": k.stretch.UntilTxID,
		"root": k.stretch.Root, "previous": k.stretch.Previous, "hash": k.stretch.Hash,
	}
	if err := k.wait(); err != nil {
		return err
	}
	if _, err := k.tx.Exec(ctx, insertSeal, args); err != nil {
		return err //nolint:wrapcheck // told apart, then translated, where the transaction ends
	}
	k.last = k.stretch
	if !k.tip.later(k.last.tip()) {
		k.tip = k.last.tip()
	}
	k.made = append(k.made, k.stretch)
	return k.bearWitness(k.stretch)
}

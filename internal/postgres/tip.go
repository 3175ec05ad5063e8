package postgres

import (
	"context"

	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/ledger"
)

// What a seal leaves beside itself, in its transaction: an entry that bears
// witness to it, which the next seal closes, and the note that it is the newest.
// The next seal goes on from the later of the note and the newest seal, so that
// sealing never papers over a cut: the gap in the chain stays.

// tipRow is the note of a group's newest seal.
type tipRow struct {
	Era    int    `json:"era"`
	Number int    `json:"number"`
	Hash   []byte `json:"hash"`
}

const (
	selectTip = `
SELECT t.era, t.number, t.hash
FROM ledger_tip AS t`

	upsertTip = `
INSERT INTO ledger_tip AS t (group_id, era, number, hash)
VALUES (@group_id, @era, @number, @hash)
ON CONFLICT (group_id) DO UPDATE
SET era = excluded.era, number = excluded.number, hash = excluded.hash`
)

func (r tipRow) mark() ledger.Mark {
	return ledger.Mark{Era: r.Era, Number: r.Number, Hash: ledger.Digest(r.Hash)}
}

// tip is the seal's note.
func (r sealRow) tip() tipRow { return tipRow{r.Era, r.Number, r.Hash} }

// later says that the seal noted comes after another.
func (r tipRow) later(o tipRow) bool { return r.Era > o.Era || r.Era == o.Era && r.Number > o.Number }

// next is the number of the era's next seal.
func (k *sealer) next(era int) int {
	number := 0
	for _, t := range []tipRow{k.last.tip(), k.tip} {
		if t.Era == era {
			number = max(number, t.Number)
		}
	}
	return number + 1
}

// previous is the hash that the next seal holds: where note and newest seal are
// of one number, the note's. Nil: there is neither.
func (k *sealer) previous() []byte {
	if k.last.tip().later(k.tip) {
		return k.last.Hash
	}
	return k.tip.Hash
}

// sealing is who signs the entries that bear witness to seals.
const sealing = "service"

// bearWitness notes an entry about a seal that was made.
func (k *sealer) bearWitness(made sealRow) error {
	text, err := made.tip().mark().Text()
	if err != nil {
		return fault.Wrap(fault.Internal, err, "bear witness to a seal")
	}
	k.entries = append(k.entries, ledger.Entry{
		GroupID: k.group, At: k.at, Who: k.who, What: k.what, Noun: ledger.SealNoun, RowID: k.group, After: text,
	})
	return nil
}

// keepTip writes the entries, and the note. Of several that seal at once all but
// one fail here, which keeps the entries in the order of their seals.
func (k *sealer) keepTip(ctx context.Context) error {
	if len(k.made) == 0 {
		return nil
	}
	if err := k.enter(ctx); err != nil {
		return err
	}
	args := pgx.StrictNamedArgs{"group_id": k.group, "era": k.tip.Era, "number": k.tip.Number, "hash": k.tip.Hash}
	return k.exec(ctx, "note the newest seal", upsertTip, args)
}

package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/ledger"
	"rockledger/internal/registry"
)

// worded is a table whose words the ledger veils, to read them from itself.
type worded struct {
	name  string
	queue func(b *pgx.Batch, ids []uuid.UUID, keep func(id uuid.UUID, row any))
}

func wordsIn[R row](t table[R]) worded {
	return worded{t.name, func(b *pgx.Batch, ids []uuid.UUID, keep func(uuid.UUID, any)) {
		b.Queue(t.of("id", theseIDs), pgx.StrictNamedArgs{"ids": ids}).Query(func(rows pgx.Rows) error {
			list, err := pgx.CollectRows(rows, pgx.RowToStructByName[R])
			for _, r := range list {
				keep(r.rowID(), r)
			}
			return err //nolint:wrapcheck // translated where the batch is closed
		})
	}}
}

// wordedTables are those that evidence speaks of.
var wordedTables = []worded{
	wordsIn(sites), wordsIn(positions), wordsIn(anchors), wordsIn(products), wordsIn(fittings), wordsIn(pictures), wordsIn(events), wordsIn(notices),
	wordsIn(sessions), wordsIn(installations), wordsIn(cures), wordsIn(firstUses), wordsIn(inspections), wordsIn(maintenance),
	wordsIn(removals), wordsIn(markings), wordsIn(settlements), wordsIn(retractions),
}

// readWords puts back into the lines of the log what it veils, as far as the
// rows as they are stored now still say it: of a record always, of inventory
// while its words are the same. Elsewhere registry.WordsSealed stands.
func (s *Store) readWords(ctx context.Context, group uuid.UUID, lines []registry.LedgerLine) error {
	rows, salts := make(map[saltKey]any), make(map[saltKey][]byte)
	err := s.read(ctx, group, "read the words of evidence", func(b *pgx.Batch) {
		for _, t := range wordedTables {
			ids := veiledIDs(t.name, lines)
			if len(ids) == 0 {
				continue
			}
			t.queue(b, ids, func(id uuid.UUID, row any) { rows[saltKey{t.name, id}] = row })
			b.Queue(selectSalts, pgx.StrictNamedArgs{"ids": ids, "noun": t.name}).Query(func(found pgx.Rows) error {
				list, err := pgx.CollectRows(found, pgx.RowToStructByName[saltRow])
				for _, r := range list {
					salts[saltKey{t.name, r.RowID}] = r.Salt
				}
				return err //nolint:wrapcheck // translated where the batch is closed
			})
		}
	})
	if err != nil {
		return err
	}
	return unveil(lines, rows, salts)
}

// veiledIDs are the rows of a table that lines have veiled words of.
func veiledIDs(noun string, lines []registry.LedgerLine) []uuid.UUID {
	var ids []uuid.UUID
	for i := range lines {
		l := &lines[i]
		if l.Noun == noun && (ledger.Veiled(l.Before) || ledger.Veiled(l.After)) {
			ids = append(ids, l.RowID)
		}
	}
	return distinct(ids)
}

func unveil(lines []registry.LedgerLine, rows map[saltKey]any, salts map[saltKey][]byte) error {
	known := make(map[saltKey]ledger.Words, len(rows))
	for key, row := range rows {
		var err error
		if known[key], err = ledger.WordsOf(row, veiled[key.noun], salts[key]); err != nil {
			return err
		}
	}
	for i := range lines {
		l := &lines[i]
		names := veiled[l.Noun]
		for _, text := range []*string{&l.Before, &l.After} {
			if *text == "" || len(names) == 0 {
				continue
			}
			var err error
			if *text, err = known[saltKey{l.Noun, l.RowID}].Unveil(*text, names, registry.WordsSealed); err != nil {
				return err
			}
		}
	}
	return nil
}

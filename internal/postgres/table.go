package postgres

import (
	"context"
	"reflect"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
)

// table is a tenant table whose columns, apart from group_id, are the fields
// of row struct R.
type table[R any] struct {
	name      string
	selectSQL string // up to its WHERE; the table's alias is t
	insertSQL string
	updateSQL string // of one row
	deleteSQL string // of one row, by all its columns
	source    source
}

func newTable[R any](name string) table[R] {
	quoted := pgx.Identifier{name}.Sanitize()
	cols := columns[R]()
	src := sourceOf(reflect.TypeFor[R]())
	var changing, values, same []string
	for _, c := range src.columns {
		same = append(same, "t."+c.name+" = "+c.first())
		if c.name != "id" {
			changing, values = append(changing, c.name), append(values, c.first())
		}
	}
	return table[R]{
		name:      name,
		source:    src,
		selectSQL: "\nSELECT " + selectList[R]("t") + "\nFROM " + quoted + " AS t",
		insertSQL: "\nINSERT INTO " + quoted + " (group_id, " + strings.Join(cols, ", ") + ")" +
			"\nSELECT @group_id::uuid, " + src.listSQL +
			"\nFROM " + src.fromSQL,
		updateSQL: "\nUPDATE " + quoted + " AS t" +
			"\nSET (" + strings.Join(changing, ", ") + ") = ROW (" + strings.Join(values, ", ") + ")" +
			"\nWHERE t.group_id = @group_id AND t.id = (@" + columnArg("id") + "::uuid[])[1]",
		deleteSQL: "\nDELETE FROM " + quoted + " AS t\nWHERE t.group_id = @group_id AND " + strings.Join(same, " AND "),
	}
}

// row is anything that is written through a table.
type row interface{ rowID() uuid.UUID }

// inventory is a pointer to an inventory row.
type inventory[R any] interface {
	*R
	key() *inventoryKey
}

// discreet rows hold what entries left out before they were veiled.
type discreet interface{ public() any }

// chunk bounds how many rows go into one statement.
const chunk = 5000

// insert writes new rows and their ledger entries.
func insert[R row](ctx context.Context, w *writer, t table[R], rows []R) error {
	for part := range slices.Chunk(rows, chunk) {
		for i := range part {
			r := &part[i]
			if err := w.note(t.name, (*r).rowID(), nil, r); err != nil {
				return err
			}
			w.touch(r)
		}
		if err := put(ctx, w, t, t.insertSQL, part); err != nil {
			return err
		}
	}
	return nil
}

// put writes rows by a statement that takes them from the table's source, in
// one round trip.
func put[R any](ctx context.Context, w *writer, t table[R], sql string, rows []R) error {
	if len(rows) == 0 {
		return nil
	}
	args, err := t.source.args(t.name, w.group, rows)
	if err != nil {
		return err
	}
	w.grow(t.name, len(rows))
	return w.enterRows(ctx, "enter "+t.name, sql, args, len(rows))
}

// save writes inventory rows: those of version 0 are new, the others replace
// the stored row of their version, or fail as Stale or NotFound.
func save[R row, P inventory[R]](ctx context.Context, w *writer, t table[R], rows []R) error {
	var fresh, changed []R
	for _, r := range rows {
		if k := P(&r).key(); k.Version == 0 {
			k.Version = 1
			fresh = append(fresh, r)
			continue
		}
		changed = append(changed, r)
	}
	if err := insert(ctx, w, t, fresh); err != nil {
		return err
	}
	for part := range slices.Chunk(changed, chunk) {
		if err := update[R, P](ctx, w, t, part); err != nil {
			return err
		}
	}
	return nil
}

// update replaces stored rows, each of the version given, and counts it up:
// one statement each, in one round trip.
func update[R row, P inventory[R]](ctx context.Context, w *writer, t table[R], rows []R) error {
	stored, err := lock(ctx, w, t, rows)
	if err != nil {
		return err
	}
	var b pgx.Batch
	for _, r := range rows {
		k := P(&r).key()
		before, ok := stored[k.ID]
		if !ok {
			return fault.New(fault.NotFound, "change %s %s: there is no such thing in this group", t.name, k.ID)
		}
		if now := P(&before).key().Version; now != k.Version {
			return fault.New(fault.Stale, "change %s %s: version %d, now %d", t.name, k.ID, k.Version, now)
		}
		k.Version++
		args, err := t.source.args(t.name, w.group, []R{r})
		if err != nil {
			return err
		}
		if err := w.note(t.name, k.ID, before, r); err != nil {
			return err
		}
		w.touch(before)
		w.touch(r)
		b.Queue(t.updateSQL, args)
	}
	return w.send(ctx, "change "+t.name, &b)
}

// lock reads the stored rows of the same ids and holds them, in the order of
// ids.
func lock[R row](ctx context.Context, w *writer, t table[R], rows []R) (map[uuid.UUID]R, error) {
	var (
		found []R
		salts []saltRow
	)
	sql := "\nSELECT " + selectList[R]("t") + "\nFROM " + theseIDs + " AS k" +
		"\nCROSS JOIN LATERAL (" + t.selectSQL + "\n  WHERE t.id = k.id\n  FOR NO KEY UPDATE\n  OFFSET 0) AS t"
	err := w.ask(ctx, "lock "+t.name, func(b *pgx.Batch) {
		these := distinct(convert(rows, R.rowID))
		all(b, &found, sql, pgx.StrictNamedArgs{"ids": these})
		if _, ok := veiled[t.name]; ok {
			all(b, &salts, selectSalts, pgx.StrictNamedArgs{"ids": these, "noun": t.name})
		}
	})
	w.knowSalts(t.name, salts)
	stored := make(map[uuid.UUID]R, len(found))
	for _, r := range found {
		stored[r.rowID()] = r
	}
	return stored, err
}

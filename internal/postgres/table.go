package postgres

import (
	"context"
	"encoding/json"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/ledger"
)

// table is a tenant table whose columns, apart from group_id, are the fields
// of row struct R.
type table[R any] struct {
	name      string
	selectSQL string // up to its WHERE; the table's alias is t
	insertSQL string
	updateSQL string
}

func newTable[R any](name string) table[R] {
	quoted := pgx.Identifier{name}.Sanitize()
	cols := columns[R]()
	rows := "json_populate_recordset(NULL::" + quoted + ", @rows::json) AS r"
	t := table[R]{
		name:      name,
		selectSQL: "\nSELECT " + selectList[R]("t") + "\nFROM " + quoted + " AS t",
		insertSQL: "\nINSERT INTO " + quoted + " (group_id, " + strings.Join(cols, ", ") + ")" +
			"\nSELECT @group_id::uuid, " + selectList[R]("r") + "\nFROM " + rows,
	}
	changing := slices.DeleteFunc(cols, func(c string) bool { return c == "id" })
	t.updateSQL = "\nUPDATE " + quoted + " AS t" +
		"\nSET (" + strings.Join(changing, ", ") + ") = ROW (r." + strings.Join(changing, ", r.") + ")" +
		"\nFROM " + rows + "\nWHERE t.group_id = @group_id AND t.id = r.id"
	return t
}

// row is anything that is written through a table.
type row interface{ rowID() uuid.UUID }

// inventory is a pointer to an inventory row.
type inventory[R any] interface {
	*R
	key() *inventoryKey
}

// discreet rows hold what the ledger may not.
type discreet interface{ public() any }

// chunk bounds how many rows go into one statement.
const chunk = 5000

// insert writes new rows and their ledger entries.
func insert[R row](ctx context.Context, w *writer, t table[R], rows []R) error {
	for part := range slices.Chunk(rows, chunk) {
		written := make([]string, len(part))
		for i, r := range part {
			after, err := ledger.Canonical(r)
			if err != nil {
				return err
			}
			written[i] = after
			if err := w.note(t.name, r.rowID(), nil, r); err != nil {
				return err
			}
		}
		if err := w.exec(ctx, "enter "+t.name, t.insertSQL, pgx.StrictNamedArgs{"group_id": w.group, "rows": array(written)}); err != nil {
			return err
		}
	}
	return nil
}

// array puts JSON texts into one array.
func array(texts []string) string { return "[" + strings.Join(texts, ",") + "]" }

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

// update replaces stored rows, each of the version given, and counts it up.
func update[R row, P inventory[R]](ctx context.Context, w *writer, t table[R], rows []R) error {
	stored, err := lock(ctx, w, t, rows)
	if err != nil {
		return err
	}
	rows = slices.Clone(rows)
	for i := range rows {
		k := P(&rows[i]).key()
		before, ok := stored[k.ID]
		if !ok {
			return fault.New(fault.NotFound, "change %s %s: no such row in this group", t.name, k.ID)
		}
		if now := P(&before).key().Version; now != k.Version {
			return fault.New(fault.Stale, "change %s %s: version %d, now %d", t.name, k.ID, k.Version, now)
		}
		k.Version++
		if err := w.note(t.name, k.ID, before, rows[i]); err != nil {
			return err
		}
	}
	data, err := json.Marshal(rows)
	if err != nil {
		return fault.Wrap(fault.Invalid, err, "write %s as JSON", t.name)
	}
	return w.exec(ctx, "change "+t.name, t.updateSQL, pgx.StrictNamedArgs{"group_id": w.group, "rows": string(data)})
}

// lock reads the stored rows of the same ids and holds them.
func lock[R row](ctx context.Context, w *writer, t table[R], rows []R) (map[uuid.UUID]R, error) {
	wanted := make([]uuid.UUID, len(rows))
	for i, r := range rows {
		wanted[i] = r.rowID()
	}
	var found []R
	err := w.ask(ctx, "lock "+t.name, func(b *pgx.Batch) {
		all(b, &found, t.selectSQL+"\nWHERE t.id = ANY (@ids)\nORDER BY t.id\nFOR NO KEY UPDATE", pgx.StrictNamedArgs{"ids": wanted})
	})
	stored := make(map[uuid.UUID]R, len(found))
	for _, r := range found {
		stored[r.rowID()] = r
	}
	return stored, err
}

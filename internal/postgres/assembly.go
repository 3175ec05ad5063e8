package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// saveMembers makes the stored positions of the given assemblies those that
// they name.
func (w *writer) saveMembers(ctx context.Context, list []registry.Assembly) error {
	if len(list) == 0 {
		return nil
	}
	stored, err := w.storedMembers(ctx, list)
	if err != nil {
		return err
	}
	var added []memberRow
	for _, a := range list {
		for _, p := range a.PositionIDs {
			m := memberRow{a.ID, p}
			if !stored[m] {
				added = append(added, m)
			}
			delete(stored, m)
		}
	}
	if err := w.dropMembers(ctx, stored); err != nil {
		return err
	}
	return insert(ctx, w, members, added)
}

func (w *writer) storedMembers(ctx context.Context, list []registry.Assembly) (map[memberRow]bool, error) {
	assemblyIDs := make([]uuid.UUID, len(list))
	for i, a := range list {
		assemblyIDs[i] = a.ID
	}
	var rows []memberRow
	err := w.ask(ctx, "read assemblies", func(b *pgx.Batch) {
		all(b, &rows, members.selectSQL+"\nWHERE t.assembly_id = ANY (@ids)\nORDER BY t.assembly_id, t.position_id",
			pgx.StrictNamedArgs{"ids": assemblyIDs})
	})
	stored := make(map[memberRow]bool, len(rows))
	for _, r := range rows {
		stored[r] = true
	}
	return stored, err
}

const deleteMember = `
DELETE FROM assembly_position
WHERE assembly_id = @assembly_id
  AND position_id = @position_id`

// dropMembers takes positions out of assemblies, one statement each: there are
// few.
func (w *writer) dropMembers(ctx context.Context, gone map[memberRow]bool) error {
	for m := range gone {
		if err := w.note(members.name, m.PositionID, m, nil); err != nil {
			return err
		}
		w.left = append(w.left, m.PositionID)
		args := pgx.StrictNamedArgs{"assembly_id": m.AssemblyID, "position_id": m.PositionID}
		if err := w.exec(ctx, "change assembly", deleteMember, args); err != nil {
			return err
		}
	}
	return nil
}

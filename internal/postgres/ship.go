package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

const (
	// lockGroup holds off a second command that ships into the same group.
	lockGroup = `
SELECT id
FROM anchor_group
WHERE id = @group_id
FOR NO KEY UPDATE`
	selectShipped = `
SELECT name
FROM product
WHERE group_id = @group_id
  AND shipped
ORDER BY name, id`
)

type shippedRow struct{ Name string }

// Ship copies the products that come with the register into a group, and
// returns how many it did not have yet. It is safe to repeat: an entry is known
// by its name, which cannot be changed, and one that was ended stays ended. A
// group that is not there is fault.NotFound.
func (a *Admin) Ship(ctx context.Context, group uuid.UUID, list []registry.Product) (added int, err error) {
	err = a.write(ctx, group, "generic products added", func(w *writer) error {
		var held []uuid.UUID
		var have []shippedRow
		args := pgx.StrictNamedArgs{"group_id": group}
		err := w.ask(ctx, "read shipped products", func(b *pgx.Batch) {
			ids(b, &held, lockGroup, args)
			all(b, &have, selectShipped, args)
		})
		if err != nil {
			return err
		}
		if len(held) == 0 {
			return fault.New(fault.NotFound, "ship products to group %s: there is none", group)
		}
		missing, err := notYet(list, have)
		if err != nil {
			return err
		}
		added = len(missing)
		return save(ctx, w, products, missing)
	})
	return added, err
}

// notYet are the rows of products that are not there by name, with ids.
func notYet(list []registry.Product, have []shippedRow) ([]productRow, error) {
	known := make(map[string]bool, len(have))
	for _, h := range have {
		known[h.Name] = true
	}
	var rows []productRow
	for _, p := range list {
		if known[p.Name] {
			continue
		}
		id, err := uuid.NewV7()
		if err != nil {
			return nil, fault.Wrap(fault.Internal, err, "make an id")
		}
		p.ID, p.Version, p.Shipped = id, 0, true
		rows = append(rows, newProductRow(p))
	}
	return rows, nil
}

package postgres

import (
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// link is a row that ties two or more others together and says little else. It
// is entered or taken away, never changed.
type link interface {
	row
	comparable
}

// replace makes the stored links whose column owner is one of owners those
// wanted, and returns the ones taken away. Links of other owners among the
// wanted are taken for new.
func replace[R link](ctx context.Context, w *writer, t table[R], owner string, owners []uuid.UUID, wanted []R) ([]R, error) {
	var stored []R
	if len(owners) > 0 {
		err := w.ask(ctx, "read "+t.name, func(b *pgx.Batch) {
			all(b, &stored, t.of(owner, theseIDs)+"\nORDER BY t."+strings.Join(columns[R](), ", t."), pgx.StrictNamedArgs{"ids": distinct(owners)})
		})
		if err != nil {
			return nil, err
		}
	}
	gone := without(stored, wanted)
	if err := remove(ctx, w, t, gone); err != nil {
		return nil, err
	}
	return gone, insert(ctx, w, t, without(wanted, stored))
}

// without returns the rows of list that are not among others, in order.
func without[R comparable](list, others []R) []R {
	drop := make(map[R]bool, len(others))
	for _, r := range others {
		drop[r] = true
	}
	return slices.DeleteFunc(slices.Clone(list), func(r R) bool { return drop[r] })
}

// distinct sorts ids and leaves doubles out.
func distinct(list []uuid.UUID) []uuid.UUID {
	sorted := slices.SortedFunc(slices.Values(list), func(a, b uuid.UUID) int { return slices.Compare(a[:], b[:]) })
	return slices.Compact(sorted)
}

// remove takes links away, with their ledger entries: one statement each, in
// one round trip.
func remove[R link](ctx context.Context, w *writer, t table[R], rows []R) error {
	var b pgx.Batch
	for _, r := range rows {
		args, err := t.source.args(t.name, w.group, []R{r})
		if err != nil {
			return err
		}
		if err := w.note(t.name, r.rowID(), r, nil); err != nil {
			return err
		}
		b.Queue(t.deleteSQL, args)
	}
	return w.send(ctx, "change "+t.name, &b)
}

// memberRows are the positions that assemblies name.
func memberRows(list []registry.Assembly) []memberRow {
	var rows []memberRow
	for _, a := range list {
		for _, p := range a.PositionIDs {
			rows = append(rows, memberRow{a.ID, p})
		}
	}
	return rows
}

// namedRows are the anchors that notices name.
func namedRows(list []registry.Notice) []namedRow {
	var rows []namedRow
	for _, n := range list {
		for _, a := range n.AnchorIDs {
			rows = append(rows, namedRow{n.ID, a})
		}
	}
	return rows
}

// saveStops enters the change's stops; where it names positions, instead of
// those they have.
func (w *writer) saveStops(ctx context.Context, ch *registry.Change) error {
	gone, err := replace(ctx, w, stops, "position_id", ch.StopsOf, convert(ch.Stops, newStopRow))
	for _, r := range gone {
		w.places = append(w.places, registry.Place{Kind: registry.AtPosition, ID: r.PositionID})
	}
	return err
}

// saveMembers makes the stored positions of the given assemblies those that
// they name.
func (w *writer) saveMembers(ctx context.Context, list []registry.Assembly) error {
	gone, err := replace(ctx, w, members, "assembly_id", convert(list, func(a registry.Assembly) uuid.UUID { return a.ID }), memberRows(list))
	for _, r := range gone {
		w.places = append(w.places, registry.Place{Kind: registry.AtPosition, ID: r.PositionID})
	}
	return err
}

// saveNamed makes the stored anchors of the given notices those that they
// name.
func (w *writer) saveNamed(ctx context.Context, list []registry.Notice) error {
	gone, err := replace(ctx, w, named, "notice_id", convert(list, func(n registry.Notice) uuid.UUID { return n.ID }), namedRows(list))
	for _, r := range gone {
		w.beside = append(w.beside, r.AnchorID)
	}
	return err
}

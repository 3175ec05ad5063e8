package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type erasureRow struct {
	ID          uuid.UUID  `json:"id"`
	PersonID    *uuid.UUID `json:"person_id"`
	LandownerID *uuid.UUID `json:"landowner_id"`
	Reason      string     `json:"reason"`
	At          time.Time  `json:"at"`
}

func (r erasureRow) rowID() uuid.UUID { return r.ID }

func newErasureRow(e registry.Erasure) erasureRow {
	return erasureRow{e.ID, e.PersonID, e.LandownerID, e.Reason, instant(e.At)}
}

var erasures = newTable[erasureRow]("erasure")

// ErasePerson puts another text in place of a person's name, with the record of
// it, and takes away what the ledger's entries about the name could be tried
// with. It is fault.Conflict, with code OnHold, while a legal hold is in force on
// asOf over the person or what records name the person with, and fault.NotFound
// for nobody. A person who is erased already is left as is.
func (s *Store) ErasePerson(ctx context.Context, who registry.Actor, e registry.Erasure, asOf calendar.Date) error {
	return s.write(ctx, who, "erase person "+e.PersonID.String(), func(w *writer) (registry.Change, error) {
		var person personRow
		err := w.beforeErasing(ctx, registry.Unheld{Over: registry.HoldPerson, ID: *e.PersonID, AsOf: asOf}, func(b *pgx.Batch) {
			one(b, &person, persons.selectSQL+"\nWHERE t.id = @id\nFOR NO KEY UPDATE", pgx.StrictNamedArgs{"id": *e.PersonID})
		}, func() bool { return person.Erased })
		if err != nil || person.Erased {
			return registry.Change{}, err
		}
		p := person.noun()
		p.Name, p.Erased = registry.ErasedName, true
		return registry.Change{What: "person erased", At: e.At, Persons: []registry.Person{p}, Erasures: []registry.Erasure{e}}, nil
	})
}

// beforeErasing reads who is to be erased, and refuses it while a legal hold is
// in force, unless it was done already.
func (w *writer) beforeErasing(ctx context.Context, u registry.Unheld, read func(*pgx.Batch), done func() bool) error {
	var holding []holdRow
	err := w.ask(ctx, "read legal holds", func(b *pgx.Batch) {
		b.Queue(setGroup, w.group.String())
		b.Queue(lockHolds, w.group.String())
		read(b)
		queueHolding(b, &holding, u)
	})
	if err != nil || done() {
		return err
	}
	return onHold(u, holding)
}

// Of a landowner: what words may name them in; served by the tables' indexes
// of_landowner and of_parcel.
var (
	selectTheirParcels      = parcels.selectSQL + "\nWHERE t.landowner_id = @id\nORDER BY t.id"
	selectTheirAgreements   = agreements.selectSQL + "\nWHERE t.landowner_id = @id\nORDER BY t.id"
	selectTheirRestrictions = restrictions.selectSQL + "\nWHERE t.parcel_id IN (SELECT l.id FROM parcel AS l WHERE l.landowner_id = @id)\nORDER BY t.id"
)

// EraseLandowner writes what unnamed makes of what the register tells of a
// landowner, with the record of it, and takes away what the ledger's entries about
// the name, the contact and the words could be tried with. Its errors are those of
// ErasePerson. A landowner who is erased already is left as is, and unnamed is not
// asked. unnamed must be pure.
func (s *Store) EraseLandowner(ctx context.Context, who registry.Actor, e registry.Erasure, asOf calendar.Date,
	unnamed func(registry.LandTold) registry.LandTold,
) error {
	id := *e.LandownerID
	return s.write(ctx, who, "erase landowner "+id.String(), func(w *writer) (registry.Change, error) {
		var (
			owner landownerRow
			land  []parcelRow
			terms []agreementRow
			bars  []restrictionRow
		)
		err := w.beforeErasing(ctx, registry.Unheld{Over: registry.HoldLandowner, ID: id, AsOf: asOf}, func(b *pgx.Batch) {
			args := pgx.StrictNamedArgs{"id": id}
			one(b, &owner, landowners.selectSQL+"\nWHERE t.id = @id\nFOR NO KEY UPDATE", args)
			all(b, &land, selectTheirParcels, args)
			all(b, &terms, selectTheirAgreements, args)
			all(b, &bars, selectTheirRestrictions, args)
		}, func() bool { return owner.erased() })
		if err != nil || owner.erased() {
			return registry.Change{}, err
		}
		to := unnamed(registry.LandTold{
			Landowner: owner.noun(), Parcels: convert(land, parcelRow.noun),
			Agreements: convert(terms, agreementRow.noun), Restrictions: convert(bars, restrictionRow.noun),
		})
		w.saltAnew(parcels.name, convert(to.Parcels, func(p registry.Parcel) uuid.UUID { return p.ID }))
		w.saltAnew(agreements.name, convert(to.Agreements, func(a registry.Agreement) uuid.UUID { return a.ID }))
		w.saltAnew(restrictions.name, convert(to.Restrictions, func(r registry.Restriction) uuid.UUID { return r.ID }))
		return registry.Change{
			What: "landowner erased", At: e.At, Erasures: []registry.Erasure{e}, Landowners: []registry.Landowner{to.Landowner},
			Parcels: to.Parcels, Agreements: to.Agreements, Restrictions: to.Restrictions,
		}, nil
	})
}

// saveErasures enters erasures and takes the salts of those erased away.
func (w *writer) saveErasures(ctx context.Context, ch *registry.Change) error {
	var people, owners []uuid.UUID
	for _, e := range ch.Erasures {
		people, owners = appendID(people, e.PersonID), appendID(owners, e.LandownerID)
	}
	return first(
		func() error { return insert(ctx, w, erasures, convert(ch.Erasures, newErasureRow)) },
		func() error { return w.dropSalts(ctx, persons.name, people) },
		func() error { return w.dropSalts(ctx, landowners.name, owners) },
		func() error { return w.saveHolds(ctx, ch.LegalHolds) },
	)
}

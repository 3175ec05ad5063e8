package postgres

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type personRow struct {
	inventoryKey
	Name   string `json:"name"`
	Erased bool   `json:"erased"`
}

func newPersonRow(p registry.Person) personRow {
	return personRow{inventoryKey{p.ID, p.Version}, p.Name, p.Erased}
}

func (r personRow) noun() registry.Person {
	return registry.Person{ID: r.ID, Version: r.Version, Name: r.Name, Erased: r.Erased}
}

func (r personRow) erased() bool { return r.Erased }

// public leaves the name out: personal data are references in the ledger.
func (r personRow) public() any { return r.inventoryKey }

var persons = newTable[personRow]("person")

// Persons lists persons in the order of ids; served by the primary key.
func (s *Store) Persons(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Person, error) {
	return list(ctx, s, group, pageOf(page).query("list persons", persons.selectSQL), personRow.noun)
}

// Person returns one person, or fault.NotFound.
func (s *Store) Person(ctx context.Context, group, id uuid.UUID) (registry.Person, error) {
	return single(ctx, s, group, byID("read person", persons.selectSQL, id), personRow.noun)
}

type landownerRow struct {
	inventoryKey
	Name     string        `json:"name"`
	Contact  string        `json:"contact"`
	EndedOn  calendar.Date `json:"ended_on"`
	ErasedOn calendar.Date `json:"erased_on"`
}

func newLandownerRow(l registry.Landowner) landownerRow {
	return landownerRow{inventoryKey{l.ID, l.Version}, l.Name, l.Contact, l.EndedOn, l.ErasedOn}
}

func (r landownerRow) noun() registry.Landowner {
	return registry.Landowner{ID: r.ID, Version: r.Version, Name: r.Name, Contact: r.Contact, EndedOn: r.EndedOn, ErasedOn: r.ErasedOn}
}

func (r landownerRow) erased() bool { return !r.ErasedOn.IsZero() }

// public leaves name and contact out.
func (r landownerRow) public() any {
	r.Name, r.Contact = "", ""
	return r
}

var landowners = newTable[landownerRow]("landowner")

// Landowners lists landowners in the order of ids, contacts too, which are for
// the group's owners only; served by the primary key.
func (s *Store) Landowners(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Landowner, error) {
	return list(ctx, s, group, pageOf(page).query("list landowners", landowners.selectSQL), landownerRow.noun)
}

// Landowner returns one landowner, or fault.NotFound, on the terms of
// Landowners.
func (s *Store) Landowner(ctx context.Context, group, id uuid.UUID) (registry.Landowner, error) {
	return single(ctx, s, group, byID("read landowner", landowners.selectSQL, id), landownerRow.noun)
}

type parcelRow struct {
	inventoryKey
	LandownerID uuid.UUID     `json:"landowner_id"`
	Name        string        `json:"name"`
	Outline     word          `json:"outline"`
	AreaM2      *float64      `json:"area_m2"`
	EndedOn     calendar.Date `json:"ended_on"`
}

func newParcelRow(p registry.Parcel) parcelRow {
	return parcelRow{inventoryKey{p.ID, p.Version}, p.LandownerID, p.Name, word(p.Outline), p.AreaM2, p.EndedOn}
}

func (r parcelRow) noun() registry.Parcel {
	return registry.Parcel{
		ID: r.ID, Version: r.Version, LandownerID: r.LandownerID, Name: r.Name, Outline: string(r.Outline),
		AreaM2: r.AreaM2, EndedOn: r.EndedOn,
	}
}

// public leaves the name out: parcels are called after people.
func (r parcelRow) public() any {
	r.Name = ""
	return r
}

var parcels = newTable[parcelRow]("parcel")

// ofLandowner narrows a list to one landowner; served by the table's index
// of_landowner.
const ofLandowner = `t.landowner_id = @landowner_id`

// Parcels lists parcels, of one landowner or of all, in the order of ids.
func (s *Store) Parcels(ctx context.Context, group uuid.UUID, landowner *uuid.UUID, page registry.Page) ([]registry.Parcel, error) {
	f := pageOf(page)
	f.andID(ofLandowner, "landowner_id", landowner)
	return list(ctx, s, group, f.query("list parcels", parcels.selectSQL), parcelRow.noun)
}

// Parcel returns one parcel, or fault.NotFound.
func (s *Store) Parcel(ctx context.Context, group, id uuid.UUID) (registry.Parcel, error) {
	return single(ctx, s, group, byID("read parcel", parcels.selectSQL, id), parcelRow.noun)
}

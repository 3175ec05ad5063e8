package postgres

import (
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

type personRow struct {
	inventoryKey
	Name string `json:"name"`
}

func newPersonRow(p registry.Person) personRow {
	return personRow{inventoryKey{p.ID, p.Version}, p.Name}
}

func (r personRow) noun() registry.Person {
	return registry.Person{ID: r.ID, Version: r.Version, Name: r.Name}
}

// public leaves the name out: personal data are references in the ledger.
func (r personRow) public() any { return r.inventoryKey }

var persons = newTable[personRow]("person")

type landownerRow struct {
	inventoryKey
	Name    string `json:"name"`
	Contact string `json:"contact"`
}

func newLandownerRow(l registry.Landowner) landownerRow {
	return landownerRow{inventoryKey{l.ID, l.Version}, l.Name, l.Contact}
}

func (r landownerRow) noun() registry.Landowner {
	return registry.Landowner{ID: r.ID, Version: r.Version, Name: r.Name, Contact: r.Contact}
}

// public leaves name and contact out.
func (r landownerRow) public() any { return r.inventoryKey }

var landowners = newTable[landownerRow]("landowner")

type parcelRow struct {
	inventoryKey
	LandownerID uuid.UUID `json:"landowner_id"`
	Name        string    `json:"name"`
	Outline     word      `json:"outline"`
}

func newParcelRow(p registry.Parcel) parcelRow {
	return parcelRow{inventoryKey{p.ID, p.Version}, p.LandownerID, p.Name, word(p.Outline)}
}

func (r parcelRow) noun() registry.Parcel {
	return registry.Parcel{ID: r.ID, Version: r.Version, LandownerID: r.LandownerID, Name: r.Name, Outline: string(r.Outline)}
}

// public leaves the name out: parcels are called after people.
func (r parcelRow) public() any {
	r.Name = ""
	return r
}

var parcels = newTable[parcelRow]("parcel")

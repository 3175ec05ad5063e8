package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// InventoryStore is the part of Store that keeps the inventory beside anchors
// and their records: places, land, climate, events and house rules.
type InventoryStore interface {
	// Write saves a change that rests on no facts, in one transaction: nouns of
	// version 0 are inserted, others updated, which is fault.Stale unless the
	// stored row has that version. It queues every living anchor that rests on
	// what changed, and every new anchor that the change does not assess. An id
	// that is taken is fault.Conflict.
	Write(ctx context.Context, who registry.Actor, c registry.Change) error

	Assemblies(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Assembly, error)
	Assembly(ctx context.Context, group, id uuid.UUID) (registry.Assembly, error)
	Fittings(ctx context.Context, group, anchor uuid.UUID, page registry.Page) ([]registry.Fitting, error)
	Fitting(ctx context.Context, group, id uuid.UUID) (registry.Fitting, error)
	Persons(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Person, error)
	Person(ctx context.Context, group, id uuid.UUID) (registry.Person, error)
	Landowners(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Landowner, error)
	Landowner(ctx context.Context, group, id uuid.UUID) (registry.Landowner, error)
	Parcels(ctx context.Context, group uuid.UUID, landowner *uuid.UUID, page registry.Page) ([]registry.Parcel, error)
	Parcel(ctx context.Context, group, id uuid.UUID) (registry.Parcel, error)
	Agreements(ctx context.Context, group uuid.UUID, landowner *uuid.UUID, page registry.Page) ([]registry.Agreement, error)
	Agreement(ctx context.Context, group, id uuid.UUID) (registry.Agreement, error)
	Restrictions(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Restriction, error)
	Restriction(ctx context.Context, group, id uuid.UUID) (registry.Restriction, error)
	// RestrictionsAt lists the restrictions of a position itself, its routes,
	// sector, site and parcel.
	RestrictionsAt(ctx context.Context, group, position uuid.UUID) ([]registry.Restriction, error)
	// RestrictionReach says which restrictions, by id, each position lies under:
	// its own and those of its routes, sector, site and parcel. Positions under
	// none are left out.
	RestrictionReach(ctx context.Context, group uuid.UUID) (map[uuid.UUID][]uuid.UUID, error)
	// BatchKeyed returns the batch of a product, nil for one not known, by the
	// key of its text; BatchUses counts the anchors set with a batch.
	BatchKeyed(ctx context.Context, group uuid.UUID, product *uuid.UUID, key string) (registry.Batch, error)
	BatchUses(ctx context.Context, group, batch uuid.UUID) (int, error)
	// ProductVersions lists a product's sheets.
	ProductVersions(ctx context.Context, group, product uuid.UUID) ([]registry.ProductVersion, error)
	Environments(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Environment, error)
	Environment(ctx context.Context, group, id uuid.UUID) (registry.Environment, error)
	// EnvironmentsAt lists all dated statements about a position itself, its
	// routes, sector and site.
	EnvironmentsAt(ctx context.Context, group, position uuid.UUID) ([]registry.Environment, error)
	Events(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Event, error)
	Event(ctx context.Context, group, id uuid.UUID) (registry.Event, error)
	Notices(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Notice, error)
	Notice(ctx context.Context, group, id uuid.UUID) (registry.Notice, error)
	// NoticeReach lists the anchors in the rock that a notice, stored or not, is
	// about, and how far each has come by the assessments as stored. ReportLines
	// returns lines of anchors, but for those never assessed.
	NoticeReach(ctx context.Context, group uuid.UUID, n registry.Notice) (registry.NoticeReach, error)
	ReportLines(ctx context.Context, group uuid.UUID, anchors []uuid.UUID) ([]registry.ReportLine, error)
	// BatchTrace returns where a batch went, or fault.NotFound.
	BatchTrace(ctx context.Context, group, batch uuid.UUID) (registry.BatchTrace, error)
	// StopsOf lists the routes that a position is on.
	StopsOf(ctx context.Context, group, position uuid.UUID) ([]registry.Stop, error)

	// AnchorsAt lists the anchors that stand in the rock at a place, in no
	// particular order.
	AnchorsAt(ctx context.Context, group uuid.UUID, place registry.Place) ([]uuid.UUID, error)
	// KnownAnchors lists those of the ids that are anchors of the group.
	KnownAnchors(ctx context.Context, group uuid.UUID, ids []uuid.UUID) ([]uuid.UUID, error)

	// SitesWithoutEnvironment lists the sites of which no statement is in force
	// on a day; SitesWithoutSource those that state no distance to the sea and
	// are neither sea cliff nor cave. Sites ended by then are left out.
	SitesWithoutEnvironment(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.Site, error)
	SitesWithoutSource(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.Site, error)

	// LandRecords lists the records of what was done from one day to another at
	// positions on anybody's land.
	LandRecords(ctx context.Context, group uuid.UUID, from, to calendar.Date) ([]registry.LandRecord, error)
}

package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// Store is what the use cases need kept. One method is one transaction. A read
// sees only the named group; an id of another group is fault.NotFound, like
// one that never was. Lists are ordered by id unless said otherwise.
type Store interface {
	InventoryStore
	GluingStore
	ListStore
	UndoStore
	PictureStore
	SealStore
	ErasureStore
	ProposalStore
	EvidenceStore
	JobStore

	Groups(ctx context.Context) ([]registry.Group, error)
	GroupBySlug(ctx context.Context, slug string) (registry.Group, error)

	Sites(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Site, error)
	Site(ctx context.Context, group, id uuid.UUID) (registry.Site, error)
	Sectors(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Sector, error)
	Sector(ctx context.Context, group, id uuid.UUID) (registry.Sector, error)
	Routes(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Route, error)
	Route(ctx context.Context, group, id uuid.UUID) (registry.Route, error)
	Positions(ctx context.Context, group uuid.UUID, site, route *uuid.UUID, page registry.Page) ([]registry.Position, error)
	Position(ctx context.Context, group, id uuid.UUID) (registry.Position, error)
	Products(ctx context.Context, group uuid.UUID, kind registry.ProductKind, page registry.Page) ([]registry.Product, error)
	Product(ctx context.Context, group, id uuid.UUID) (registry.Product, error)
	Batches(ctx context.Context, group uuid.UUID, product *uuid.UUID, page registry.Page) ([]registry.Batch, error)
	Batch(ctx context.Context, group, id uuid.UUID) (registry.Batch, error)

	Anchors(ctx context.Context, group uuid.UUID, filter registry.AnchorFilter, page registry.Page) ([]registry.AnchorLine, error)
	AnchorStory(ctx context.Context, group, id uuid.UUID) (registry.AnchorStory, error)

	// OverdueLines lists living anchors due before asOf or awaiting their
	// first round, SuspectLines those suspect or out of use and those
	// not in use yet that a finding makes suspect, both from the
	// assessments as stored, in no particular order.
	OverdueLines(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.ReportLine, error)
	SuspectLines(ctx context.Context, group uuid.UUID) ([]registry.ReportLine, error)
	Counts(ctx context.Context, group uuid.UUID, asOf calendar.Date) (registry.Counts, error)

	// Facts returns what is known of each of the anchors; one that is not there is
	// left out.
	Facts(ctx context.Context, group uuid.UUID, anchors []uuid.UUID) (map[uuid.UUID]*registry.Facts, error)
	// Rules returns the house rules in force.
	Rules(ctx context.Context, group uuid.UUID) (houserules.Rules, error)
	// RulesVersions lists up to limit versions of them, the one in force first.
	RulesVersions(ctx context.Context, group uuid.UUID, limit int) ([]registry.RulesVersion, error)
	// EachFacts calls fn with every anchor of the group, removed ones too, in
	// the order of ids, with the place in line (its assessment left empty).
	EachFacts(ctx context.Context, group uuid.UUID, fn func(line registry.ReportLine, facts registry.Facts) error) error

	// Change locks the anchors in id order, loads their facts (in the order
	// asked for) and the house rules, lets decide say what becomes of them,
	// and saves that with its ledger rows, assessments and history. decide
	// must be pure; its error aborts the change and is returned as it is. An
	// anchor that is not there is fault.NotFound.
	Change(ctx context.Context, who registry.Actor, anchors []uuid.UUID,
		decide func([]registry.Facts, houserules.Rules) (registry.Change, error)) error
	// ChangeAndAssess saves what decide says as Change does, then reads the
	// facts of the anchors locked and of those that are new once more, as the
	// change leaves them, and saves the assessments that judge makes of these,
	// all in one transaction. decide and judge must be pure; an error of either
	// aborts the change and is returned as it is.
	ChangeAndAssess(ctx context.Context, who registry.Actor, anchors []uuid.UUID,
		decide func([]registry.Facts, houserules.Rules) (registry.Change, error),
		judge func(registry.Facts, houserules.Rules) (registry.Assessment, error)) error
	// Intake holds off other intakes of the group, loads what is wanted, lets
	// decide say what to enter, and saves it as Change does. The anchors wanted,
	// those that are there, are locked before decide is asked.
	Intake(ctx context.Context, who registry.Actor, wanted registry.Wanted,
		decide func(registry.Known, houserules.Rules) (registry.Change, error)) error
	// Stale lists up to limit anchors whose assessment is missing, queued,
	// past its valid_until on asOf, or of another engine or house-rules version.
	Stale(ctx context.Context, group uuid.UUID, engine int, asOf calendar.Date, limit int) ([]uuid.UUID, error)
}

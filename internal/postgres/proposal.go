package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type proposalRow struct {
	inventoryKey
	ImportID        uuid.UUID     `json:"import_id"`
	Line            int           `json:"line"`
	SiteID          uuid.UUID     `json:"site_id"`
	PositionID      uuid.UUID     `json:"position_id"`
	AnchorID        uuid.UUID     `json:"anchor_id"`
	Kind            word          `json:"kind"`
	Words           string        `json:"words"`
	Bars            word          `json:"bars"`
	Weight          word          `json:"weight"`
	YearlyFromMonth *int          `json:"yearly_from_month"`
	YearlyFromDay   *int          `json:"yearly_from_day"`
	YearlyToMonth   *int          `json:"yearly_to_month"`
	YearlyToDay     *int          `json:"yearly_to_day"`
	Role            word          `json:"role"`
	Observation     word          `json:"observation"`
	InspectBy       calendar.Date `json:"inspect_by"`
	CountedFrom     word          `json:"counted_from"`
	Wetness         word          `json:"wetness"`
	Washed          *bool         `json:"washed"`
	SeenFrom        calendar.Date `json:"seen_from"`
	SeenTo          calendar.Date `json:"seen_to"`
	SeenWords       string        `json:"seen_words"`
	State           word          `json:"state"`
	DecidedAt       *time.Time    `json:"decided_at"`
	DecidedBy       string        `json:"decided_by"`
	PersonID        *uuid.UUID    `json:"person_id"`
	MadeID          *uuid.UUID    `json:"made_id"`
}

func newProposalRow(p registry.Proposal) proposalRow {
	row := proposalRow{
		inventoryKey: inventoryKey{p.ID, p.Version}, ImportID: p.ImportID, Line: p.Line,
		SiteID: p.SiteID, PositionID: p.PositionID, AnchorID: p.AnchorID, Kind: word(p.Kind), Words: p.Words,
		Bars: word(p.Bars), Weight: word(p.Weight), Role: word(p.Role), Observation: word(p.Observation),
		InspectBy: p.InspectBy, CountedFrom: word(p.CountedFrom), Wetness: word(p.Wetness), Washed: p.Washed,
		SeenFrom: p.Seen.From, SeenTo: p.Seen.To, SeenWords: p.Seen.Words, State: word(p.State),
		DecidedBy: p.DecidedBy, PersonID: p.PersonID, MadeID: p.MadeID,
	}
	if w := p.Yearly; w != nil {
		from, to := int(w.FromMonth), int(w.ToMonth)
		row.YearlyFromMonth, row.YearlyFromDay, row.YearlyToMonth, row.YearlyToDay = &from, &w.FromDay, &to, &w.ToDay
	}
	if !p.DecidedAt.IsZero() {
		at := instant(p.DecidedAt)
		row.DecidedAt = &at
	}
	return row
}

func (r proposalRow) noun() registry.Proposal {
	p := registry.Proposal{
		ID: r.ID, Version: r.Version, ImportID: r.ImportID, Line: r.Line,
		SiteID: r.SiteID, PositionID: r.PositionID, AnchorID: r.AnchorID,
		Noted: registry.Noted{
			Kind: registry.ProposalKind(r.Kind), Words: r.Words, Bars: registry.RestrictionKind(r.Bars),
			Weight: registry.Weight(r.Weight), Role: registry.PositionRole(r.Role), Observation: registry.Observation(r.Observation),
			InspectBy: r.InspectBy, CountedFrom: registry.CountedFrom(r.CountedFrom), Wetness: registry.Wetness(r.Wetness),
			Washed: r.Washed,
		},
		Seen: span(r.SeenFrom, r.SeenTo, r.SeenWords), State: registry.ProposalState(r.State),
		DecidedBy: r.DecidedBy, PersonID: r.PersonID, MadeID: r.MadeID,
	}
	if r.YearlyFromDay != nil {
		p.Yearly = &calendar.Window{
			FromMonth: time.Month(*r.YearlyFromMonth), FromDay: *r.YearlyFromDay,
			ToMonth: time.Month(*r.YearlyToMonth), ToDay: *r.YearlyToDay,
		}
	}
	if r.DecidedAt != nil {
		p.DecidedAt = r.DecidedAt.UTC()
	}
	return p
}

// public leaves the words out, which may name a person.
func (r proposalRow) public() any {
	r.Words = ""
	return r
}

var proposals = newTable[proposalRow]("proposal")

// saveProposals writes proposals after the import that they are of.
func (w *writer) saveProposals(ctx context.Context, ch *registry.Change) error {
	return save(ctx, w, proposals, convert(ch.Proposals, newProposalRow))
}

// Proposals lists proposals in the order of ids; by state served by
// proposal_by_state_idx.
func (s *Store) Proposals(ctx context.Context, group uuid.UUID, filter registry.ProposalFilter, page registry.Page) ([]registry.Proposal, error) {
	f := pageOf(page)
	if filter.State != "" {
		f.and("t.state = @state", "state", string(filter.State))
	}
	if filter.Kind != "" {
		f.and("t.kind = @kind", "kind", string(filter.Kind))
	}
	f.andID("t.import_id = @import_id", "import_id", filter.ImportID)
	f.andID(ofSite, "site_id", filter.SiteID)
	return list(ctx, s, group, f.query("list proposals", proposals.selectSQL), proposalRow.noun)
}

// ProposalsNamed lists those of the ids that are proposals of the group, in the
// order of ids.
func (s *Store) ProposalsNamed(ctx context.Context, group uuid.UUID, named []uuid.UUID) ([]registry.Proposal, error) {
	q := query{"list proposals", proposals.of("id", theseIDs) + byIDs, pgx.StrictNamedArgs{"ids": distinct(named)}}
	return list(ctx, s, group, q, proposalRow.noun)
}

// countOpen is served by proposal_by_state_idx.
const countOpen = `SELECT count(*) AS n FROM proposal AS t WHERE t.state = 'open'`

type openRow struct {
	N int `json:"n"`
}

// OpenProposals counts the proposals that nobody has decided yet.
func (s *Store) OpenProposals(ctx context.Context, group uuid.UUID) (int, error) {
	q := query{"count proposals", countOpen, pgx.StrictNamedArgs{}}
	return single(ctx, s, group, q, func(r openRow) int { return r.N })
}

// selectProposalsOf reads the proposals about the anchors @ids; served by
// proposal_of_anchor_idx.
var selectProposalsOf = proposals.of("anchor_id", theseIDs) + byIDs

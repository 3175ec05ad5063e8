package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// ListProposals answers GET /v1/proposals.
func (a *API) ListProposals(ctx context.Context, r api.ListProposalsRequestObject) (api.ListProposalsResponseObject, error) {
	filter := registry.ProposalFilter{
		State: registry.ProposalState(r.Params.State), Kind: registry.ProposalKind(r.Params.Kind),
		ImportID: idIn(r.Params.ImportId), SiteID: idIn(r.Params.SiteId),
	}
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, func(p registry.Proposal) uuid.UUID { return p.ID },
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Proposal, error) {
			return a.service.Proposals(ctx, who, filter, p)
		})
	if err != nil {
		return nil, err
	}
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	groups, err := a.service.GroupProposals(ctx, who, items)
	if err != nil {
		return nil, err
	}
	return api.ListProposals200JSONResponse{ProposalPageJSONResponse: api.ProposalPageJSONResponse{
		Items: each(items, proposalOut), Groups: each(groups, proposalGroupOut), NextCursor: next, Caution: wording.Caution,
	}}, nil
}

// DecideProposals answers POST /v1/proposals/decide.
func (a *API) DecideProposals(ctx context.Context, r api.DecideProposalsRequestObject) (api.DecideProposalsResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	done, err := a.service.DecideProposals(ctx, who, registry.ProposalDecision{
		Decision: registry.Decision(r.Body.Decision), IDs: r.Body.Ids, PersonID: idIn(r.Body.PersonId),
	})
	if err != nil {
		return nil, err
	}
	return api.DecideProposals200JSONResponse{
		Items: each(done.Proposals, proposalOut), Made: each(done.Made, madeOut),
		Text:    wording.ProposalsDecided(done.Accepted, len(done.Proposals), len(done.Made)),
		Caution: wording.Caution,
	}, nil
}

func proposalOut(p registry.Proposal) api.Proposal {
	return api.Proposal{
		Id: p.ID, Version: p.Version, ImportId: p.ImportID, Line: p.Line,
		SiteId: p.SiteID, PositionId: p.PositionID, AnchorId: p.AnchorID,
		Kind: api.ProposalKind(p.Kind), Words: p.Words, Text: wording.Proposal(p.Noted),
		Bars: api.RestrictionKind(p.Bars), Weight: api.Weight(p.Weight), Yearly: yearlyOut(p.Yearly),
		Role: api.PositionRole(p.Role), Observation: api.Observation(p.Observation),
		InspectBy: dateOut(p.InspectBy), CountedFrom: api.ProposalCountedFrom(p.CountedFrom),
		Wetness: api.Wetness(p.Wetness), Washed: p.Washed, SeenOn: spanOut(p.Seen), State: api.ProposalState(p.State),
		DecidedAt: p.DecidedAt, DecidedBy: p.DecidedBy, PersonId: idOut(p.PersonID), MadeId: idOut(p.MadeID),
	}
}

func proposalGroupOut(g report.ProposalGroup) api.ProposalGroup {
	return api.ProposalGroup{
		SiteId: g.SiteID, Site: g.Site, Kind: api.ProposalKind(g.Noted.Kind), Words: g.Noted.Words,
		Text: wording.Proposal(g.Noted), Accepting: wording.AcceptingMakes(g.Noted.Kind),
		Ids: each(g.Proposals, func(p registry.Proposal) uuid.UUID { return p.ID }), Anchors: g.Anchors(),
	}
}

func madeOut(m report.MadeOfNotes) api.MadeOfNotes {
	return api.MadeOfNotes{
		What: api.MadeOfNotesWhat(m.Noun), Id: m.ID, PlaceKind: api.PlaceKind(m.PlaceKind), OnRecord: m.Known,
		ProposalIds: each(m.Proposals, func(id uuid.UUID) uuid.UUID { return id }),
		Text:        wording.Made(m.Noun, m.PlaceKind, m.Known),
	}
}

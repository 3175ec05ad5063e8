package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// RecordSettlement answers POST /v1/anchors/{id}/settlements.
func (a *API) RecordSettlement(ctx context.Context, r api.RecordSettlementRequestObject) (api.RecordSettlementResponseObject, error) {
	b := *r.Body
	rec, err := recordIn(r.Id, api.NewFirstUse{
		Id: b.Id, DoneOn: b.DoneOn, PersonId: b.PersonId, Words: b.Words, Replaces: b.Replaces,
	})
	if err != nil {
		return nil, err
	}
	n := registry.Settlement{Record: rec, Rule: b.Rule, Values: valuesIn(b.Values), Reason: b.Reason, Until: dateIn(b.Until)}
	x, created, err := add(ctx, a, n, a.service.RecordSettlement, settlementReply)
	if created {
		return api.RecordSettlement201JSONResponse(x), err
	}
	return api.RecordSettlement200JSONResponse{SettlementReplyJSONResponse: x}, err
}

// RecordRetraction answers POST /v1/anchors/{id}/retractions.
func (a *API) RecordRetraction(ctx context.Context, r api.RecordRetractionRequestObject) (api.RecordRetractionResponseObject, error) {
	b := *r.Body
	rec, err := recordIn(r.Id, api.NewFirstUse{
		Id: b.Id, DoneOn: b.DoneOn, PersonId: b.PersonId, Words: b.Words, Replaces: b.Replaces,
	})
	if err != nil {
		return nil, err
	}
	n := registry.Retraction{Record: rec, RetractsID: b.RetractsId, Reason: b.Reason}
	x, created, err := add(ctx, a, n, a.service.RecordRetraction, retractionReply)
	if created {
		return api.RecordRetraction201JSONResponse(x), err
	}
	return api.RecordRetraction200JSONResponse{RetractionReplyJSONResponse: x}, err
}

func settlementReply(r registry.Settlement) api.SettlementReplyJSONResponse {
	return api.SettlementReplyJSONResponse{Settlement: settlementOut(r), Caution: wording.Caution}
}

func settlementOut(r registry.Settlement) api.Settlement {
	return api.Settlement{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID),
		Rule: r.Rule, Values: valuesOut(r.Values), Reason: r.Reason, Until: dateOut(r.Until),
		Words: r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

func retractionReply(r registry.Retraction) api.RetractionReplyJSONResponse {
	return api.RetractionReplyJSONResponse{Retraction: retractionOut(r), Caution: wording.Caution}
}

func retractionOut(r registry.Retraction) api.Retraction {
	return api.Retraction{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID),
		RetractsId: r.RetractsID, Reason: r.Reason,
		Words: r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

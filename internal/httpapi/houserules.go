package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// GetHouseRules answers GET /v1/house-rules.
func (a *API) GetHouseRules(ctx context.Context, _ api.GetHouseRulesRequestObject) (api.GetHouseRulesResponseObject, error) {
	x, err := a.houseRules(ctx)
	return api.GetHouseRules200JSONResponse{HouseRulesReplyJSONResponse: x}, err
}

// SetHouseRules answers PUT /v1/house-rules.
func (a *API) SetHouseRules(ctx context.Context, r api.SetHouseRulesRequestObject) (api.SetHouseRulesResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	version, err := ifMatch(r.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	if _, err := a.service.SetHouseRules(ctx, who, *r.Body, version); err != nil {
		return nil, err
	}
	x, err := a.houseRules(ctx)
	return api.SetHouseRules200JSONResponse{HouseRulesReplyJSONResponse: x}, err
}

// houseRules reads those in force.
func (a *API) houseRules(ctx context.Context) (api.HouseRulesReplyJSONResponse, error) {
	who, err := a.who(ctx)
	if err != nil {
		return api.HouseRulesReplyJSONResponse{}, err
	}
	text, version, err := a.service.HouseRules(ctx, who)
	return api.HouseRulesReplyJSONResponse{
		Body: text, Headers: api.HouseRulesReplyResponseHeaders{ETag: etag(version)},
	}, err
}

// PreviewHouseRules answers POST /v1/house-rules/preview.
func (a *API) PreviewHouseRules(ctx context.Context, r api.PreviewHouseRulesRequestObject) (api.PreviewHouseRulesResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	p, err := a.service.PreviewHouseRules(ctx, who, *r.Body)
	if err != nil {
		return nil, err
	}
	return api.PreviewHouseRules200JSONResponse{
		Anchors: p.Anchors, StandingMoves: each(p.StandingMoves, moveOut),
		DueEarlier: p.DueEarlier, DueLater: p.DueLater, Unchanged: p.Unchanged,
		OverdueNow: p.OverdueNow, OverdueThen: p.OverdueThen, Caution: wording.Caution,
	}, nil
}

func moveOut(m report.Move) api.StandingMove {
	return api.StandingMove{From: api.Standing(m.From), To: api.Standing(m.To), Count: m.Count}
}

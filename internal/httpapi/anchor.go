package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListAnchors answers GET /v1/anchors.
func (a *API) ListAnchors(ctx context.Context, r api.ListAnchorsRequestObject) (api.ListAnchorsResponseObject, error) {
	q := r.Params
	filter := registry.AnchorFilter{
		SiteID: idIn(q.SiteId), RouteID: idIn(q.RouteId), Standing: registry.Standing(q.Standing),
		DueBefore: dateIn(q.DueBefore), Metal: metal.Grade(q.Metal), BatchID: idIn(q.BatchId), Text: q.Text,
	}
	items, next, err := list(ctx, a, q.Limit, q.Cursor, anchorLineID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.AnchorLine, error) {
			return a.service.Anchors(ctx, who, filter, p)
		})
	if err != nil {
		return nil, err
	}
	return api.ListAnchors200JSONResponse{
		Items: each(items, anchorLineOut), NextCursor: next, Caution: wording.Caution,
	}, nil
}

// GetAnchor answers GET /v1/anchors/{id}.
func (a *API) GetAnchor(ctx context.Context, r api.GetAnchorRequestObject) (api.GetAnchorResponseObject, error) {
	s, err := one(ctx, a, r.Id, a.service.AnchorStory)
	if err != nil {
		return nil, err
	}
	return api.GetAnchor200JSONResponse{
		Body:    storyOut(s),
		Headers: api.GetAnchor200ResponseHeaders{ETag: etag(s.Facts.Anchor.Version)},
	}, nil
}

// ChangeAnchor answers PATCH /v1/anchors/{id}.
func (a *API) ChangeAnchor(ctx context.Context, r api.ChangeAnchorRequestObject) (api.ChangeAnchorResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	version, err := ifMatch(r.Params.IfMatch)
	if err != nil {
		return nil, err
	}
	anchor, err := a.service.ChangeAnchor(ctx, who, r.Id, version, anchorEdit(*r.Body))
	if err != nil {
		return nil, err
	}
	return api.ChangeAnchor200JSONResponse{
		Body:    api.AnchorAnswer{Anchor: anchorOut(anchor), Caution: wording.Caution},
		Headers: api.ChangeAnchor200ResponseHeaders{ETag: etag(anchor.Version)},
	}, nil
}

func anchorLineID(l registry.AnchorLine) uuid.UUID { return l.Anchor.ID }

func anchorLineOut(l registry.AnchorLine) api.AnchorLine {
	a := l.Anchor
	return api.AnchorLine{
		Id: a.ID, Version: a.Version,
		SiteId: a.SiteID, Site: l.Site, Sector: l.Sector, Route: l.Route,
		PositionId: a.PositionID, Position: l.Label, Role: api.PositionRole(l.Role),
		Form: api.Form(a.Form), FormText: a.FormWords, Metal: metalOut(a.Metal), MetalText: a.MetalWords,
		SetOn:    spanOut(a.SetOn),
		Standing: api.Standing(l.Standing), DueOn: dateOut(l.DueOn), DueState: api.DueState(l.DueState), Band: api.Band(l.Band),
	}
}

func anchorOut(a registry.Anchor) api.Anchor {
	return api.Anchor{
		Id: a.ID, Version: a.Version, SiteId: a.SiteID, PositionId: a.PositionID,
		Form: api.Form(a.Form), FormText: a.FormWords, Metal: metalOut(a.Metal), MetalText: a.MetalWords,
		ProductId: idOut(a.ProductID), ShankDiameterMm: lengthOut(a.Shank), OverallLengthMm: lengthOut(a.Length),
		SetOn: spanOut(a.SetOn), Removed: a.Removed, RemovedOn: spanOut(a.RemovedOn),
		Origin: api.Origin(a.Origin), EnteredOn: dateOut(a.EnteredOn), Notes: a.Notes,
	}
}

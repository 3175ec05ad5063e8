package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListAnchors answers GET /v1/anchors.
func (a *API) ListAnchors(ctx context.Context, r api.ListAnchorsRequestObject) (api.ListAnchorsResponseObject, error) {
	q := r.Params
	box, err := boxIn(q.Box)
	if err != nil {
		return nil, err
	}
	filter := registry.AnchorFilter{
		SiteID: idIn(q.SiteId), SectorID: idIn(q.SectorId), RouteID: idIn(q.RouteId), Box: box,
		Standing: registry.Standing(q.Standing), DueState: registry.DueState(q.DueState),
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

// AddAnchor answers POST /v1/anchors.
func (a *API) AddAnchor(ctx context.Context, r api.AddAnchorRequestObject) (api.AddAnchorResponseObject, error) {
	x, created, err := add(ctx, a, anchorIn(*r.Body), a.service.AddAnchor, anchorReply)
	if created {
		return api.AddAnchor201JSONResponse{Body: x.Body, Headers: api.AddAnchor201ResponseHeaders(x.Headers)}, err
	}
	return api.AddAnchor200JSONResponse{AnchorReplyJSONResponse: x}, err
}

// GetAnchor answers GET /v1/anchors/{id}.
func (a *API) GetAnchor(ctx context.Context, r api.GetAnchorRequestObject) (api.GetAnchorResponseObject, error) {
	s, err := one(ctx, a, r.Id, a.service.AnchorStory)
	if err != nil {
		return nil, err
	}
	due, err := a.dueLine(ctx, s)
	if err != nil {
		return nil, err
	}
	story := storyOut(s, due)
	if story.CureTime, err = a.cureTimeOf(ctx, r.Id); err != nil {
		return nil, err
	}
	return api.GetAnchor200JSONResponse{
		Body:    story,
		Headers: api.GetAnchor200ResponseHeaders{ETag: etag(s.Facts.Anchor.Version)},
	}, nil
}

// ChangeAnchor answers PATCH /v1/anchors/{id}.
func (a *API) ChangeAnchor(ctx context.Context, r api.ChangeAnchorRequestObject) (api.ChangeAnchorResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, anchorEdit(*r.Body), a.service.ChangeAnchor, anchorReply)
	return api.ChangeAnchor200JSONResponse{AnchorReplyJSONResponse: x}, err
}

// boxIn reads west, south, east and north, which the contract has counted.
func boxIn(q []float64) (*registry.Box, error) {
	if len(q) == 0 {
		return nil, nil
	}
	b := registry.Box{West: q[0], South: q[1], East: q[2], North: q[3]}
	var c fault.Checks
	c.Require(b.South >= -90 && b.North <= 90, "box", fault.OutOfRange, "from", "-90", "to", "90")
	c.Require(b.West <= b.East && b.South <= b.North, "box", fault.Order, "corners", "west,south,east,north")
	return &b, c.Err()
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

func anchorReply(a registry.Anchor) api.AnchorReplyJSONResponse {
	return api.AnchorReplyJSONResponse{
		Body:    api.AnchorAnswer{Anchor: anchorOut(a), Caution: wording.Caution},
		Headers: api.AnchorReplyResponseHeaders{ETag: etag(a.Version)},
	}
}

func anchorIn(b api.NewAnchor) registry.Anchor {
	return registry.Anchor{
		ID: b.Id, PositionID: b.PositionId, Form: registry.Form(b.Form), FormWords: b.FormText,
		Metal: metalIn(b.Metal), MetalWords: b.MetalText, ProductID: idIn(b.ProductId),
		Shank: lengthIn(b.ShankDiameterMm), Length: lengthIn(b.OverallLengthMm), SetOn: spanIn(b.SetOn), Notes: b.Notes,
	}
}

// anchorEdit turns a merge patch into a change of an anchor: what is absent
// stays, null makes it not known.
func anchorEdit(p api.AnchorPatch) func(*registry.Anchor) error {
	return edit(func(a *registry.Anchor) {
		setWord(p.Form, &a.Form)
		setMetal(p.Metal, p.MetalText, &a.Metal, &a.MetalWords)
		setLength(p.ShankDiameterMm, &a.Shank)
		setLength(p.OverallLengthMm, &a.Length)
		setWith(p.SetOn, func(v api.UncertainDatePatch) { a.SetOn = spanIn(api.UncertainDate(v)) })
		setWord(p.Notes, &a.Notes)
	})
}

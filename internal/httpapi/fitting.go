package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListFittings answers GET /v1/anchors/{id}/fittings.
func (a *API) ListFittings(ctx context.Context, r api.ListFittingsRequestObject) (api.ListFittingsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, fittingID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Fitting, error) {
			return a.service.Fittings(ctx, who, r.Id, p)
		})
	if err == nil && len(items) == 0 { // on an anchor that has none, or on none
		_, err = one(ctx, a, r.Id, a.service.AnchorStory)
	}
	page := api.FittingPageJSONResponse{Items: each(items, fittingOut), NextCursor: next, Caution: wording.Caution}
	return api.ListFittings200JSONResponse{FittingPageJSONResponse: page}, err
}

// AddFitting answers POST /v1/anchors/{id}/fittings.
func (a *API) AddFitting(ctx context.Context, r api.AddFittingRequestObject) (api.AddFittingResponseObject, error) {
	x, created, err := add(ctx, a, fittingIn(r.Id, *r.Body), a.service.AddFitting, fittingReply)
	if created {
		return api.AddFitting201JSONResponse{Body: x.Body, Headers: api.AddFitting201ResponseHeaders(x.Headers)}, err
	}
	return api.AddFitting200JSONResponse{FittingReplyJSONResponse: x}, err
}

// GetFitting answers GET /v1/fittings/{id}.
func (a *API) GetFitting(ctx context.Context, r api.GetFittingRequestObject) (api.GetFittingResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Fitting, fittingReply)
	return api.GetFitting200JSONResponse{FittingReplyJSONResponse: x}, err
}

// ChangeFitting answers PATCH /v1/fittings/{id}.
func (a *API) ChangeFitting(ctx context.Context, r api.ChangeFittingRequestObject) (api.ChangeFittingResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, fittingEdit(*r.Body), a.service.ChangeFitting, fittingReply)
	return api.ChangeFitting200JSONResponse{FittingReplyJSONResponse: x}, err
}

func fittingID(f registry.Fitting) uuid.UUID { return f.ID }

func fittingReply(f registry.Fitting) api.FittingReplyJSONResponse {
	out := fittingOut(f)
	out.Caution = wording.Caution
	return api.FittingReplyJSONResponse{Body: out, Headers: api.FittingReplyResponseHeaders{ETag: etag(f.Version)}}
}

func fittingOut(f registry.Fitting) api.Fitting {
	return api.Fitting{
		Id: f.ID, Version: f.Version, AnchorId: f.AnchorID, Kind: api.FittingKind(f.Kind), Presence: api.Presence(f.Presence),
		Text: f.Words, Metal: metalOut(f.Metal), MetalText: f.MetalWords, SetOn: spanOut(f.SetOn),
		NewSectionMm: lengthOut(f.New), EndedOn: dateOut(f.EndedOn), ProductId: idOut(f.ProductID), BatchId: idOut(f.BatchID),
	}
}

func fittingIn(anchor uuid.UUID, b api.NewFitting) registry.Fitting {
	return registry.Fitting{
		ID: b.Id, AnchorID: anchor, Kind: registry.FittingKind(b.Kind), Presence: registry.Presence(b.Presence),
		Words: b.Text, Metal: metalIn(b.Metal), MetalWords: b.MetalText, SetOn: spanIn(b.SetOn), New: lengthIn(b.NewSectionMm),
		ProductID: idIn(b.ProductId), BatchID: idIn(b.BatchId),
	}
}

func fittingEdit(p api.FittingPatch) func(*registry.Fitting) error {
	return edit(func(f *registry.Fitting) {
		setWord(p.Kind, &f.Kind)
		setWord(p.Presence, &f.Presence)
		setWord(p.Text, &f.Words)
		setMetal(p.Metal, p.MetalText, &f.Metal, &f.MetalWords)
		setWith(p.SetOn, func(v api.UncertainDatePatch) { f.SetOn = spanIn(api.UncertainDate(v)) })
		setLength(p.NewSectionMm, &f.New)
		setDate(p.EndedOn, &f.EndedOn)
	})
}

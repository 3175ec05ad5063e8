package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListLandowners answers GET /v1/landowners.
func (a *API) ListLandowners(ctx context.Context, r api.ListLandownersRequestObject) (api.ListLandownersResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, landownerID, a.service.Landowners)
	page := api.LandownerPageJSONResponse{Items: each(items, landownerOut), NextCursor: next, Caution: wording.Caution}
	return api.ListLandowners200JSONResponse{LandownerPageJSONResponse: page}, err
}

// AddLandowner answers POST /v1/landowners.
func (a *API) AddLandowner(ctx context.Context, r api.AddLandownerRequestObject) (api.AddLandownerResponseObject, error) {
	x, created, err := add(ctx, a, landownerIn(*r.Body), a.service.AddLandowner, landownerReply)
	if created {
		return api.AddLandowner201JSONResponse{Body: x.Body, Headers: api.AddLandowner201ResponseHeaders(x.Headers)}, err
	}
	return api.AddLandowner200JSONResponse{LandownerReplyJSONResponse: x}, err
}

// GetLandowner answers GET /v1/landowners/{id}.
func (a *API) GetLandowner(ctx context.Context, r api.GetLandownerRequestObject) (api.GetLandownerResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Landowner, landownerReply)
	return api.GetLandowner200JSONResponse{LandownerReplyJSONResponse: x}, err
}

// ChangeLandowner answers PATCH /v1/landowners/{id}.
func (a *API) ChangeLandowner(ctx context.Context, r api.ChangeLandownerRequestObject) (api.ChangeLandownerResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, landownerEdit(*r.Body), a.service.ChangeLandowner, landownerReply)
	return api.ChangeLandowner200JSONResponse{LandownerReplyJSONResponse: x}, err
}

// ListParcels answers GET /v1/parcels.
func (a *API) ListParcels(ctx context.Context, r api.ListParcelsRequestObject) (api.ListParcelsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, parcelID, of(r.Params.LandownerId, a.service.Parcels))
	page := api.ParcelPageJSONResponse{Items: each(items, parcelOut), NextCursor: next, Caution: wording.Caution}
	return api.ListParcels200JSONResponse{ParcelPageJSONResponse: page}, err
}

// AddParcel answers POST /v1/parcels.
func (a *API) AddParcel(ctx context.Context, r api.AddParcelRequestObject) (api.AddParcelResponseObject, error) {
	x, created, err := add(ctx, a, parcelIn(*r.Body), a.service.AddParcel, parcelReply)
	if created {
		return api.AddParcel201JSONResponse{Body: x.Body, Headers: api.AddParcel201ResponseHeaders(x.Headers)}, err
	}
	return api.AddParcel200JSONResponse{ParcelReplyJSONResponse: x}, err
}

// GetParcel answers GET /v1/parcels/{id}.
func (a *API) GetParcel(ctx context.Context, r api.GetParcelRequestObject) (api.GetParcelResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Parcel, parcelReply)
	return api.GetParcel200JSONResponse{ParcelReplyJSONResponse: x}, err
}

// ChangeParcel answers PATCH /v1/parcels/{id}.
func (a *API) ChangeParcel(ctx context.Context, r api.ChangeParcelRequestObject) (api.ChangeParcelResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, parcelEdit(*r.Body), a.service.ChangeParcel, parcelReply)
	return api.ChangeParcel200JSONResponse{ParcelReplyJSONResponse: x}, err
}

func landownerID(l registry.Landowner) uuid.UUID { return l.ID }

func landownerReply(l registry.Landowner) api.LandownerReplyJSONResponse {
	out := landownerOut(l)
	out.Caution = wording.Caution
	return api.LandownerReplyJSONResponse{Body: out, Headers: api.LandownerReplyResponseHeaders{ETag: etag(l.Version)}}
}

func landownerOut(l registry.Landowner) api.Landowner {
	return api.Landowner{Id: l.ID, Version: l.Version, Name: l.Name, Contact: l.Contact, EndedOn: dateOut(l.EndedOn), ErasedOn: dateOut(l.ErasedOn)}
}

func landownerIn(b api.NewLandowner) registry.Landowner {
	return registry.Landowner{ID: b.Id, Name: b.Name, Contact: b.Contact}
}

func landownerEdit(p api.LandownerPatch) func(*registry.Landowner) error {
	return edit(func(l *registry.Landowner) {
		setWord(p.Name, &l.Name)
		setWord(p.Contact, &l.Contact)
		setDate(p.EndedOn, &l.EndedOn)
	})
}

func parcelID(p registry.Parcel) uuid.UUID { return p.ID }

func parcelReply(p registry.Parcel) api.ParcelReplyJSONResponse {
	out := parcelOut(p)
	out.Caution = wording.Caution
	return api.ParcelReplyJSONResponse{Body: out, Headers: api.ParcelReplyResponseHeaders{ETag: etag(p.Version)}}
}

func parcelOut(p registry.Parcel) api.Parcel {
	return api.Parcel{
		Id: p.ID, Version: p.Version, LandownerId: p.LandownerID, Name: p.Name,
		Outline: api.Outline(p.Outline), AreaM2: p.AreaM2, EndedOn: dateOut(p.EndedOn),
	}
}

func parcelIn(b api.NewParcel) registry.Parcel {
	return registry.Parcel{ID: b.Id, LandownerID: b.LandownerId, Name: b.Name, Outline: string(b.Outline)}
}

func parcelEdit(p api.ParcelPatch) func(*registry.Parcel) error {
	return edit(func(x *registry.Parcel) {
		set(p.LandownerId, &x.LandownerID)
		setWord(p.Name, &x.Name)
		setWith(p.Outline, func(o api.OutlinePatch) { x.Outline = string(o) })
		setDate(p.EndedOn, &x.EndedOn)
	})
}

package httpapi

import (
	"context"
	"time"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListRestrictions answers GET /v1/restrictions.
func (a *API) ListRestrictions(ctx context.Context, r api.ListRestrictionsRequestObject) (api.ListRestrictionsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, restrictionID, a.service.Restrictions)
	page := api.RestrictionPageJSONResponse{Items: each(items, restrictionOut), NextCursor: next, Caution: wording.Caution}
	return api.ListRestrictions200JSONResponse{RestrictionPageJSONResponse: page}, err
}

// AddRestriction answers POST /v1/restrictions.
func (a *API) AddRestriction(ctx context.Context, r api.AddRestrictionRequestObject) (api.AddRestrictionResponseObject, error) {
	x, created, err := add(ctx, a, restrictionIn(*r.Body), a.service.AddRestriction, restrictionReply)
	if created {
		return api.AddRestriction201JSONResponse{Body: x.Body, Headers: api.AddRestriction201ResponseHeaders(x.Headers)}, err
	}
	return api.AddRestriction200JSONResponse{RestrictionReplyJSONResponse: x}, err
}

// GetRestriction answers GET /v1/restrictions/{id}.
func (a *API) GetRestriction(ctx context.Context, r api.GetRestrictionRequestObject) (api.GetRestrictionResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Restriction, restrictionReply)
	return api.GetRestriction200JSONResponse{RestrictionReplyJSONResponse: x}, err
}

// ChangeRestriction answers PATCH /v1/restrictions/{id}.
func (a *API) ChangeRestriction(ctx context.Context, r api.ChangeRestrictionRequestObject) (api.ChangeRestrictionResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, restrictionEdit(*r.Body), a.service.ChangeRestriction, restrictionReply)
	return api.ChangeRestriction200JSONResponse{RestrictionReplyJSONResponse: x}, err
}

func restrictionID(x registry.Restriction) uuid.UUID { return x.ID }

func restrictionReply(x registry.Restriction) api.RestrictionReplyJSONResponse {
	out := restrictionOut(x)
	out.Caution = wording.Caution
	return api.RestrictionReplyJSONResponse{Body: out, Headers: api.RestrictionReplyResponseHeaders{ETag: etag(x.Version)}}
}

func restrictionOut(x registry.Restriction) api.Restriction {
	out := api.Restriction{
		Id: x.ID, Version: x.Version, ParcelId: idOut(x.ParcelID), Kind: api.RestrictionKind(x.Kind),
		Why: x.Why, Weight: api.Weight(x.Weight), Yearly: yearlyOut(x.Yearly),
		From: dateOut(x.From), Until: dateOut(x.Until), ConfirmedOn: dateOut(x.ConfirmedOn),
	}
	if x.Place != nil {
		out.PlaceKind, out.PlaceId = api.PlaceKind(x.Place.Kind), x.Place.ID
	}
	return out
}

// restrictionIn leaves out a place of which nothing is said.
func restrictionIn(b api.NewRestriction) registry.Restriction {
	x := registry.Restriction{
		ID: b.Id, ParcelID: idIn(b.ParcelId), Kind: registry.RestrictionKind(b.Kind),
		Why: b.Why, Weight: registry.Weight(b.Weight), Yearly: yearlyIn(b.Yearly),
		From: dateIn(b.From), Until: dateIn(b.Until), ConfirmedOn: dateIn(b.ConfirmedOn),
	}
	if b.PlaceKind != "" || b.PlaceId != uuid.Nil {
		x.Place = &registry.Place{Kind: registry.PlaceKind(b.PlaceKind), ID: b.PlaceId}
	}
	return x
}

func restrictionEdit(p api.RestrictionPatch) func(*registry.Restriction) error {
	return edit(func(x *registry.Restriction) {
		setWord(p.Kind, &x.Kind)
		setWord(p.Why, &x.Why)
		setWord(p.Weight, &x.Weight)
		setAs(p.Yearly, &x.Yearly, func(y api.YearlyPatch) calendar.Window { return *yearlyIn((*api.Yearly)(&y)) })
		setDate(p.From, &x.From)
		setDate(p.Until, &x.Until)
		setDate(p.ConfirmedOn, &x.ConfirmedOn)
	})
}

func yearlyOut(w *calendar.Window) *api.Yearly {
	if w == nil {
		return nil
	}
	return &api.Yearly{FromMonth: int(w.FromMonth), FromDay: w.FromDay, ToMonth: int(w.ToMonth), ToDay: w.ToDay}
}

func yearlyIn(y *api.Yearly) *calendar.Window {
	if y == nil {
		return nil
	}
	return &calendar.Window{
		FromMonth: time.Month(y.FromMonth), FromDay: y.FromDay, ToMonth: time.Month(y.ToMonth), ToDay: y.ToDay,
	}
}

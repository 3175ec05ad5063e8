package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListEvents answers GET /v1/events.
func (a *API) ListEvents(ctx context.Context, r api.ListEventsRequestObject) (api.ListEventsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, eventID, of(r.Params.SiteId, a.service.Events))
	page := api.EventPageJSONResponse{Items: each(items, eventOut), NextCursor: next, Caution: wording.Caution}
	return api.ListEvents200JSONResponse{EventPageJSONResponse: page}, err
}

// AddEvent answers POST /v1/events.
func (a *API) AddEvent(ctx context.Context, r api.AddEventRequestObject) (api.AddEventResponseObject, error) {
	x, created, err := add(ctx, a, eventIn(*r.Body), a.service.AddEvent, eventReply)
	if created {
		return api.AddEvent201JSONResponse{Body: x.Body, Headers: api.AddEvent201ResponseHeaders(x.Headers)}, err
	}
	return api.AddEvent200JSONResponse{EventReplyJSONResponse: x}, err
}

// GetEvent answers GET /v1/events/{id}.
func (a *API) GetEvent(ctx context.Context, r api.GetEventRequestObject) (api.GetEventResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Event, eventReply)
	return api.GetEvent200JSONResponse{EventReplyJSONResponse: x}, err
}

// ChangeEvent answers PATCH /v1/events/{id}.
func (a *API) ChangeEvent(ctx context.Context, r api.ChangeEventRequestObject) (api.ChangeEventResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, eventEdit(*r.Body), a.service.ChangeEvent, eventReply)
	return api.ChangeEvent200JSONResponse{EventReplyJSONResponse: x}, err
}

func eventID(e registry.Event) uuid.UUID { return e.ID }

func eventReply(e registry.Event) api.EventReplyJSONResponse {
	return api.EventReplyJSONResponse{Body: api.EventAnswer{Event: eventOut(e), Caution: wording.Caution}, Headers: api.EventReplyResponseHeaders{ETag: etag(e.Version)}}
}

func eventOut(e registry.Event) api.Event {
	return api.Event{
		Id: e.ID, Version: e.Version, SiteId: e.SiteID, Kind: api.EventKind(e.Kind), HappenedOn: dateOut(e.HappenedOn),
		InspectBy: dateOut(e.InspectBy), Closed: e.Closed, Words: e.Words, EndedOn: dateOut(e.EndedOn),
	}
}

func eventIn(b api.NewEvent) registry.Event {
	return registry.Event{
		ID: b.Id, SiteID: b.SiteId, Kind: registry.EventKind(b.Kind), HappenedOn: dateIn(b.HappenedOn),
		InspectBy: dateIn(b.InspectBy), Closed: b.Closed, Words: b.Words,
	}
}

func eventEdit(p api.EventPatch) func(*registry.Event) error {
	return edit(func(e *registry.Event) {
		setWord(p.Kind, &e.Kind)
		setDate(p.HappenedOn, &e.HappenedOn)
		setDate(p.InspectBy, &e.InspectBy)
		set(p.Closed, &e.Closed)
		setWord(p.Words, &e.Words)
		setDate(p.EndedOn, &e.EndedOn)
	})
}

package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
)

// ListPersons answers GET /v1/persons.
func (a *API) ListPersons(ctx context.Context, r api.ListPersonsRequestObject) (api.ListPersonsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, personID, a.service.Persons)
	page := api.PersonPageJSONResponse{Items: each(items, personOut), NextCursor: next}
	return api.ListPersons200JSONResponse{PersonPageJSONResponse: page}, err
}

// AddPerson answers POST /v1/persons.
func (a *API) AddPerson(ctx context.Context, r api.AddPersonRequestObject) (api.AddPersonResponseObject, error) {
	x, created, err := add(ctx, a, personIn(*r.Body), a.service.AddPerson, personReply)
	if created {
		return api.AddPerson201JSONResponse{Body: x.Body, Headers: api.AddPerson201ResponseHeaders(x.Headers)}, err
	}
	return api.AddPerson200JSONResponse{PersonReplyJSONResponse: x}, err
}

// GetPerson answers GET /v1/persons/{id}.
func (a *API) GetPerson(ctx context.Context, r api.GetPersonRequestObject) (api.GetPersonResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Person, personReply)
	return api.GetPerson200JSONResponse{PersonReplyJSONResponse: x}, err
}

// ChangePerson answers PATCH /v1/persons/{id}.
func (a *API) ChangePerson(ctx context.Context, r api.ChangePersonRequestObject) (api.ChangePersonResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, personEdit(*r.Body), a.service.ChangePerson, personReply)
	return api.ChangePerson200JSONResponse{PersonReplyJSONResponse: x}, err
}

func personID(p registry.Person) uuid.UUID { return p.ID }

func personReply(p registry.Person) api.PersonReplyJSONResponse {
	return api.PersonReplyJSONResponse{Body: personOut(p), Headers: api.PersonReplyResponseHeaders{ETag: etag(p.Version)}}
}

func personOut(p registry.Person) api.Person {
	return api.Person{Id: p.ID, Version: p.Version, Name: p.Name, Erased: p.Erased}
}

func personIn(b api.NewPerson) registry.Person { return registry.Person{ID: b.Id, Name: b.Name} }

func personEdit(p api.PersonPatch) func(*registry.Person) error {
	return edit(func(x *registry.Person) { setWord(p.Name, &x.Name) })
}

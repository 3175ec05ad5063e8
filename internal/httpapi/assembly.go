package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListAssemblies answers GET /v1/assemblies.
func (a *API) ListAssemblies(ctx context.Context, r api.ListAssembliesRequestObject) (api.ListAssembliesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, assemblyID, of(r.Params.SiteId, a.service.Assemblies))
	page := api.AssemblyPageJSONResponse{Items: each(items, assemblyOut), NextCursor: next, Caution: wording.Caution}
	return api.ListAssemblies200JSONResponse{AssemblyPageJSONResponse: page}, err
}

// AddAssembly answers POST /v1/assemblies.
func (a *API) AddAssembly(ctx context.Context, r api.AddAssemblyRequestObject) (api.AddAssemblyResponseObject, error) {
	x, created, err := add(ctx, a, assemblyIn(*r.Body), a.service.AddAssembly, assemblyReply)
	if created {
		return api.AddAssembly201JSONResponse{Body: x.Body, Headers: api.AddAssembly201ResponseHeaders(x.Headers)}, err
	}
	return api.AddAssembly200JSONResponse{AssemblyReplyJSONResponse: x}, err
}

// GetAssembly answers GET /v1/assemblies/{id}.
func (a *API) GetAssembly(ctx context.Context, r api.GetAssemblyRequestObject) (api.GetAssemblyResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Assembly, assemblyReply)
	return api.GetAssembly200JSONResponse{AssemblyReplyJSONResponse: x}, err
}

// ChangeAssembly answers PATCH /v1/assemblies/{id}.
func (a *API) ChangeAssembly(ctx context.Context, r api.ChangeAssemblyRequestObject) (api.ChangeAssemblyResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, assemblyEdit(*r.Body), a.service.ChangeAssembly, assemblyReply)
	return api.ChangeAssembly200JSONResponse{AssemblyReplyJSONResponse: x}, err
}

func assemblyID(x registry.Assembly) uuid.UUID { return x.ID }

func assemblyReply(x registry.Assembly) api.AssemblyReplyJSONResponse {
	out := assemblyOut(x)
	out.Caution = wording.Caution
	return api.AssemblyReplyJSONResponse{Body: out, Headers: api.AssemblyReplyResponseHeaders{ETag: etag(x.Version)}}
}

func assemblyOut(x registry.Assembly) api.Assembly {
	return api.Assembly{
		Id: x.ID, Version: x.Version, SiteId: x.SiteID, Name: x.Name, Kind: api.AssemblyKind(x.Kind),
		PositionIds: each(x.PositionIDs, sameID), EndedOn: dateOut(x.EndedOn),
	}
}

func assemblyIn(b api.NewAssembly) registry.Assembly {
	return registry.Assembly{
		ID: b.Id, SiteID: b.SiteId, Name: b.Name, Kind: registry.AssemblyKind(b.Kind), PositionIDs: b.PositionIds,
	}
}

func assemblyEdit(p api.AssemblyPatch) func(*registry.Assembly) error {
	return edit(func(x *registry.Assembly) {
		setWord(p.Name, &x.Name)
		setWord(p.Kind, &x.Kind)
		set(p.PositionIds, &x.PositionIDs)
		setDate(p.EndedOn, &x.EndedOn)
	})
}

package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListProducts answers GET /v1/products.
func (a *API) ListProducts(ctx context.Context, r api.ListProductsRequestObject) (api.ListProductsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, productID, func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Product, error) {
		return a.service.Products(ctx, who, registry.ProductKind(r.Params.Kind), p)
	})
	page := api.ProductPageJSONResponse{Items: each(items, productOut), NextCursor: next, Caution: wording.Caution}
	return api.ListProducts200JSONResponse{ProductPageJSONResponse: page}, err
}

// AddProduct answers POST /v1/products.
func (a *API) AddProduct(ctx context.Context, r api.AddProductRequestObject) (api.AddProductResponseObject, error) {
	x, created, err := add(ctx, a, productIn(*r.Body), a.service.AddProduct, productReply)
	if created {
		return api.AddProduct201JSONResponse{Body: x.Body, Headers: api.AddProduct201ResponseHeaders(x.Headers)}, err
	}
	return api.AddProduct200JSONResponse{ProductReplyJSONResponse: x}, err
}

// GetProduct answers GET /v1/products/{id}.
func (a *API) GetProduct(ctx context.Context, r api.GetProductRequestObject) (api.GetProductResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Product, productReply)
	return api.GetProduct200JSONResponse{ProductReplyJSONResponse: x}, err
}

// ChangeProduct answers PATCH /v1/products/{id}.
func (a *API) ChangeProduct(ctx context.Context, r api.ChangeProductRequestObject) (api.ChangeProductResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, productEdit(*r.Body), a.service.ChangeProduct, productReply)
	return api.ChangeProduct200JSONResponse{ProductReplyJSONResponse: x}, err
}

func productID(p registry.Product) uuid.UUID { return p.ID }

func productReply(p registry.Product) api.ProductReplyJSONResponse {
	out := productOut(p)
	out.Caution = wording.Caution
	return api.ProductReplyJSONResponse{Body: out, Headers: api.ProductReplyResponseHeaders{ETag: etag(p.Version)}}
}

func productOut(p registry.Product) api.Product {
	out := api.Product{
		Id: p.ID, Version: p.Version, Kind: api.ProductKind(p.Kind), Name: p.Name, Maker: p.Maker,
		Form: api.Form(p.Form), Metal: metalOut(p.Metal), Chemistry: p.Chemistry, Notes: p.Notes, EndedOn: dateOut(p.EndedOn),
		Shipped: p.Shipped,
	}
	if p.Shipped {
		out.ShippedWords = wording.ShippedProduct
	}
	return out
}

func productIn(b api.NewProduct) registry.Product {
	return registry.Product{
		ID: b.Id, Kind: registry.ProductKind(b.Kind), Name: b.Name, Maker: b.Maker,
		Form: registry.Form(b.Form), Metal: metalIn(b.Metal), Chemistry: b.Chemistry, Notes: b.Notes,
	}
}

func productEdit(p api.ProductPatch) func(*registry.Product) error {
	return edit(func(x *registry.Product) {
		setWord(p.Name, &x.Name)
		setWord(p.Maker, &x.Maker)
		setWord(p.Form, &x.Form)
		setWith(p.Metal, func(v []api.MetalGrade) { x.Metal = metalIn(v) })
		setWord(p.Chemistry, &x.Chemistry)
		setWord(p.Notes, &x.Notes)
		setDate(p.EndedOn, &x.EndedOn)
	})
}

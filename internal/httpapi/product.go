package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
)

// ListProducts answers GET /v1/products.
func (a *API) ListProducts(ctx context.Context, r api.ListProductsRequestObject) (api.ListProductsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, productID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Product, error) {
			return a.service.Products(ctx, who, registry.ProductKind(r.Params.Kind), p)
		})
	if err != nil {
		return nil, err
	}
	return api.ListProducts200JSONResponse{Items: each(items, productOut), NextCursor: next}, nil
}

// GetProduct answers GET /v1/products/{id}.
func (a *API) GetProduct(ctx context.Context, r api.GetProductRequestObject) (api.GetProductResponseObject, error) {
	p, err := one(ctx, a, r.Id, a.service.Product)
	if err != nil {
		return nil, err
	}
	return api.GetProduct200JSONResponse(productOut(p)), nil
}

// ListBatches answers GET /v1/batches.
func (a *API) ListBatches(ctx context.Context, r api.ListBatchesRequestObject) (api.ListBatchesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, batchID,
		func(ctx context.Context, who registry.Actor, p registry.Page) ([]registry.Batch, error) {
			return a.service.Batches(ctx, who, idIn(r.Params.ProductId), p)
		})
	if err != nil {
		return nil, err
	}
	return api.ListBatches200JSONResponse{Items: each(items, batchOut), NextCursor: next}, nil
}

// GetBatch answers GET /v1/batches/{id}.
func (a *API) GetBatch(ctx context.Context, r api.GetBatchRequestObject) (api.GetBatchResponseObject, error) {
	b, err := one(ctx, a, r.Id, a.service.Batch)
	if err != nil {
		return nil, err
	}
	return api.GetBatch200JSONResponse(batchOut(b)), nil
}

func productID(p registry.Product) uuid.UUID { return p.ID }
func batchID(b registry.Batch) uuid.UUID     { return b.ID }

func productOut(p registry.Product) api.Product {
	return api.Product{
		Id: p.ID, Version: p.Version, Kind: api.ProductKind(p.Kind), Name: p.Name, Maker: p.Maker,
		Form: api.Form(p.Form), Metal: metalOut(p.Metal), Chemistry: p.Chemistry, Notes: p.Notes,
	}
}

func batchOut(b registry.Batch) api.Batch {
	return api.Batch{
		Id: b.ID, Version: b.Version, ProductId: idOut(b.ProductID), Text: b.Text,
		ExpiresOn: dateOut(b.ExpiresOn), ReceivedOn: dateOut(b.ReceivedOn), Quantity: b.Quantity,
	}
}

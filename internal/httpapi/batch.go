package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListBatches answers GET /v1/batches.
func (a *API) ListBatches(ctx context.Context, r api.ListBatchesRequestObject) (api.ListBatchesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, batchID, of(r.Params.ProductId, a.service.Batches))
	page := api.BatchPageJSONResponse{Items: each(items, a.batchOut(ctx)), NextCursor: next, Caution: wording.Caution}
	return api.ListBatches200JSONResponse{BatchPageJSONResponse: page}, err
}

// AddBatch answers POST /v1/batches.
func (a *API) AddBatch(ctx context.Context, r api.AddBatchRequestObject) (api.AddBatchResponseObject, error) {
	x, created, err := add(ctx, a, batchIn(*r.Body), a.service.AddBatch, a.batchReply(ctx))
	x, err = a.used(ctx, x, err)
	if created {
		return api.AddBatch201JSONResponse{Body: x.Body, Headers: api.AddBatch201ResponseHeaders(x.Headers)}, err
	}
	return api.AddBatch200JSONResponse{BatchReplyJSONResponse: x}, err
}

// GetBatch answers GET /v1/batches/{id}.
func (a *API) GetBatch(ctx context.Context, r api.GetBatchRequestObject) (api.GetBatchResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Batch, a.batchReply(ctx))
	x, err = a.used(ctx, x, err)
	return api.GetBatch200JSONResponse{BatchReplyJSONResponse: x}, err
}

// ChangeBatch answers PATCH /v1/batches/{id}.
func (a *API) ChangeBatch(ctx context.Context, r api.ChangeBatchRequestObject) (api.ChangeBatchResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, batchEdit(*r.Body), a.service.ChangeBatch, a.batchReply(ctx))
	x, err = a.used(ctx, x, err)
	return api.ChangeBatch200JSONResponse{BatchReplyJSONResponse: x}, err
}

func batchID(b registry.Batch) uuid.UUID { return b.ID }

// used adds to an answer how many anchors were set with the batch.
func (a *API) used(ctx context.Context, x api.BatchReplyJSONResponse, err error) (api.BatchReplyJSONResponse, error) {
	if err != nil {
		return x, err
	}
	uses, err := one(ctx, a, x.Body.Id, a.service.BatchUses)
	x.Body.UsedByCount = &uses
	return x, err
}

// batchReply returns how one batch is answered today.
func (a *API) batchReply(ctx context.Context) func(registry.Batch) api.BatchReplyJSONResponse {
	today := a.batchOut(ctx)
	return func(b registry.Batch) api.BatchReplyJSONResponse {
		out := today(b)
		out.Caution = wording.Caution
		return api.BatchReplyJSONResponse{Body: out, Headers: api.BatchReplyResponseHeaders{ETag: etag(b.Version)}}
	}
}

// batchOut returns how a batch is written today: how it stands to its last good
// day goes by the calendar of who is asking.
func (a *API) batchOut(ctx context.Context) func(registry.Batch) api.Batch {
	who, err := a.who(ctx)
	return func(b registry.Batch) api.Batch {
		out := batchOut(b)
		if err == nil {
			out.Expiry = api.Expiry(b.Expiry(a.service.AsOf(who)))
		}
		return out
	}
}

func batchOut(b registry.Batch) api.Batch {
	return api.Batch{
		Id: b.ID, Version: b.Version, ProductId: idOut(b.ProductID), Text: b.Text,
		ExpiresOn: dateOut(b.ExpiresOn), ReceivedOn: dateOut(b.ReceivedOn), Quantity: b.Quantity, EndedOn: dateOut(b.EndedOn),
		CountReceived: b.Received, CountOnHand: b.OnHand,
	}
}

func batchIn(b api.NewBatch) registry.Batch {
	return registry.Batch{
		ID: b.Id, ProductID: idIn(b.ProductId), Text: b.Text,
		ExpiresOn: dateIn(b.ExpiresOn), ReceivedOn: dateIn(b.ReceivedOn), Quantity: b.Quantity,
		Received: b.CountReceived, OnHand: b.CountOnHand,
	}
}

func batchEdit(p api.BatchPatch) func(*registry.Batch) error {
	return edit(func(b *registry.Batch) {
		setPointer(p.ProductId, &b.ProductID)
		setWord(p.Text, &b.Text)
		setDate(p.ExpiresOn, &b.ExpiresOn)
		setDate(p.ReceivedOn, &b.ReceivedOn)
		setWord(p.Quantity, &b.Quantity)
		setPointer(p.CountReceived, &b.Received)
		setPointer(p.CountOnHand, &b.OnHand)
		setDate(p.EndedOn, &b.EndedOn)
	})
}

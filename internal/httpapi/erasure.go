package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ErasePerson answers POST /v1/persons/{id}/erasure.
func (a *API) ErasePerson(ctx context.Context, r api.ErasePersonRequestObject) (api.ErasePersonResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	if err := a.service.ErasePerson(ctx, who, r.Id, r.Body.Reason); err != nil {
		return nil, err
	}
	return api.ErasePerson200JSONResponse{PersonId: r.Id, Text: wording.PersonErased}, nil
}

// EraseLandowner answers POST /v1/landowners/{id}/erasure.
func (a *API) EraseLandowner(ctx context.Context, r api.EraseLandownerRequestObject) (api.EraseLandownerResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	done, err := a.service.EraseLandowner(ctx, who, r.Id, r.Body.Reason)
	if err != nil {
		return nil, err
	}
	return api.EraseLandowner200JSONResponse{
		LandownerId: r.Id, Text: wording.LandownerErased(done),
		Parcels: len(done.Parcels), Agreements: len(done.Agreements), Restrictions: len(done.Restrictions),
	}, nil
}

// ListLegalHolds answers GET /v1/legal-holds.
func (a *API) ListLegalHolds(ctx context.Context, r api.ListLegalHoldsRequestObject) (api.ListLegalHoldsResponseObject, error) {
	id := func(h registry.LegalHold) uuid.UUID { return h.ID }
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, id, a.service.LegalHolds)
	return api.ListLegalHolds200JSONResponse{Items: each(items, legalHoldOut), NextCursor: next, Caution: wording.Caution}, err
}

// AddLegalHold answers POST /v1/legal-holds.
func (a *API) AddLegalHold(ctx context.Context, r api.AddLegalHoldRequestObject) (api.AddLegalHoldResponseObject, error) {
	x, _, err := add(ctx, a, legalHoldIn(*r.Body), a.service.AddLegalHold, legalHoldReply)
	return api.AddLegalHold200JSONResponse(x), err
}

// LiftLegalHold answers POST /v1/legal-holds/{id}/lift.
func (a *API) LiftLegalHold(ctx context.Context, r api.LiftLegalHoldRequestObject) (api.LiftLegalHoldResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.LiftLegalHold, legalHoldReply)
	return api.LiftLegalHold200JSONResponse(x), err
}

func legalHoldIn(b api.NewLegalHold) registry.LegalHold {
	return registry.LegalHold{ID: b.Id, Over: registry.HoldOver(b.Over), OverID: idIn(b.OverId), Reason: b.Reason, Until: dateIn(b.Until)}
}

func legalHoldOut(h registry.LegalHold) api.LegalHold {
	return api.LegalHold{
		Id: h.ID, Over: api.HoldOver(h.Over), OverId: idOut(h.OverID), Reason: h.Reason, Until: dateOut(h.Until), LiftedOn: dateOut(h.LiftedOn),
	}
}

func legalHoldReply(h registry.LegalHold) api.LegalHold {
	out := legalHoldOut(h)
	out.Caution = wording.Caution
	return out
}

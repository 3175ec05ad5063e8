package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListAgreements answers GET /v1/agreements.
func (a *API) ListAgreements(ctx context.Context, r api.ListAgreementsRequestObject) (api.ListAgreementsResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, agreementID, of(r.Params.LandownerId, a.service.Agreements))
	page := api.AgreementPageJSONResponse{Items: each(items, agreementOut), NextCursor: next, Caution: wording.Caution}
	return api.ListAgreements200JSONResponse{AgreementPageJSONResponse: page}, err
}

// AddAgreement answers POST /v1/agreements.
func (a *API) AddAgreement(ctx context.Context, r api.AddAgreementRequestObject) (api.AddAgreementResponseObject, error) {
	x, created, err := add(ctx, a, agreementIn(*r.Body), a.service.AddAgreement, agreementReply)
	if created {
		return api.AddAgreement201JSONResponse{Body: x.Body, Headers: api.AddAgreement201ResponseHeaders(x.Headers)}, err
	}
	return api.AddAgreement200JSONResponse{AgreementReplyJSONResponse: x}, err
}

// GetAgreement answers GET /v1/agreements/{id}.
func (a *API) GetAgreement(ctx context.Context, r api.GetAgreementRequestObject) (api.GetAgreementResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Agreement, agreementReply)
	return api.GetAgreement200JSONResponse{AgreementReplyJSONResponse: x}, err
}

// ChangeAgreement answers PATCH /v1/agreements/{id}.
func (a *API) ChangeAgreement(ctx context.Context, r api.ChangeAgreementRequestObject) (api.ChangeAgreementResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, agreementEdit(*r.Body), a.service.ChangeAgreement, agreementReply)
	return api.ChangeAgreement200JSONResponse{AgreementReplyJSONResponse: x}, err
}

func agreementID(x registry.Agreement) uuid.UUID { return x.ID }

func agreementReply(x registry.Agreement) api.AgreementReplyJSONResponse {
	out := agreementOut(x)
	out.Caution = wording.Caution
	return api.AgreementReplyJSONResponse{Body: out, Headers: api.AgreementReplyResponseHeaders{ETag: etag(x.Version)}}
}

func agreementOut(x registry.Agreement) api.Agreement {
	return api.Agreement{
		Id: x.ID, Version: x.Version, LandownerId: idOut(x.LandownerID), Kind: api.AgreementKind(x.Kind),
		Issuer: x.Issuer, Conditions: x.Conditions, From: dateOut(x.From), Until: dateOut(x.Until),
	}
}

func agreementIn(b api.NewAgreement) registry.Agreement {
	return registry.Agreement{
		ID: b.Id, LandownerID: idIn(b.LandownerId), Kind: registry.AgreementKind(b.Kind),
		Issuer: b.Issuer, Conditions: b.Conditions, From: dateIn(b.From), Until: dateIn(b.Until),
	}
}

func agreementEdit(p api.AgreementPatch) func(*registry.Agreement) error {
	return edit(func(x *registry.Agreement) {
		setPointer(p.LandownerId, &x.LandownerID)
		setWord(p.Kind, &x.Kind)
		setWord(p.Issuer, &x.Issuer)
		setWord(p.Conditions, &x.Conditions)
		setDate(p.From, &x.From)
		setDate(p.Until, &x.Until)
	})
}

package httpapi

import (
	"context"
	"encoding/base64"
	"fmt"

	"rockledger/api"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListSeals answers GET /v1/ledger/seals.
func (a *API) ListSeals(ctx context.Context, r api.ListSealsRequestObject) (api.ListSealsResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	p, err := sealPage(r.Params.Limit, r.Params.Cursor)
	if err != nil {
		return nil, err
	}
	seals, lag, err := a.service.Seals(ctx, who, p)
	if err != nil {
		return nil, err
	}
	out := api.SealList{Items: each(seals, sealOut), Unsealed: lag.Entries}
	if lag.Since != nil {
		out.UnsealedSince = *lag.Since
	}
	if n := len(seals); n == p.Limit {
		out.NextCursor = sealCursor(seals[n-1])
	}
	return api.ListSeals200JSONResponse(out), nil
}

// VerifyLedger answers GET /v1/ledger/verify.
func (a *API) VerifyLedger(ctx context.Context, r api.VerifyLedgerRequestObject) (api.VerifyLedgerResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	check, err := a.service.VerifyLedger(ctx, who, r.Params.Seal)
	if err != nil {
		return nil, err
	}
	return api.VerifyLedger200JSONResponse(LedgerCheckDocument(check)), nil
}

// LedgerCheckDocument is what verifying a ledger is answered with.
func LedgerCheckDocument(c registry.LedgerCheck) api.LedgerCheck {
	out := api.LedgerCheck{
		Ok: c.OK(), Seals: c.Seals, Rows: c.Entries, Unsealed: c.Unsealed, Faults: each(c.Faults, ledgerFaultOut),
		LeftOut: c.LeftOut, NotCovered: registry.NotProved(), SealMissing: c.Asked != "" && c.Found == nil,
	}
	if c.Found != nil {
		out.Seal = sealOut(*c.Found)
	}
	return out
}

func ledgerFaultOut(f registry.LedgerFault) api.LedgerFault {
	return api.LedgerFault{
		Trouble: api.LedgerTrouble(f.Trouble), Table: f.Noun, RowId: idOut(f.RowID), Entry: f.Entry, Fields: f.Fields,
		Era: f.Era, Number: f.Number, Text: wording.LedgerFault(f),
	}
}

func sealOut(s registry.Seal) api.Seal {
	return api.Seal{Era: s.Era, Number: s.Number, At: s.At, Rows: s.Entries, Hash: s.Hash, Previous: s.Previous}
}

// sealPage reads limit and cursor, which is era and number of the last seal of
// the page before, in base64url; what cannot be one is fault.Invalid, field
// "cursor".
func sealPage(limit int, cursor string) (registry.SealPage, error) {
	p := registry.SealPage{Limit: limit}
	if limit == 0 {
		p.Limit = defaultLimit
	}
	if cursor == "" {
		return p, nil
	}
	raw, err := base64.RawURLEncoding.DecodeString(cursor)
	if err != nil {
		return p, reject("cursor", fault.Malformed)
	}
	if n, err := fmt.Sscanf(string(raw), "%d.%d", &p.Era, &p.Number); err != nil || n != 2 || p.Era < 1 || p.Era > maxInt4 || p.Number < 1 || p.Number > maxInt4 {
		return p, reject("cursor", fault.Malformed)
	}
	return p, nil
}

// maxInt4 is the most that the database's integer holds.
const maxInt4 = 1<<31 - 1

func sealCursor(s registry.Seal) string {
	return base64.RawURLEncoding.EncodeToString(fmt.Appendf(nil, "%d.%d", s.Era, s.Number))
}

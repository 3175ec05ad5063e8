package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// handIn answers a long list: it waits to be entered.
func (a *API) handIn(ctx context.Context, who registry.Actor, list registry.List) (api.ImportListResponseObject, error) {
	state, err := a.service.HandIn(ctx, who, list)
	if err != nil {
		return nil, err
	}
	return api.ImportList202JSONResponse{
		Body:    stateOut(state),
		Headers: api.ImportList202ResponseHeaders{Location: "/v1/imports/" + state.ID.String()},
	}, nil
}

// GetImport answers GET /v1/imports/{id}.
func (a *API) GetImport(ctx context.Context, r api.GetImportRequestObject) (api.GetImportResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	state, err := a.service.ImportState(ctx, who, r.Id)
	if err != nil {
		return nil, err
	}
	out := stateOut(state)
	out.Report = ImportDocument(state.Report)
	return api.GetImport200JSONResponse(out), nil
}

// ListImports answers GET /v1/imports.
func (a *API) ListImports(ctx context.Context, _ api.ListImportsRequestObject) (api.ListImportsResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	all, err := a.service.Imports(ctx, who)
	if err != nil {
		return nil, err
	}
	return api.ListImports200JSONResponse{Items: each(all, stateOut), Caution: wording.Caution}, nil
}

// stateOut is how far a list is, without its report.
func stateOut(s report.ImportState) api.ImportState {
	return api.ImportState{
		Id: s.ID, State: api.ImportStateState(s.State), Text: wording.ImportStateWords(s.State, s.Report.Entered+s.Report.Changed), Code: s.Code,
		FileName: s.FileName, At: s.At, Rows: s.Rows, RowsDone: s.RowsDone,
		Entered: s.Report.Entered, Changed: s.Report.Changed, Refused: s.Report.Refused, Unchanged: s.Report.Unchanged,
		Caution: wording.Caution,
	}
}

// totalsOut is the zero value, which is left out, for none.
func totalsOut(t *report.Totals) api.ImportTotals {
	if t == nil {
		return api.ImportTotals{}
	}
	return api.ImportTotals{
		Doubts: t.Doubts, Refusals: t.Refusals, DuplicateRows: t.DuplicateRows, ChangedCells: t.ChangedCells,
		ClashingCells: t.ClashingCells, DoubtCodes: t.DoubtCodes, RefusalCodes: t.RefusalCodes,
	}
}

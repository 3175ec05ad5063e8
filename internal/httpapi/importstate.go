package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// handIn answers a long list: it waits to be entered, or to be tried.
func (a *API) handIn(ctx context.Context, who registry.Actor, list registry.List, dryRun bool) (api.ImportListResponseObject, error) {
	var state report.ImportState
	var err error
	if dryRun {
		state, err = a.service.HandInTrial(ctx, who, list, false)
	} else {
		state, err = a.service.HandIn(ctx, who, list)
	}
	if err != nil {
		return nil, err
	}
	return api.ImportList202JSONResponse{
		Body:    stateOut(state),
		Headers: api.ImportList202ResponseHeaders{Location: importAt(state)},
	}, nil
}

// importAt is where to ask for a list's state.
func importAt(s report.ImportState) string { return "/v1/imports/" + s.ID.String() }

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
	if state.Undone != nil {
		out.Undone = UndoneDocument(*state.Undone)
	}
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
	out := api.ImportState{
		Id: s.ID, State: api.ImportStateState(s.State), DryRun: s.Trial, Code: s.Code,
		Text:     wording.ImportStateWords(s.State, s.Trial, s.Report.Entered+s.Report.Changed),
		FileName: s.FileName, At: s.At, Rows: s.Rows, RowsDone: s.RowsDone,
		Entered: s.Report.Entered, Changed: s.Report.Changed, Refused: s.Report.Refused, Unchanged: s.Report.Unchanged,
		Caution: wording.Caution,
	}
	if s.UndoAt != nil {
		out.UndoAskedAt = *s.UndoAt
	}
	if w := s.InTheWay; w != nil {
		out.InTheWay = api.ImportInTheWay{
			Code: api.Code(w.Code), Text: wording.Fault(w.Code, w.Values), Violations: each(w.Violations, violationOut),
		}
	}
	return out
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

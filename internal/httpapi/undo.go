package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// UndoImport answers POST /v1/imports/{id}/undo.
func (a *API) UndoImport(ctx context.Context, r api.UndoImportRequestObject) (api.UndoImportResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	done, waits, err := a.service.UndoImport(ctx, who, r.Id)
	if err != nil {
		return nil, err
	}
	if waits != nil {
		return api.UndoImport202JSONResponse{
			Body:    stateOut(*waits),
			Headers: api.UndoImport202ResponseHeaders{Location: importAt(*waits)},
		}, nil
	}
	return api.UndoImport200JSONResponse(UndoneDocument(done)), nil
}

// UndoneDocument is what an undone import is answered with.
func UndoneDocument(u report.Undone) api.ImportUndone {
	return api.ImportUndone{
		ImportId: u.ImportID, FileName: u.FileName, Anchors: u.Anchors, Records: u.Records, Places: u.Places,
		Text:    wording.ImportUndone(u.FileName, u.Anchors, u.Records, u.Places),
		Caution: wording.Caution,
	}
}

package httpapi

import (
	"bufio"
	"context"
	"io"
	"net/http"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
)

// ExportAnchorList answers GET /v1/exports/anchor-list.
func (a *API) ExportAnchorList(ctx context.Context, r api.ExportAnchorListRequestObject) (api.ExportAnchorListResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	ask := registry.ListAsk{Own: r.Params.Headings == api.ExportAnchorListParamsHeadingsOwn}
	if r.Params.ImportId != uuid.Nil {
		ask.ImportID = &r.Params.ImportId
		ask.Own = ask.Own || r.Params.Headings == ""
	}
	return listStream(func(w io.Writer) error {
		return a.service.ExportAnchorList(ctx, who, ask, exchange.NewListWriter(w, a.service.AsOf(who)))
	}), nil
}

// listStream writes a list while it is read, so that it need not fit into
// memory.
type listStream func(io.Writer) error

// listBuffer is how much of a list is held back, so that what goes wrong before
// that is still answered as a problem. What goes wrong later cuts the answer.
const listBuffer = 64 << 10

// VisitExportAnchorListResponse writes the answer.
func (s listStream) VisitExportAnchorListResponse(w http.ResponseWriter) error {
	w.Header().Set("Content-Type", typeCSV+"; charset=utf-8")
	w.Header().Set("Content-Disposition", `attachment; filename="anchor-list.csv"`)
	out := bufio.NewWriterSize(w, listBuffer)
	if err := s(out); err != nil {
		w.Header().Del("Content-Disposition")
		w.Header().Del("Content-Type")
		return err
	}
	return out.Flush()
}

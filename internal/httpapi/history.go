package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListHistory answers GET /v1/anchors/{id}/history.
func (a *API) ListHistory(ctx context.Context, r api.ListHistoryRequestObject) (api.ListHistoryResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.History, historyReply)
	return api.ListHistory200JSONResponse{HistoryReplyJSONResponse: x}, err
}

func historyReply(s registry.AnchorStory) api.HistoryReplyJSONResponse {
	return api.HistoryReplyJSONResponse{Items: each(wording.History(s), historyLineOut), Caution: wording.Caution}
}

func historyLineOut(l wording.HistoryLine) api.HistoryLine {
	return api.HistoryLine{At: l.At.UTC(), On: spanOut(l.On), Text: l.Words}
}

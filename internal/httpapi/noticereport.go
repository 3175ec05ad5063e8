package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// PreviewNotice answers POST /v1/notices/preview.
func (a *API) PreviewNotice(ctx context.Context, r api.PreviewNoticeRequestObject) (api.PreviewNoticeResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	made, err := a.service.PreviewNotice(ctx, who, noticeIn(*r.Body))
	if err != nil {
		return nil, err
	}
	return api.PreviewNotice200JSONResponse{
		Heading: headingOut(made.Heading), Living: made.Living, SharePct: made.SharePct(), Sure: made.ByHit[registry.HitSure],
		Named: made.ByHit[registry.HitNamed], Possible: made.ByHit[registry.HitPossible], Lines: each(made.Lines, noticeLineOut),
		Caution: wording.Caution,
	}, nil
}

// GetNoticeProgress answers GET /v1/notices/{id}/progress.
func (a *API) GetNoticeProgress(ctx context.Context, r api.GetNoticeProgressRequestObject) (api.GetNoticeProgressResponseObject, error) {
	var made report.Notice
	lines, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, noticeLineID,
		func(ctx context.Context, who registry.Actor, page registry.Page) ([]registry.NoticeLine, error) {
			var err error
			made, err = a.service.NoticeProgress(ctx, who, r.Id, page)
			return made.Lines, err
		})
	if err != nil {
		return nil, err
	}
	out := api.NoticeProgressReport{
		Heading: headingOut(made.Heading), Notice: noticeOut(made.Notice), Living: made.Living, SharePct: made.SharePct(),
		Sure: made.ByHit[registry.HitSure], Named: made.ByHit[registry.HitNamed], Possible: made.ByHit[registry.HitPossible],
		Items: each(lines, noticeLineOut), NextCursor: next, Caution: wording.Caution,
	}
	for _, p := range registry.NoticeProgresses() {
		if n := made.ByProgress[p]; n > 0 {
			out.Progress = append(out.Progress, api.NoticeProgressCount{Progress: api.NoticeProgress(p), Count: n})
		}
	}
	return api.GetNoticeProgress200JSONResponse(out), nil
}

func noticeLineID(l registry.NoticeLine) uuid.UUID { return l.AnchorID }

func noticeLineOut(l registry.NoticeLine) api.NoticeLine {
	return api.NoticeLine{Hit: api.NoticeHit(l.Hit), Progress: api.NoticeProgress(l.Progress), Line: reportLineOut(l.Line)}
}

// TraceBatch answers GET /v1/batches/{id}/trace.
func (a *API) TraceBatch(ctx context.Context, r api.TraceBatchRequestObject) (api.TraceBatchResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	made, err := a.service.TraceBatch(ctx, who, r.Id)
	if err != nil {
		return nil, err
	}
	return api.TraceBatch200JSONResponse(TraceDocument(made)), nil
}

// TraceDocument is the trace as the API answers it.
func TraceDocument(t report.Trace) api.BatchTrace {
	return api.BatchTrace{
		Heading: headingOut(t.Heading), Batch: batchOut(t.Batch), Product: t.Product, Lines: each(t.Lines, traceLineOut),
		Possible: len(t.Possible), Sessions: each(t.Sessions, sessionOut), Caution: wording.Caution,
	}
}

func traceLineOut(l registry.TraceLine) api.TraceLine {
	return api.TraceLine{Line: reportLineOut(l.Line), SessionIds: each(l.SessionIDs, sameID)}
}

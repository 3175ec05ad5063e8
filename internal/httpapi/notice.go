package httpapi

import (
	"context"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// ListNotices answers GET /v1/notices.
func (a *API) ListNotices(ctx context.Context, r api.ListNoticesRequestObject) (api.ListNoticesResponseObject, error) {
	items, next, err := list(ctx, a, r.Params.Limit, r.Params.Cursor, noticeID, a.service.Notices)
	page := api.NoticePageJSONResponse{Items: each(items, noticeOut), NextCursor: next, Caution: wording.Caution}
	return api.ListNotices200JSONResponse{NoticePageJSONResponse: page}, err
}

// AddNotice answers POST /v1/notices.
func (a *API) AddNotice(ctx context.Context, r api.AddNoticeRequestObject) (api.AddNoticeResponseObject, error) {
	x, created, err := add(ctx, a, noticeIn(*r.Body), a.service.AddNotice, noticeReply)
	if created {
		return api.AddNotice201JSONResponse{Body: x.Body, Headers: api.AddNotice201ResponseHeaders(x.Headers)}, err
	}
	return api.AddNotice200JSONResponse{NoticeReplyJSONResponse: x}, err
}

// GetNotice answers GET /v1/notices/{id}.
func (a *API) GetNotice(ctx context.Context, r api.GetNoticeRequestObject) (api.GetNoticeResponseObject, error) {
	x, err := get(ctx, a, r.Id, a.service.Notice, noticeReply)
	return api.GetNotice200JSONResponse{NoticeReplyJSONResponse: x}, err
}

// ChangeNotice answers PATCH /v1/notices/{id}.
func (a *API) ChangeNotice(ctx context.Context, r api.ChangeNoticeRequestObject) (api.ChangeNoticeResponseObject, error) {
	x, err := change(ctx, a, read{r.Id, r.Params.IfMatch}, noticeEdit(*r.Body), a.service.ChangeNotice, noticeReply)
	return api.ChangeNotice200JSONResponse{NoticeReplyJSONResponse: x}, err
}

func noticeID(n registry.Notice) uuid.UUID { return n.ID }

func noticeReply(n registry.Notice) api.NoticeReplyJSONResponse {
	return api.NoticeReplyJSONResponse{Body: api.NoticeAnswer{Notice: noticeOut(n), Caution: wording.Caution}, Headers: api.NoticeReplyResponseHeaders{ETag: etag(n.Version)}}
}

func noticeOut(n registry.Notice) api.Notice {
	return api.Notice{
		Id: n.ID, Version: n.Version, Title: n.Title, Words: n.Words, IssuedOn: dateOut(n.IssuedOn),
		InspectBy: dateOut(n.InspectBy), AnchorIds: each(n.AnchorIDs, sameID), EndedOn: dateOut(n.EndedOn),
	}
}

func noticeIn(b api.NewNotice) registry.Notice {
	return registry.Notice{
		ID: b.Id, Title: b.Title, Words: b.Words, IssuedOn: dateIn(b.IssuedOn), InspectBy: dateIn(b.InspectBy),
		AnchorIDs: b.AnchorIds,
	}
}

func noticeEdit(p api.NoticePatch) func(*registry.Notice) error {
	return edit(func(n *registry.Notice) {
		setWord(p.Title, &n.Title)
		setWord(p.Words, &n.Words)
		setDate(p.IssuedOn, &n.IssuedOn)
		setDate(p.InspectBy, &n.InspectBy)
		set(p.AnchorIds, &n.AnchorIDs)
		setDate(p.EndedOn, &n.EndedOn)
	})
}

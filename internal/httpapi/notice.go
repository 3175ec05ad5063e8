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
		InspectBy: dateOut(n.InspectBy), AnchorIds: each(n.AnchorIDs, sameID), Criterion: criterionOut(n.Criterion),
		EndedOn: dateOut(n.EndedOn), EndedReason: n.EndedReason,
	}
}

// criterionOut leaves out what is not given; without anything there is none.
func criterionOut(c registry.NoticeCriterion) api.NoticeCriterion {
	return api.NoticeCriterion{
		ProductIds: c.ProductIDs, BatchIds: c.BatchIDs, SetterIds: c.SetterIDs, SiteIds: c.SiteIDs,
		Rocks: eachOrNone(c.Rocks, func(r registry.RockClass) api.RockClass { return api.RockClass(r) }), SetFrom: dateOut(c.From), SetTo: dateOut(c.To),
	}
}

func criterionIn(c api.NoticeCriterion) registry.NoticeCriterion {
	return registry.NoticeCriterion{
		ProductIDs: c.ProductIds, BatchIDs: c.BatchIds, SetterIDs: c.SetterIds, SiteIDs: c.SiteIds,
		Rocks: eachOrNone(c.Rocks, func(r api.RockClass) registry.RockClass { return registry.RockClass(r) }), From: dateIn(c.SetFrom), To: dateIn(c.SetTo),
	}
}

// eachOrNone is each, but nil for none.
func eachOrNone[A, B any](list []A, convert func(A) B) []B {
	if len(list) == 0 {
		return nil
	}
	return each(list, convert)
}

func noticeIn(b api.NewNotice) registry.Notice {
	return registry.Notice{
		ID: b.Id, Title: b.Title, Words: b.Words, IssuedOn: dateIn(b.IssuedOn), InspectBy: dateIn(b.InspectBy),
		AnchorIDs: b.AnchorIds, Criterion: criterionIn(b.Criterion),
	}
}

func noticeEdit(p api.NoticePatch) func(*registry.Notice) error {
	return edit(func(n *registry.Notice) {
		setWord(p.Title, &n.Title)
		setWord(p.Words, &n.Words)
		setDate(p.IssuedOn, &n.IssuedOn)
		setDate(p.InspectBy, &n.InspectBy)
		set(p.AnchorIds, &n.AnchorIDs)
		setWith(p.Criterion, func(c api.NoticeCriterion) { n.Criterion = criterionIn(c) })
		setDate(p.EndedOn, &n.EndedOn)
		setWord(p.EndedReason, &n.EndedReason)
	})
}

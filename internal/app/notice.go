package app

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// previewLines is how many anchors of each hit a preview shows.
const previewLines = 50

// PreviewNotice says what a notice would be about, without issuing it: how many
// anchors of each hit, their share of those in the rock, and the first of each.
// What is wrong with the notice is fault.Invalid.
func (s *Service) PreviewNotice(ctx context.Context, who registry.Actor, n registry.Notice) (report.Notice, error) {
	if err := may(who, PreviewNotice); err != nil {
		return report.Notice{}, err
	}
	n.ID, n.Version = uuid.Nil, 0
	notices.settle(&n)
	d := s.newDesk(ctx, who)
	notices.check(d, nil, &n)
	if err := d.Err(); err != nil {
		return report.Notice{}, fmt.Errorf("preview notice: %w", err)
	}
	r, err := s.noticeReport(ctx, who, n, func(list []registry.NoticeAnchor) []registry.NoticeAnchor {
		var out []registry.NoticeAnchor
		for _, hit := range slices.Backward(registry.NoticeHits()) {
			of := slices.DeleteFunc(slices.Clone(list), func(a registry.NoticeAnchor) bool { return a.Hit != hit })
			out = append(out, of[:min(len(of), previewLines)]...)
		}
		return out
	})
	if err != nil {
		return r, fmt.Errorf("preview notice: %w", err)
	}
	return r, nil
}

// NoticeProgress says how far a notice has come, with a page of the anchors that
// it is about; an id that is not there is fault.NotFound. What waits to be
// assessed is assessed first, so that late records are counted.
func (s *Service) NoticeProgress(ctx context.Context, who registry.Actor, id uuid.UUID, page registry.Page) (report.Notice, error) {
	if err := may(who, GetNoticeProgress); err != nil {
		return report.Notice{}, err
	}
	r, err := s.noticeProgress(ctx, who, id, bounded(page))
	if err != nil {
		return r, fmt.Errorf("progress of notice %v: %w", id, err)
	}
	return r, nil
}

func (s *Service) noticeProgress(ctx context.Context, who registry.Actor, id uuid.UUID, page registry.Page) (report.Notice, error) {
	n, err := s.store.Notice(ctx, who.GroupID, id)
	if err != nil {
		return report.Notice{}, err
	}
	if err := s.refreshGroup(ctx, who); err != nil {
		return report.Notice{}, err
	}
	return s.noticeReport(ctx, who, n, func(list []registry.NoticeAnchor) []registry.NoticeAnchor {
		at, _ := slices.BinarySearchFunc(list, page.After, func(a registry.NoticeAnchor, after uuid.UUID) int {
			if slices.Compare(a.AnchorID[:], after[:]) <= 0 {
				return -1
			}
			return 1
		})
		return list[at:min(len(list), at+page.Limit)]
	})
}

// noticeReport reports what a notice is about, with the lines that are chosen.
func (s *Service) noticeReport(ctx context.Context, who registry.Actor, n registry.Notice,
	choose func([]registry.NoticeAnchor) []registry.NoticeAnchor,
) (report.Notice, error) {
	h, _, err := s.heading(ctx, who, calendar.Date(0))
	if err != nil {
		return report.Notice{}, err
	}
	reach, err := s.store.NoticeReach(ctx, who.GroupID, n)
	if err != nil {
		return report.Notice{}, err
	}
	r := report.Notice{
		Heading: h, Notice: n, Living: reach.Living,
		ByHit: make(map[registry.NoticeHit]int), ByProgress: make(map[registry.NoticeProgress]int),
	}
	for i := range reach.Anchors {
		r.ByHit[reach.Anchors[i].Hit]++
		if p := reach.Anchors[i].Progress; p != "" {
			r.ByProgress[p]++
		}
	}
	r.Lines, err = s.noticeLines(ctx, who, choose(reach.Anchors))
	return r, err
}

// noticeLines adds the lines of anchors, in their order.
func (s *Service) noticeLines(ctx context.Context, who registry.Actor, list []registry.NoticeAnchor) ([]registry.NoticeLine, error) {
	wanted := make([]uuid.UUID, len(list))
	for i := range list {
		wanted[i] = list[i].AnchorID
	}
	lines, err := s.store.ReportLines(ctx, who.GroupID, wanted)
	if err != nil {
		return nil, err
	}
	byAnchor := make(map[uuid.UUID]*registry.ReportLine, len(lines))
	for i := range lines {
		byAnchor[lines[i].Assessment.AnchorID] = &lines[i]
	}
	var out []registry.NoticeLine
	for i := range list {
		if l := byAnchor[list[i].AnchorID]; l != nil {
			out = append(out, registry.NoticeLine{NoticeAnchor: list[i], Line: *l})
		}
	}
	return out, nil
}

// TraceBatch says where a batch went: the anchors set with it, removed ones too,
// with place, standing and whose land it is, those that may have been, and the
// gluing sessions. A batch that is not there is fault.NotFound.
func (s *Service) TraceBatch(ctx context.Context, who registry.Actor, id uuid.UUID) (report.Trace, error) {
	if err := may(who, TraceBatch); err != nil {
		return report.Trace{}, err
	}
	t, err := s.trace(ctx, who, id)
	if err != nil {
		return t, fmt.Errorf("trace batch %v: %w", id, err)
	}
	return t, nil
}

func (s *Service) trace(ctx context.Context, who registry.Actor, id uuid.UUID) (report.Trace, error) {
	h, _, err := s.heading(ctx, who, calendar.Date(0))
	if err != nil {
		return report.Trace{}, err
	}
	if err := s.refreshGroup(ctx, who); err != nil {
		return report.Trace{}, err
	}
	t := report.Trace{Heading: h}
	if t.BatchTrace, err = s.store.BatchTrace(ctx, who.GroupID, id); err != nil {
		return t, err
	}
	if p := t.Batch.ProductID; p != nil {
		product, err := s.store.Product(ctx, who.GroupID, *p)
		if err != nil {
			return t, err
		}
		t.Product = product.Name
	}
	t.MayBe, err = s.store.ReportLines(ctx, who.GroupID, t.Possible[:min(len(t.Possible), report.MostMayBe)])
	return t, err
}

package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// RecordMaintenance answers POST /v1/anchors/{id}/maintenance.
func (a *API) RecordMaintenance(ctx context.Context, r api.RecordMaintenanceRequestObject) (api.RecordMaintenanceResponseObject, error) {
	b := *r.Body
	rec, err := recordIn(r.Id, api.NewFirstUse{
		Id: b.Id, DoneOn: b.DoneOn, PersonId: b.PersonId, Words: b.Words, Replaces: b.Replaces,
	})
	if err != nil {
		return nil, err
	}
	n := registry.Maintenance{
		Record: rec, Done: wordsIn[registry.Upkeep](b.Done), FittingID: idIn(b.FittingId), TorqueNM: b.TorqueNm, TorqueTool: b.TorqueTool,
	}
	x, created, err := add(ctx, a, n, func(ctx context.Context, who registry.Actor, n registry.Maintenance) (registry.Maintenance, bool, error) {
		return a.service.RecordMaintenance(ctx, who, n, hungIn(r.Id, b.NewFitting))
	}, maintenanceReply)
	if created {
		return api.RecordMaintenance201JSONResponse(x), err
	}
	return api.RecordMaintenance200JSONResponse{MaintenanceReplyJSONResponse: x}, err
}

// RecordMarking answers POST /v1/anchors/{id}/markings.
func (a *API) RecordMarking(ctx context.Context, r api.RecordMarkingRequestObject) (api.RecordMarkingResponseObject, error) {
	b := *r.Body
	rec, err := recordIn(r.Id, api.NewFirstUse{
		Id: b.Id, DoneOn: b.DoneOn, PersonId: b.PersonId, Words: b.Words, Replaces: b.Replaces,
	})
	if err != nil {
		return nil, err
	}
	n := registry.Marking{Record: rec, How: wordsIn[registry.MarkingHow](b.How), Lifts: idIn(b.Lifts)}
	x, created, err := add(ctx, a, n, a.service.RecordMarking, markingReply)
	if created {
		return api.RecordMarking201JSONResponse(x), err
	}
	return api.RecordMarking200JSONResponse{MarkingReplyJSONResponse: x}, err
}

// RecordRemoval answers POST /v1/anchors/{id}/removals.
func (a *API) RecordRemoval(ctx context.Context, r api.RecordRemovalRequestObject) (api.RecordRemovalResponseObject, error) {
	b := *r.Body
	rec, err := recordIn(r.Id, api.NewFirstUse{
		Id: b.Id, DoneOn: b.DoneOn, PersonId: b.PersonId, Words: b.Words, Replaces: b.Replaces,
	})
	if err != nil {
		return nil, err
	}
	n := registry.Removal{
		Record: rec, How: registry.RemovalHow(b.How), Stub: lengthIn(b.StubMm), OldHole: registry.OldHole(b.OldHole),
		Observations: wordsIn[registry.Observation](b.Observations), MetalKept: b.MetalKept, MetalWhere: b.MetalWhere,
	}
	x, created, err := add(ctx, a, n, a.service.RecordRemoval, removalReply)
	if created {
		return api.RecordRemoval201JSONResponse(x), err
	}
	return api.RecordRemoval200JSONResponse{RemovalReplyJSONResponse: x}, err
}

// wordsIn turns the words of one list into those of another, nil for none.
func wordsIn[T, F ~string](list []F) []T {
	var out []T
	for _, v := range list {
		out = append(out, T(v))
	}
	return out
}

// hungIn reads what newly hangs on an anchor; nil: nothing.
func hungIn(anchor api.Id, b *api.NewFittingHung) *registry.Fitting {
	if b == nil {
		return nil
	}
	return &registry.Fitting{
		ID: b.Id, AnchorID: anchor, Kind: registry.FittingKind(b.Kind), Presence: registry.Present, Words: b.Text,
		Metal: metalIn(b.Metal), MetalWords: b.MetalText, New: lengthIn(b.NewSectionMm),
		ProductID: idIn(b.ProductId), BatchID: idIn(b.BatchId),
	}
}

func maintenanceReply(r registry.Maintenance) api.MaintenanceReplyJSONResponse {
	return api.MaintenanceReplyJSONResponse{Maintenance: maintenanceOut(r), Caution: wording.Caution}
}

func maintenanceOut(r registry.Maintenance) api.Maintenance {
	return api.Maintenance{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID),
		Done:      each(r.Done, func(u registry.Upkeep) api.Upkeep { return api.Upkeep(u) }),
		FittingId: idOut(r.FittingID), NewFittingId: idOut(r.NewFittingID), TorqueNm: r.TorqueNM, TorqueTool: r.TorqueTool,
		Words: r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

func markingReply(r registry.Marking) api.MarkingReplyJSONResponse {
	return api.MarkingReplyJSONResponse{Marking: markingOut(r), Caution: wording.Caution}
}

func markingOut(r registry.Marking) api.Marking {
	return api.Marking{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID),
		How:   each(r.How, func(h registry.MarkingHow) api.MarkingHow { return api.MarkingHow(h) }),
		Lifts: idOut(r.Lifts), Words: r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

func removalReply(r registry.Removal) api.RemovalReplyJSONResponse {
	return api.RemovalReplyJSONResponse{Removal: removalOut(r), Caution: wording.Caution}
}

func removalOut(r registry.Removal) api.Removal {
	return api.Removal{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID),
		How: api.RemovalHow(r.How), StubMm: lengthOut(r.Stub), OldHole: api.OldHole(r.OldHole),
		Observations: wordsIn[api.Observation](r.Observations), MetalKept: r.MetalKept, MetalWhere: r.MetalWhere,
		Words: r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

// marked says whether a marking of the anchor stands.
func marked(f registry.Facts) bool {
	now := f.Current()
	return now.Marked()
}

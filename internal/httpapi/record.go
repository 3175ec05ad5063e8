package httpapi

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// RecordInspection answers POST /v1/anchors/{id}/inspections.
func (a *API) RecordInspection(ctx context.Context, r api.RecordInspectionRequestObject) (api.RecordInspectionResponseObject, error) {
	in, err := inspectionIn(r.Id, *r.Body)
	if err != nil {
		return nil, err
	}
	stored, created, err := record(ctx, a, in, a.service.RecordInspection)
	if err != nil {
		return nil, err
	}
	answer := api.InspectionAnswer{Inspection: inspectionOut(stored), Caution: wording.Caution}
	if created {
		return api.RecordInspection201JSONResponse(answer), nil
	}
	return api.RecordInspection200JSONResponse(answer), nil
}

// RecordFirstUse answers POST /v1/anchors/{id}/first-uses.
func (a *API) RecordFirstUse(ctx context.Context, r api.RecordFirstUseRequestObject) (api.RecordFirstUseResponseObject, error) {
	rec, err := recordIn(r.Id, *r.Body)
	if err != nil {
		return nil, err
	}
	stored, created, err := record(ctx, a, registry.FirstUse{Record: rec, At: momentIn(r.Body.At), Sample: registry.SampleState(r.Body.Sample)}, a.service.RecordFirstUse)
	if err != nil {
		return nil, err
	}
	answer := api.FirstUseAnswer{FirstUse: firstUseOut(stored), Caution: wording.Caution}
	if created {
		return api.RecordFirstUse201JSONResponse(answer), nil
	}
	return api.RecordFirstUse200JSONResponse(answer), nil
}

// record hands one record of who is asking to its use case.
func record[R any](ctx context.Context, a *API, r R,
	store func(context.Context, registry.Actor, R) (R, bool, error),
) (stored R, created bool, err error) {
	who, err := a.who(ctx)
	if err != nil {
		return r, false, err
	}
	return store(ctx, who, r)
}

// recordIn reads what every record has in common. Without an id it gets a new
// one.
func recordIn(anchor uuid.UUID, b api.NewFirstUse) (registry.Record, error) {
	r := registry.Record{
		ID: b.Id, AnchorID: anchor, DoneOn: spanIn(b.DoneOn), PersonID: idIn(b.PersonId),
		Words: b.Words, Origin: registry.Recorded, Replaces: idIn(b.Replaces),
	}
	if r.ID == uuid.Nil {
		id, err := uuid.NewV7()
		if err != nil {
			return r, fmt.Errorf("make record id: %w", err)
		}
		r.ID = id
	}
	return r, nil
}

// inspectionIn takes an inspection handed in for one anchor as ticked for it,
// unless it says otherwise.
func inspectionIn(anchor uuid.UUID, b api.NewInspection) (registry.Inspection, error) {
	rec, err := recordIn(anchor, api.NewFirstUse{
		Id: b.Id, DoneOn: b.DoneOn, PersonId: b.PersonId, Words: b.Words, Replaces: b.Replaces,
	})
	in := registry.Inspection{
		Record: rec, Level: registry.Level(b.Level), Found: b.Found,
		Verdict: registry.Verdict(b.Verdict), InspectBy: dateIn(b.InspectBy),
		Ticked: b.Ticked == nil || *b.Ticked,
	}
	for _, o := range b.Observations {
		in.Observations = append(in.Observations, registry.Observation(o))
	}
	for _, m := range b.Measured {
		left := m.LeftMm
		in.Measured = append(in.Measured, registry.Measurement{
			FittingID: idIn(m.FittingId), Left: *lengthIn(&left), New: lengthIn(m.NewMm),
		})
	}
	return in, err
}

func inspectionOut(r registry.Inspection) api.Inspection {
	return api.Inspection{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID),
		Level: api.Level(r.Level), Found: r.Found,
		Observations: each(r.Observations, func(o registry.Observation) api.Observation { return api.Observation(o) }),
		Measured:     each(r.Measured, measurementOut),
		Verdict:      api.Verdict(r.Verdict), InspectBy: dateOut(r.InspectBy), Ticked: r.Ticked,
		Words: r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

func measurementOut(m registry.Measurement) api.Measurement {
	return api.Measurement{FittingId: idOut(m.FittingID), LeftMm: m.Left.Millimetres(), NewMm: lengthOut(m.New)}
}

func firstUseOut(r registry.FirstUse) api.FirstUse {
	return api.FirstUse{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID),
		At: momentOut(r.At), Sample: api.SampleState(r.Sample),
		Words: r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

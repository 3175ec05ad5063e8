package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// RecordInstallation answers POST /v1/anchors/{id}/installations.
func (a *API) RecordInstallation(ctx context.Context, r api.RecordInstallationRequestObject) (api.RecordInstallationResponseObject, error) {
	rec, err := recordIn(r.Id, api.NewFirstUse{
		Id: r.Body.Id, DoneOn: r.Body.DoneOn, PersonId: r.Body.PersonId, Words: r.Body.Words, Replaces: r.Body.Replaces,
	})
	if err != nil {
		return nil, err
	}
	stored, created, err := record(ctx, a, installationIn(rec, *r.Body), a.service.RecordInstallation)
	if err != nil {
		return nil, err
	}
	answer := api.InstallationAnswer{Installation: installationOut(stored), Caution: wording.Caution}
	if created {
		return api.RecordInstallation201JSONResponse(answer), nil
	}
	return api.RecordInstallation200JSONResponse(answer), nil
}

// installationIn reads an installation but for what it has in common with other
// records.
func installationIn(rec registry.Record, b api.NewInstallation) registry.Installation {
	return registry.Installation{
		Record: rec, SessionID: idIn(b.SessionId),
		Form: registry.Form(b.Form), HardwareID: idIn(b.HardwareId), HoleDiameter: lengthIn(b.HoleDiameterMm),
		HoleDepth: lengthIn(b.HoleDepthMm), CleaningCycles: b.CleaningCycles,
		Moisture: registry.Moisture(b.Moisture), SetAt: momentIn(b.SetAt), AdhesiveID: idIn(b.AdhesiveId),
		BatchID: idIn(b.BatchId), Rock: registry.RockClass(b.Rock), RockWords: b.RockWords,
		RockSound: registry.Sound(b.RockSound), CracksSeen: b.CracksSeen, EdgeDistance: lengthIn(b.EdgeDistanceMm),
		NeighbourDistance: lengthIn(b.NeighbourDistanceMm), AngleDeg: b.AngleDeg,
		Embedded: lengthIn(b.EmbeddedLengthMm), RecessCut: b.RecessCut, DryFit: b.DryFit, FromBottom: b.FromBottom,
		FillPct: b.FillPct, Turned: b.Turned, AsDrawn: b.AsDrawn, SurplusWiped: b.SurplusWiped,
		Hole: registry.HoleState(b.Hole), OldHoleDistance: lengthIn(b.OldHoleDistanceMm), TorqueNM: b.TorqueNm,
		TorqueTool: b.TorqueTool,
	}
}

// glued is an installation of a gluing session as one by itself.
func glued(b api.GluedInstallation) api.NewInstallation {
	return api.NewInstallation{
		Id: b.Id, DoneOn: b.DoneOn, PersonId: b.PersonId,
		Form: b.Form, HardwareId: b.HardwareId, HoleDiameterMm: b.HoleDiameterMm, HoleDepthMm: b.HoleDepthMm,
		CleaningCycles: b.CleaningCycles, Moisture: b.Moisture, SetAt: b.SetAt, AdhesiveId: b.AdhesiveId,
		BatchId: b.BatchId, Rock: b.Rock, RockWords: b.RockWords, RockSound: b.RockSound, CracksSeen: b.CracksSeen,
		EdgeDistanceMm: b.EdgeDistanceMm, NeighbourDistanceMm: b.NeighbourDistanceMm, AngleDeg: b.AngleDeg,
		EmbeddedLengthMm: b.EmbeddedLengthMm, RecessCut: b.RecessCut, DryFit: b.DryFit, FromBottom: b.FromBottom,
		FillPct: b.FillPct, Turned: b.Turned, AsDrawn: b.AsDrawn, SurplusWiped: b.SurplusWiped, Hole: b.Hole,
		OldHoleDistanceMm: b.OldHoleDistanceMm, TorqueNm: b.TorqueNm, TorqueTool: b.TorqueTool,
		Words: b.Words, Replaces: b.Replaces,
	}
}

func installationOut(r registry.Installation) api.Installation {
	return api.Installation{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID), SessionId: idOut(r.SessionID),
		Form: api.Form(r.Form), HardwareId: idOut(r.HardwareID), HoleDiameterMm: lengthOut(r.HoleDiameter),
		HoleDepthMm: lengthOut(r.HoleDepth), CleaningCycles: r.CleaningCycles, Moisture: api.Moisture(r.Moisture),
		SetAt: momentOut(r.SetAt), AdhesiveId: idOut(r.AdhesiveID), BatchId: idOut(r.BatchID),
		Rock: api.RockClass(r.Rock), RockWords: r.RockWords, RockSound: api.RockSound(r.RockSound),
		CracksSeen: r.CracksSeen, EdgeDistanceMm: lengthOut(r.EdgeDistance),
		NeighbourDistanceMm: lengthOut(r.NeighbourDistance), AngleDeg: r.AngleDeg,
		EmbeddedLengthMm: lengthOut(r.Embedded), RecessCut: r.RecessCut, DryFit: r.DryFit,
		FromBottom: r.FromBottom, FillPct: r.FillPct, Turned: r.Turned, AsDrawn: r.AsDrawn,
		SurplusWiped: r.SurplusWiped, Hole: api.HoleState(r.Hole), OldHoleDistanceMm: lengthOut(r.OldHoleDistance),
		TorqueNm: r.TorqueNM, TorqueTool: r.TorqueTool,
		Words: r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

// RecordCure answers POST /v1/anchors/{id}/cures.
func (a *API) RecordCure(ctx context.Context, r api.RecordCureRequestObject) (api.RecordCureResponseObject, error) {
	var read readings
	in, err := cureIn(&read, r)
	if err != nil {
		return nil, err
	}
	x, created, err := add(read.objecting(ctx), a, in, a.service.RecordCure, cureReply)
	if err := read.and(err); err != nil {
		return nil, err
	}
	if created {
		return api.RecordCure201JSONResponse(x), err
	}
	return api.RecordCure200JSONResponse{CureReplyJSONResponse: x}, err
}

func cureIn(read *readings, r api.RecordCureRequestObject) (registry.Cure, error) {
	b := r.Body
	rec, err := recordIn(r.Id, api.NewFirstUse{Id: b.Id, DoneOn: b.DoneOn, PersonId: b.PersonId, Words: b.Words, Replaces: b.Replaces})
	return registry.Cure{
		Record: rec, InstallationID: idIn(b.InstallationId), LowestC: read.in("lowest_c", b.LowestC, b.LowestHow),
		LabelWorkingMinutes: b.LabelWorkingMinutes, LabelCureMinutes: b.LabelCureMinutes, LabelC: temperatureIn(b.LabelC),
		LoadedAt: momentIn(b.LoadedAt),
	}, err
}

func cureReply(u registry.Cure) api.CureReplyJSONResponse {
	return api.CureReplyJSONResponse{Cure: cureOut(u), Caution: wording.Caution}
}

func cureOut(r registry.Cure) api.Cure {
	c, how := readingOut(r.LowestC)
	return api.Cure{
		Id: r.ID, AnchorId: r.AnchorID, DoneOn: spanOut(r.DoneOn), PersonId: idOut(r.PersonID),
		InstallationId: idOut(r.InstallationID), LowestC: c, LowestHow: how,
		LabelWorkingMinutes: r.LabelWorkingMinutes, LabelCureMinutes: r.LabelCureMinutes, LabelC: temperatureOut(r.LabelC),
		LoadedAt: momentOut(r.LoadedAt),
		Words:    r.Words, Origin: api.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: idOut(r.Replaces),
	}
}

package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// ReportLand answers GET /v1/reports/land.
func (a *API) ReportLand(ctx context.Context, r api.ReportLandRequestObject) (api.ReportLandResponseObject, error) {
	who, err := a.who(ctx)
	if err != nil {
		return nil, err
	}
	q := r.Params
	made, err := a.service.Land(ctx, who, idIn(q.LandownerId), dateIn(q.From), dateIn(q.To), q.Detail)
	if err != nil {
		return nil, err
	}
	if wantsCSV(ctx) {
		body, n, err := csv(made, exchange.WriteLandCSV)
		return api.ReportLand200TextcsvResponse{Body: body, ContentLength: n}, err
	}
	return api.ReportLand200JSONResponse(LandDocument(made)), nil
}

// LandDocument is the report as the API answers it.
func LandDocument(r report.Land) api.LandReport {
	out := api.LandReport{
		Heading: headingOut(r.Heading), From: dateOut(r.From), To: dateOut(r.To), Detail: r.Detail,
		Landowners: each(r.Owners, landOwnerOut), Caution: wording.Caution,
	}
	if r.Seal != nil {
		out.Seal = sealOut(*r.Seal)
	}
	return out
}

func landOwnerOut(o report.LandOwner) api.LandOwner {
	out := api.LandOwner{
		LandownerId: idOut(o.ID), Name: o.Name, Parcels: each(o.Parcels, landParcelOut), Anchors: o.Anchors,
		ByStanding: standingCounts(o.ByStanding), Problems: each(o.Problems, landProblemOut), Work: each(o.Work, landWorkOut),
		Agreements: each(o.Agreements, agreementOut), Restrictions: each(o.Restrictions, restrictionOut),
	}
	if len(o.Lines) > 0 {
		out.Lines = each(o.Lines, landLineOut)
	}
	return out
}

// landParcelOut leaves the outline out: it can be long, and nobody reads it in
// a report.
func landParcelOut(p registry.Parcel) api.LandParcel {
	return api.LandParcel{Id: p.ID, Name: p.Name, AreaM2: p.AreaM2}
}

// standingCounts lists the standings that there are, in their order.
func standingCounts(by map[registry.Standing]int) []api.StandingCount {
	out := []api.StandingCount{}
	for _, s := range registry.Standings() {
		if n := by[s]; n > 0 {
			out = append(out, api.StandingCount{Standing: api.Standing(s), Count: n})
		}
	}
	return out
}

func landProblemOut(p report.LandProblem) api.LandProblem {
	return api.LandProblem{
		Rule: p.Rule, Severity: api.Severity(p.Severity), Text: wording.Rule(p.Rule), Anchors: p.Anchors,
		Removed: p.Removed, Cleared: p.Cleared, Settled: p.Settled, OutOfUse: p.OutOfUse, Inspected: p.Inspected, Open: p.Open,
	}
}

func landWorkOut(w report.LandWork) api.LandWork {
	return api.LandWork{Kind: w.Kind, Count: w.Count, Text: wording.LandWork(w.Kind, w.Count)}
}

func landLineOut(l report.LandLine) api.LandLine {
	return api.LandLine{Line: reportLineOut(l.Line), Work: each(l.Work, landRecordOut)}
}

func landRecordOut(r registry.LandRecord) api.LandRecord {
	return api.LandRecord{
		RecordId: r.RecordID, Kind: r.Kind, DoneOn: spanOut(r.DoneOn), Verdict: api.Verdict(r.Verdict), Words: r.Words,
	}
}

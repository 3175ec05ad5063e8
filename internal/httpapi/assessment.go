package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// GetAssessment answers GET /v1/anchors/{id}/assessment.
func (a *API) GetAssessment(ctx context.Context, r api.GetAssessmentRequestObject) (api.GetAssessmentResponseObject, error) {
	s, err := one(ctx, a, r.Id, a.service.AnchorStory)
	if err != nil {
		return nil, err
	}
	due, err := a.dueLine(ctx, s)
	return api.GetAssessment200JSONResponse(assessmentOut(due, s.Facts.Inspections)), err
}

// dueLine is an anchor's assessment with what bars its due date.
func (a *API) dueLine(ctx context.Context, s registry.AnchorStory) (registry.ReportLine, error) {
	who, err := a.who(ctx)
	if err != nil {
		return registry.ReportLine{}, err
	}
	return a.service.DueLine(ctx, who, s)
}

func summaryOut(l registry.ReportLine, inspections []registry.Inspection) api.AssessmentSummary {
	x := l.Assessment
	return api.AssessmentSummary{
		AsOf:     dateOut(x.AsOf),
		Standing: api.Standing(x.Standing), StandingText: wording.StandingLine(x, inspections),
		DueOn: dateOut(x.DueOn), SoonestOn: dateOut(x.SoonestOn), DueState: api.DueState(x.DueState),
		Reason: wording.Reason(x),
		Band:   api.Band(x.Band), BandText: wording.Band(x),
		Restrictions: each(l.Restrictions, restrictionOut), LastOpenOn: dateOut(l.LastOpenDay),
	}
}

func assessmentOut(l registry.ReportLine, inspections []registry.Inspection) api.Assessment {
	x, s := l.Assessment, summaryOut(l, inspections)
	return api.Assessment{
		AnchorId: x.AnchorID, AsOf: s.AsOf,
		Standing: s.Standing, StandingText: s.StandingText,
		DueOn: s.DueOn, SoonestOn: s.SoonestOn, DueState: s.DueState,
		Reason: s.Reason, Band: s.Band, BandText: s.BandText,
		Restrictions: s.Restrictions, LastOpenOn: s.LastOpenOn,
		Findings:   each(x.Findings, findingOut),
		Candidates: each(x.Candidates, candidateOut),
		ValidUntil: dateOut(x.ValidUntil),
		Engine:     x.Engine, RulesVersion: x.RulesVersion,
		Caution: wording.Caution,
	}
}

func findingOut(f registry.Finding) api.Finding {
	return api.Finding{
		Rule: f.Rule, Severity: api.Severity(f.Severity), Values: valuesOut(f.Values), Source: f.Source,
		Text: wording.Finding(f), Settles: wording.Settles(f), RecordId: idOut(f.RecordID),
		SettledBy: idOut(f.SettledBy),
	}
}

func candidateOut(c registry.Candidate) api.Candidate {
	return api.Candidate{
		Rule: c.Rule, Factor: c.Factor, On: dateOut(c.On), Values: valuesOut(c.Values), Source: c.Source,
		Text: wording.Candidate(c),
	}
}

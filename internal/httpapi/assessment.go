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
	return api.GetAssessment200JSONResponse(assessmentOut(s.Assessment, s.Facts.Inspections)), nil
}

func summaryOut(x registry.Assessment, inspections []registry.Inspection) api.AssessmentSummary {
	return api.AssessmentSummary{
		AsOf:     dateOut(x.AsOf),
		Standing: api.Standing(x.Standing), StandingText: wording.StandingLine(x, inspections),
		DueOn: dateOut(x.DueOn), SoonestOn: dateOut(x.SoonestOn), DueState: api.DueState(x.DueState),
		Reason: wording.Reason(x),
		Band:   api.Band(x.Band), BandText: wording.Band(x),
	}
}

func assessmentOut(x registry.Assessment, inspections []registry.Inspection) api.Assessment {
	s := summaryOut(x, inspections)
	return api.Assessment{
		AnchorId: x.AnchorID, AsOf: s.AsOf,
		Standing: s.Standing, StandingText: s.StandingText,
		DueOn: s.DueOn, SoonestOn: s.SoonestOn, DueState: s.DueState,
		Reason: s.Reason, Band: s.Band, BandText: s.BandText,
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

package app

import (
	"context"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// recompute assesses the whole group anew as of asOf and returns the lines that
// wanted holds for. Nothing is stored.
func (s *Service) recompute(ctx context.Context, who registry.Actor, rules houserules.Rules, asOf calendar.Date,
	wanted func(*registry.Assessment) bool,
) ([]registry.ReportLine, error) {
	var out []registry.ReportLine
	err := s.store.EachFacts(ctx, who.GroupID, func(line registry.ReportLine, facts registry.Facts) error {
		past, set := facts.Current().Until(asOf)
		if !set || past.Anchor.Removed {
			return nil
		}
		if a := assess.Anchor(past, rules, asOf); wanted(&a) {
			out = append(out, withAssessment(line, past.Anchor, a))
		}
		return nil
	})
	return out, err
}

// withAssessment returns a line with what another assessment shows.
func withAssessment(line registry.ReportLine, anchor registry.Anchor, a registry.Assessment) registry.ReportLine {
	line.Assessment = a
	p := &line.Place
	p.Anchor, p.Standing, p.DueOn, p.DueState, p.Band = anchor, a.Standing, a.DueOn, a.DueState, a.Band
	return line
}

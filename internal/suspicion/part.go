package suspicion

import (
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/rule"
)

// fittings holds the rules against every fitting that hangs on the anchor.
func (j *judge) fittings() {
	for k := range j.facts.Fittings {
		f := &j.facts.Fittings[k]
		if !f.Hangs(j.asOf) {
			continue
		}
		o := &j.operands
		o.SetWord(rule.FittingKind, string(f.Kind))
		o.SetWord(rule.Presence, string(f.Presence))
		o.SetGrades(rule.FittingMetal, f.Metal)
		o.SetWord(rule.Couple, "")
		if k < len(j.exposure.Couples) {
			o.SetWord(rule.Couple, string(j.exposure.Couples[k]))
		}
		j.hold(rule.OfFitting, subject{part: f.ID}, nil)
	}
}

// eye stands for the anchor's eye among the parts.
var eye = uuid.Max

// wear holds the rules against the last reading of every measured point.
func (j *judge) wear() {
	for _, p := range houserules.WearPoints(j.facts, j.asOf) {
		j.fillWear(&p)
		about := subject{part: eye, inspection: p.Last.Inspection}
		if p.Fitting != nil {
			about.part = p.Fitting.ID
		}
		j.hold(rule.OfWear, about, nil)
	}
}

func (j *judge) fillWear(p *houserules.WearPoint) {
	o := &j.operands
	j.fillInspection(p.Last.Inspection)
	o.SetWord(rule.WearPoint, rule.Eye)
	if p.Fitting != nil {
		o.SetWord(rule.WearPoint, string(p.Fitting.Kind))
	}
	setLength(o, rule.Left, &p.Last.Left)
	o.SetNumber(rule.New, nil)
	setLength(o, rule.New, p.New)
	o.SetNumber(rule.LostPct, p.LostPct())
	share := func(v rule.Operand, s registry.Severity) {
		pct := float64(j.house.Wear[string(s)].Value)
		o.SetNumber(v, &pct)
	}
	share(rule.WornWatchPct, registry.Watch)
	share(rule.WornSuspectPct, registry.Suspect)
	share(rule.WornOutPct, registry.OutOfUse)
}

// events holds the rules against every event that still asks for an
// inspection.
func (j *judge) events() {
	for k := range j.facts.Events {
		e := &j.facts.Events[k]
		if !j.house.EventStands(j.facts, e, j.asOf) {
			continue
		}
		o := &j.operands
		o.SetWord(rule.EventKind, string(e.Kind))
		o.SetDate(rule.HappenedOn, e.HappenedOn)
		o.SetDate(rule.InspectBy, e.InspectBy)
		j.outstanding(rule.OfEvent, e.ID)
	}
}

// notices holds the rules against every notice that still asks for an
// inspection.
func (j *judge) notices() {
	for k := range j.facts.Notices {
		n := &j.facts.Notices[k]
		if !j.house.NoticeStands(j.facts, n, j.asOf) {
			continue
		}
		o := &j.operands
		o.SetWord(rule.NoticeTitle, n.Title)
		o.SetDate(rule.IssuedOn, n.IssuedOn)
		o.SetDate(rule.InspectBy, n.InspectBy)
		j.outstanding(rule.OfNotice, n.ID)
	}
}

// outstanding holds the rules of an event or notice and remembers whether all
// that they say is settled.
func (j *judge) outstanding(scope rule.Scope, id uuid.UUID) {
	j.hold(scope, subject{part: id}, nil)
	about := func(f registry.Finding) bool {
		return slices.ContainsFunc(j.book.rules[scope], func(r rule.Rule) bool {
			return r.ID == f.Rule && slices.Equal(r.Values(&j.operands), f.Values)
		})
	}
	found, open := false, false
	for _, f := range j.held.Findings {
		if about(f) {
			found, open = true, open || f.SettledBy == nil
		}
	}
	if found && !open {
		j.held.Settled = append(j.held.Settled, id)
	}
}

package suspicion

import (
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
		o.SetID(rule.FittingID, f.ID)
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

// wear holds the rules against every measured point. Its thinnest reading
// counts; a thicker one does only if it weighs more, as where the thinner was
// settled or is a list's.
func (j *judge) wear() {
	for _, p := range houserules.WearPoints(j.facts, j.asOf) {
		j.fillPoint(&p)
		about := subject{part: eye}
		if p.Fitting != nil {
			about.part = p.Fitting.ID
		}
		for k := range p.Readings {
			r := &p.Readings[k]
			about.inspection = r.Inspection
			j.fillInspection(r.Inspection)
			setLength(&j.operands, rule.Left, &r.Left)
			j.operands.SetNumber(rule.LostPct, p.LostPct(r.Left))
			weight := j.weight(about.part)
			j.hold(rule.OfWear, about, func(_ *rule.Rule, s registry.Severity) bool { return s.Rank() > weight })
		}
	}
}

// weight is the rank of the worst that is held against a part and not settled.
func (j *judge) weight(part uuid.UUID) int {
	worst := 0
	for k := range j.subjects {
		if j.subjects[k].part == part {
			worst = max(worst, j.held.Findings[k].Weighs().Rank())
		}
	}
	return worst
}

func (j *judge) fillPoint(p *houserules.WearPoint) {
	o := &j.operands
	o.SetWord(rule.WearPoint, rule.Eye)
	o.SetID(rule.FittingID, uuid.Nil)
	if p.Fitting != nil {
		o.SetWord(rule.WearPoint, string(p.Fitting.Kind))
		o.SetID(rule.FittingID, p.Fitting.ID)
	}
	o.SetNumber(rule.New, nil)
	setLength(o, rule.New, p.New)
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
		o.SetID(rule.EventID, e.ID)
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
		o.SetID(rule.NoticeID, n.ID)
		o.SetWord(rule.NoticeTitle, n.Title)
		o.SetWord(rule.NoticeHit, string(j.facts.HitBy(n)))
		o.SetDate(rule.IssuedOn, n.IssuedOn)
		o.SetDate(rule.InspectBy, n.InspectBy)
		j.outstanding(rule.OfNotice, n.ID)
	}
}

// outstanding holds the rules of an event or notice and remembers whether all
// that they say is settled.
func (j *judge) outstanding(scope rule.Scope, id uuid.UUID) {
	j.hold(scope, subject{part: id}, nil)
	found := false
	for k := range j.subjects {
		found = found || j.subjects[k].part == id
	}
	if found && j.weight(id) == 0 {
		j.held.Settled = append(j.held.Settled, id)
	}
}

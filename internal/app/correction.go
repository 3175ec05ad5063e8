package app

import (
	"slices"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// admitCorrection wants whoever corrects an inspection that condemns an anchor,
// or sends it to be repaired, to something milder to be a steward who names a
// person, and the person to have looked no less closely. Anything else may be
// corrected by whoever may record it.
func admitCorrection(at *scene, r *registry.Inspection) error {
	i := replacedBy(at.facts.Inspections, r)
	if i < 0 {
		return nil
	}
	old := &at.facts.Inspections[i]
	if !at.grave(old) || !at.milder(old, r) {
		return nil
	}
	if least := registry.RoleSteward; at.who.Role.Rank() < least.Rank() {
		return fault.New(fault.Forbidden, "a correction that lifts what inspection %v decided takes a %s", old.ID, least).
			With("operation", string(RecordInspection), "role", string(at.who.Role), "least", string(least), "lifts", "yes")
	}
	var c fault.Checks
	c.Require(r.PersonID != nil, "person_id", fault.Required, "lifts", "yes")
	c.Require(r.Level.Rank() >= old.Level.Rank(), "level", fault.Mismatch, "least_level", string(old.Level))
	c.Require(r.Ticked || !old.Ticked, "ticked", fault.Mismatch, "lifts", "yes")
	return c.Err()
}

// replacedBy finds the inspection that another replaces; -1 if there is none.
func replacedBy(list []registry.Inspection, r *registry.Inspection) int {
	return slices.IndexFunc(list, func(o registry.Inspection) bool { return r.Replaces != nil && o.ID == *r.Replaces })
}

// grave says whether an inspection condemns the anchor or sends it to be
// repaired.
func (at *scene) grave(i *registry.Inspection) bool {
	return verdictRank(i.Verdict) >= verdictRank(registry.Repair) || at.holds(i).Rank() >= registry.Suspect.Rank()
}

// milder says whether a correction holds less against the anchor than the
// inspection it replaces: by its verdict, by what it saw or measured, or because
// the anchor would stand better with it, as where it is of an earlier day that
// others have answered since.
func (at *scene) milder(old, r *registry.Inspection) bool {
	if verdictRank(r.Verdict) < verdictRank(old.Verdict) || at.holds(r).Rank() < at.holds(old).Rank() {
		return true
	}
	corrected := *at.facts
	corrected.Inspections = append(slices.Clone(corrected.Inspections), *r)
	before, after := assess.Anchor(at.facts.Current(), at.rules, at.asOf), assess.Anchor(corrected.Current(), at.rules, at.asOf)
	return weight(after) < weight(before)
}

// lifts says whether a fresh inspection takes something off the anchor that puts
// it out of use.
func (at *scene) lifts(r *registry.Inspection) bool {
	seen := *at.facts
	seen.Inspections = append(slices.Clone(seen.Inspections), *r)
	before, after := assess.Anchor(at.facts.Current(), at.rules, at.asOf), assess.Anchor(seen.Current(), at.rules, at.asOf)
	return weight(before) >= registry.OutOfUse.Rank() && weight(after) < registry.OutOfUse.Rank()
}

// weight is the rank of the worst finding that counts.
func weight(a registry.Assessment) int {
	worst := 0
	for i := range a.Findings {
		worst = max(worst, a.Findings[i].Weighs().Rank())
	}
	return worst
}

// holds is the worst that one inspection holds against the anchor, were it the
// only one and nothing settled.
func (at *scene) holds(i *registry.Inspection) registry.Severity {
	f := *at.facts
	f.Anchor.Removed, f.Anchor.RemovedOn = false, calendar.Span{}
	f.Inspections = []registry.Inspection{*i}
	f.Maintenance, f.Removals, f.Settlements, f.Retractions = nil, nil, nil, nil
	var worst registry.Severity
	for _, found := range assess.Anchor(f, at.rules, at.asOf).Findings {
		if sameID(found.RecordID, &i.ID) && found.Severity.Rank() > worst.Rank() {
			worst = found.Severity
		}
	}
	return worst
}

// verdictRank orders verdicts, mildest 1; 0 for none.
func verdictRank(v registry.Verdict) int { return slices.Index(registry.Verdicts(), v) + 1 }

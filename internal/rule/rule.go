// Package rule evaluates rules that are data: an id in words, a severity, a
// source, a condition over named operands with operators from a closed list,
// and the values to report. A report can print such a rule, a reviewer can read
// it, and any machine that reads JSON can run it.
//
//	{"id": "hole-too-narrow", "of": "anchor", "severity": "note",
//	 "source": "common practice, no source", "settles": "measure",
//	 "when": {"form": "glue-in-single-shank",
//	          "less": ["hole_diameter_mm", {"plus": ["shank_diameter_mm", 2]}]},
//	 "values": ["hole_diameter_mm", "shank_diameter_mm"]}
//
// Not known is not false: a comparison with an operand that is not known is
// itself not known, and a rule holds only where its condition is surely true.
// To hold something against what is not known, a rule asks "not_known".
//
// A rule about a record, fitting, event or notice reports its id ("record_id")
// among the values, so that an answer to one is none to another. A rule with
// "lasting": true holds whatever was inspected later.
//
// The package knows no sentences and gathers no facts.
package rule

import "rockledger/internal/registry"

// Scope is what a rule is about: it is evaluated once for each.
type Scope string

// The scopes.
const (
	OfAnchor      Scope = "anchor"
	OfObservation Scope = "observation" // one thing seen in one inspection
	OfVerdict     Scope = "verdict"     // of one inspection
	OfSearch      Scope = "search"      // an inspection that did not find the anchor
	OfFitting     Scope = "fitting"
	OfWear        Scope = "wear" // one measurement of a fitting, or of the eye
	OfEvent       Scope = "event"
	OfNotice      Scope = "notice"
	OfSetting     Scope = "setting" // an installation with its session, cure and sheets
)

// Scopes lists the scopes.
func Scopes() []Scope {
	return []Scope{OfAnchor, OfObservation, OfVerdict, OfSearch, OfFitting, OfWear, OfEvent, OfNotice, OfSetting}
}

// ByHouseRules stands in a rule's severity where the house rules set it.
const ByHouseRules = "house-rules"

// Rule is one rule, ready to evaluate. It is not changed after it was parsed.
type Rule struct {
	ID string
	Of Scope
	// Severity is blank where the house rules set it.
	Severity registry.Severity
	// Standing is forced while the rule holds; blank: as the severity says.
	Standing registry.Standing
	// Lasting says that no later inspection lifts the finding, whatever its
	// severity.
	Lasting bool
	Source  string
	Settles string // what would settle the finding, a word

	when   condition
	values []Operand
}

// Holds says whether the condition is surely true.
func (r *Rule) Holds(o *Operands) bool {
	parts, ok := r.when.(all)
	if !ok {
		return r.when.eval(o) == yes
	}
	for _, c := range parts {
		if c.eval(o) != yes {
			return false
		}
	}
	return true
}

// Values returns the values to report, in the rule's order, leaving out those
// that are not known.
func (r *Rule) Values(o *Operands) registry.Values {
	if len(r.values) == 0 {
		return nil
	}
	out := make(registry.Values, 0, len(r.values))
	for _, v := range r.values {
		if o.values[v].known {
			out = append(out, registry.Value{Name: v.String(), Text: o.text(v)})
		}
	}
	if len(out) == 0 {
		return nil
	}
	return out
}

// Package suspicion says what is held against one anchor on what is recorded:
// what was seen, what inspectors decided, and what nobody wrote down. Its rules
// are data (rules.json).
//
// It gives no dates, and a finding that is missing clears nothing.
package suspicion

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"
	"strings"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/rule"
)

//go:embed rules.json
var rulesJSON []byte

// Book is a set of rules, ready to be held against anchors.
type Book struct{ rules map[rule.Scope][]rule.Rule }

var shipped = mustLoad(rulesJSON)

func mustLoad(data []byte) *Book {
	b, err := Load(data)
	if err != nil {
		panic(fmt.Sprintf("rules of suspicion: %v", err))
	}
	return b
}

// Load reads rules as package rule does, with its errors.
func Load(data []byte) (*Book, error) {
	list, err := rule.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("load rules of suspicion: %w", err)
	}
	b := &Book{rules: make(map[rule.Scope][]rule.Rule)}
	for _, r := range list {
		b.rules[r.Of] = append(b.rules[r.Of], r)
	}
	return b, nil
}

// Shipped returns the rules that come with the program.
func Shipped() *Book { return shipped }

// Source returns the shipped rules as JSON. The slice is the caller's.
func Source() []byte { return slices.Clone(rulesJSON) }

// Held is what is held against one anchor.
type Held struct {
	// Findings has at most one for each rule, that of the latest record, worst
	// first and then by rule id.
	Findings []registry.Finding
	// Forced are the standings that findings force, whatever their severity,
	// in no order.
	Forced []registry.Standing
}

// Anchor holds the rules against one anchor. Records that others replace must
// have been left out (Facts.Current). The facts are not modified.
//
// What was seen stands until a later inspection that was recorded here, at
// hands-on or higher and at no lower level than saw it, does not see it again;
// but nothing that puts an anchor out of use is lifted so. A verdict stands
// until a later inspection resets it. What an imported record says never weighs
// more than suspect.
func (b *Book) Anchor(f *registry.Facts, r houserules.Rules) Held {
	j := judge{book: b, facts: f, house: r}
	j.fillAnchor()
	j.hold(rule.OfAnchor, nil, nil)
	missed := r.Missed(f)
	for k := range f.Inspections {
		j.inspection(&f.Inspections[k], missed)
	}
	slices.SortFunc(j.held.Findings, func(a, b registry.Finding) int {
		return cmp.Or(b.Severity.Rank()-a.Severity.Rank(), strings.Compare(a.Rule, b.Rule))
	})
	return j.held
}

// judge is one run of the rules against one anchor.
type judge struct {
	book     *Book
	facts    *registry.Facts
	house    houserules.Rules
	operands rule.Operands
	held     Held
	records  []*registry.Inspection // of held.Findings, nil where there is none
}

// inspection holds the rules against one inspection; missed is the one that
// did not find the anchor.
func (j *judge) inspection(i, missed *registry.Inspection) {
	if i != missed && len(i.Observations) == 0 && i.Verdict == "" {
		return
	}
	j.fillInspection(i)
	if i == missed {
		j.hold(rule.OfSearch, i, nil)
	}
	for _, o := range i.Observations {
		j.operands.SetWord(rule.Observation, string(o))
		j.hold(rule.OfObservation, i, func(s registry.Severity) bool {
			return s == registry.OutOfUse || j.house.ObservationStands(j.facts, i, o)
		})
	}
	if i.Verdict != "" {
		j.operands.SetWord(rule.VerdictGiven, string(i.Verdict))
		j.hold(rule.OfVerdict, i, func(registry.Severity) bool { return j.house.VerdictStands(j.facts, i) })
	}
}

// hold evaluates the rules of a scope and adds a finding for each that holds
// and still stands; a nil stands means that it does.
func (j *judge) hold(scope rule.Scope, i *registry.Inspection, stands func(registry.Severity) bool) {
	rules := j.book.rules[scope]
	for k := range rules {
		r := &rules[k]
		if !r.Holds(&j.operands) {
			continue
		}
		severity := j.severity(r, i)
		if stands != nil && !stands(severity) {
			continue
		}
		j.add(r, severity, i)
	}
}

// severity is the rule's own or that of the house rules, and never more than
// suspect on the word of an imported record.
func (j *judge) severity(r *rule.Rule, i *registry.Inspection) registry.Severity {
	s := r.Severity
	if s == "" {
		s = j.house.Severity(r.ID)
	}
	if s.Rank() == 0 {
		s = registry.Suspect // the house rules forgot it: take it seriously
	}
	if i != nil && i.Origin != registry.Recorded && s == registry.OutOfUse {
		s = registry.Suspect
	}
	return s
}

// add keeps one finding for each rule: the worst, then that of the latest
// record.
func (j *judge) add(r *rule.Rule, severity registry.Severity, i *registry.Inspection) {
	at := slices.IndexFunc(j.held.Findings, func(f registry.Finding) bool { return f.Rule == r.ID })
	if at >= 0 && !j.outweighs(severity, i, at) {
		return
	}
	finding := registry.Finding{
		Rule: r.ID, Severity: severity, Values: r.Values(&j.operands), Source: r.Source, Settles: r.Settles,
	}
	if i != nil {
		id := i.ID
		finding.RecordID = &id
	}
	if at >= 0 {
		j.held.Findings[at], j.records[at] = finding, i
		return
	}
	j.held.Findings = append(j.held.Findings, finding)
	j.records = append(j.records, i)
	if r.Standing != "" {
		j.held.Forced = append(j.held.Forced, r.Standing)
	}
}

func (j *judge) outweighs(severity registry.Severity, i *registry.Inspection, at int) bool {
	if d := severity.Rank() - j.held.Findings[at].Severity.Rank(); d != 0 {
		return d > 0
	}
	return i != nil && houserules.Newer(i, j.records[at])
}

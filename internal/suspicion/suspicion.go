// Package suspicion says what is held against one anchor on what is recorded
// and what its place does to its metal: what was seen and measured, what
// inspectors decided, what befell the site, and what nobody wrote down. Its
// rules are data (rules.json).
//
// It gives no dates, and a finding that is missing clears nothing.
package suspicion

import (
	"cmp"
	_ "embed"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
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

// Settleable says whether a settlement may answer the findings of a shipped
// rule. It may not where they force a standing: only another record locates an
// anchor or allows its first use. A rule that is not shipped has no findings,
// and nothing is said against it.
func Settleable(id string) bool {
	for _, rules := range shipped.rules {
		for k := range rules {
			if rules[k].ID == id {
				return rules[k].Standing == ""
			}
		}
	}
	return true
}

// Held is what is held against one anchor.
type Held struct {
	// Findings has for each rule at most one of the anchor that is not settled,
	// the worst, then that of the latest record; at most one of each fitting,
	// measured point, event and notice; and all that is settled. What weighs most
	// comes first, then by rule id; what is settled last.
	Findings []registry.Finding
	// Forced are the standings that findings force, whatever their severity,
	// in no order.
	Forced []registry.Standing
	// Settled are the events and notices whose findings are settled.
	Settled []uuid.UUID
}

// Anchor holds the rules against one anchor on a day. Records that others
// replace must have been left out (Facts.Current). The facts are not modified.
//
// What was seen stands until a later inspection that was recorded here, at
// hands-on or higher and at no lower level than saw it, gives a verdict and does
// not see it again; but nothing that puts an anchor out of use is lifted so, nor
// what a lasting rule says. Maintenance that the house rules name lifts some of
// it, on the day it was seen or later. A verdict stands until a later one resets it. Of what
// was measured the thinnest reading of each point counts. What an imported
// record says never weighs more than suspect.
//
// That the anchor turns is lasting whatever the form: the facts hold the form on
// record today, not that of the day it turned, and an anchor whose lost bond put
// it out of use stays suspect at least when its form is changed to one without
// a bond. Only replacing it, a retraction or a settlement answers that.
//
// A settlement answers the finding whose rule and values it names: among these
// is the id of the one record, fitting, event or notice that the finding rests
// on, so that it answers no other. What is settled weighs nothing, and hides
// nothing of the same rule that is not; but no settlement locates an anchor or
// allows its first use (see Settleable).
func (b *Book) Anchor(f *registry.Facts, e *registry.Exposure, r *houserules.Rules, asOf calendar.Date) Held {
	j := judges.Get().(*judge)
	defer j.release()
	j.book, j.facts, j.exposure, j.house, j.asOf = b, f, e, r, asOf
	j.fillAnchor()
	j.fillPlace()
	j.hold(rule.OfAnchor, subject{}, nil)
	missed := r.Missed(f)
	for k := range f.Inspections {
		j.inspection(&f.Inspections[k], missed)
	}
	j.wear()
	j.fittings()
	j.events()
	j.notices()
	held := j.held
	held.Findings = j.ordered()
	return held
}

// ordered returns the findings in order, nil for none. The judge keeps its own
// for the next run; they are large, so that each is moved once.
func (j *judge) ordered() []registry.Finding {
	if len(j.held.Findings) == 0 {
		return nil
	}
	j.order = j.order[:0]
	for k := range j.held.Findings {
		j.order = append(j.order, k)
	}
	slices.SortFunc(j.order, func(a, b int) int { return compare(&j.held.Findings[a], &j.held.Findings[b]) })
	out := make([]registry.Finding, len(j.order))
	for k, from := range j.order {
		out[k] = j.held.Findings[from]
	}
	return out
}

// compare orders findings: what weighs more first, then the more severe, then
// by rule and values.
func compare(a, b *registry.Finding) int {
	return cmp.Or(
		b.Weighs().Rank()-a.Weighs().Rank(), b.Severity.Rank()-a.Severity.Rank(), strings.Compare(a.Rule, b.Rule),
		slices.CompareFunc(a.Values, b.Values, func(x, y registry.Value) int {
			return cmp.Or(strings.Compare(x.Name, y.Name), strings.Compare(x.Text, y.Text))
		}))
}

// Sort brings findings, whoever made them, into the order of Held.Findings.
func Sort(list []registry.Finding) {
	slices.SortFunc(list, func(a, b registry.Finding) int { return compare(&a, &b) })
}

// judge is one run of the rules against one anchor.
type judge struct {
	book     *Book
	facts    *registry.Facts
	exposure *registry.Exposure
	house    *houserules.Rules
	asOf     calendar.Date
	operands rule.Operands
	held     Held
	subjects []subject // of held.Findings
	order    []int
}

// judges keeps used judges for the next run: their operands are large, and
// there are many anchors.
var judges = sync.Pool{New: func() any { return new(judge) }}

// release gives a judge back, without what it was told.
func (j *judge) release() {
	clear(j.subjects)
	clear(j.held.Findings)
	*j = judge{subjects: j.subjects[:0], order: j.order, held: Held{Findings: j.held.Findings[:0]}}
	judges.Put(j)
}

// subject is what a finding is about: the anchor itself unless part says which
// fitting, measured point, event or notice, and the inspection that it rests
// on, nil for none.
type subject struct {
	part       uuid.UUID
	inspection *registry.Inspection
}

// inspection holds the rules against one inspection; missed is the one that
// did not find the anchor.
func (j *judge) inspection(i, missed *registry.Inspection) {
	if i != missed && len(i.Observations) == 0 && i.Verdict == "" {
		return
	}
	j.fillInspection(i)
	about := subject{inspection: i}
	if i == missed {
		j.hold(rule.OfSearch, about, nil)
	}
	for _, o := range i.Observations {
		j.operands.SetWord(rule.Observation, string(o))
		j.hold(rule.OfObservation, about, func(r *rule.Rule, s registry.Severity) bool {
			return r.Lasting || s == registry.OutOfUse || j.house.ObservationStands(j.facts, i, o, r.ID)
		})
	}
	if i.Verdict != "" {
		j.operands.SetWord(rule.VerdictGiven, string(i.Verdict))
		j.hold(rule.OfVerdict, about, func(*rule.Rule, registry.Severity) bool { return j.house.VerdictStands(j.facts, i) })
	}
}

// hold evaluates the rules of a scope and adds a finding for each that holds
// and still stands; a nil stands means that it does.
func (j *judge) hold(scope rule.Scope, about subject, stands func(*rule.Rule, registry.Severity) bool) {
	rules := j.book.rules[scope]
	for k := range rules {
		r := &rules[k]
		if !r.Holds(&j.operands) {
			continue
		}
		severity := j.severity(r, about.inspection)
		if stands != nil && !stands(r, severity) {
			continue
		}
		j.add(r, severity, about)
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

// add keeps, of what is not settled, one finding for each rule and part: the
// worst, then that of the latest record. All that is settled it keeps.
func (j *judge) add(r *rule.Rule, severity registry.Severity, about subject) {
	finding := registry.Finding{
		Rule: r.ID, Severity: severity, Values: r.Values(&j.operands), Source: r.Source, Settles: j.settles(r),
	}
	if r.Standing == "" && len(j.facts.Settlements) > 0 {
		finding.SettledBy = j.facts.SettledBy(&finding, j.asOf)
	}
	at := j.rival(&finding, about)
	if at >= 0 && !j.outweighs(&finding, about, at) {
		return
	}
	if about.inspection != nil {
		id := about.inspection.ID
		finding.RecordID = &id
	}
	if at >= 0 {
		j.held.Findings[at], j.subjects[at] = finding, about
		return
	}
	j.held.Findings = append(j.held.Findings, finding)
	j.subjects = append(j.subjects, about)
	if r.Standing != "" {
		j.held.Forced = append(j.held.Forced, r.Standing)
	}
}

// settles says what would settle the findings of a rule: its own word and, each
// after a "+", what the house rules say beside it: a level that they ask for, or
// the kinds of maintenance that do.
func (j *judge) settles(r *rule.Rule) string {
	switch r.Of {
	case rule.OfObservation, rule.OfVerdict, rule.OfEvent, rule.OfNotice:
	default:
		return r.Settles
	}
	word := r.Settles
	for _, more := range j.house.SettledBeside(r.ID) {
		word += "+" + more
	}
	return word
}

// rival finds the finding of the same rule and part in whose place another
// would stand, -1 if there is none. What is settled has none but itself.
func (j *judge) rival(f *registry.Finding, about subject) int {
	for k := range j.held.Findings {
		other := &j.held.Findings[k]
		if other.Rule != f.Rule || j.subjects[k].part != about.part || (other.SettledBy == nil) != (f.SettledBy == nil) {
			continue
		}
		if f.SettledBy == nil || slices.Equal(other.Values, f.Values) {
			return k
		}
	}
	return -1
}

func (j *judge) outweighs(f *registry.Finding, about subject, at int) bool {
	if d := f.Weighs().Rank() - j.held.Findings[at].Weighs().Rank(); d != 0 {
		return d > 0
	}
	return about.inspection != nil && houserules.Newer(about.inspection, j.subjects[at].inspection)
}

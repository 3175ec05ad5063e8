package sheetcheck

import (
	_ "embed"
	"fmt"
	"slices"
	"sync"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/rule"
)

//go:embed rules.json
var rulesJSON []byte

// Book is a set of rules, ready to be held against settings.
type Book struct{ rules []rule.Rule }

var shipped = mustLoad(rulesJSON)

func mustLoad(data []byte) *Book {
	b, err := Load(data)
	if err != nil {
		panic(fmt.Sprintf("rules of the sheet check: %v", err))
	}
	return b
}

// Load reads rules as package rule does, with its errors.
func Load(data []byte) (*Book, error) {
	list, err := rule.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("load rules of the sheet check: %w", err)
	}
	return &Book{rules: list}, nil
}

// Shipped returns the rules that come with the program.
func Shipped() *Book { return shipped }

// Source returns the shipped rules as JSON. The slice is the caller's.
func Source() []byte { return slices.Clone(rulesJSON) }

// Check holds the shipped rules against the anchor's latest setting; see
// Book.Check.
func Check(f *registry.Facts, r *houserules.Rules, asOf calendar.Date) []registry.Finding {
	return shipped.Check(f, r, asOf)
}

// Check holds the rules against the anchor's latest setting and returns what
// they find, in the rules' order; nothing for an anchor without an installation
// on record. Records that others replace must have been left out
// (Facts.Current). The order of facts means nothing; they are not modified.
//
// Every finding is lasting: no inspection sees into the hole, so that only
// setting it anew, a record that corrects what it rests on, or a settlement
// answers it. What a list says of a setting never weighs more than a note. The
// day asked for decides nothing but which settlements still hold.
func (b *Book) Check(f *registry.Facts, r *houserules.Rules, asOf calendar.Date) []registry.Finding {
	s, ok := settingOf(f)
	if !ok {
		return nil
	}
	o := operands.Get().(*rule.Operands)
	defer operands.Put(o)
	*o = rule.Operands{}
	fill(o, &s, f, r)
	var out []registry.Finding
	for k := range b.rules {
		if !b.rules[k].Holds(o) {
			continue
		}
		out = append(out, found(&b.rules[k], o, &s, r))
		last := &out[len(out)-1]
		last.SettledBy = f.SettledBy(last, asOf)
	}
	return out
}

// operands keeps used operands for the next run: they are large, and there are
// many anchors.
var operands = sync.Pool{New: func() any { return new(rule.Operands) }}

func found(x *rule.Rule, o *rule.Operands, s *asSet, r *houserules.Rules) registry.Finding {
	id := s.ID
	return registry.Finding{
		Rule: x.ID, Severity: severity(x, s, r), Values: x.Values(o), Source: x.Source, Settles: x.Settles, RecordID: &id,
	}
}

// severity is the rule's own or that of the house rules, and a note on the word
// of a list.
func severity(x *rule.Rule, s *asSet, r *houserules.Rules) registry.Severity {
	v := x.Severity
	if v == "" {
		v = r.Severity(x.ID)
	}
	switch {
	case s.Origin != registry.Recorded:
		return registry.Note
	case v.Rank() == 0:
		return registry.Suspect // the house rules forgot it: take it seriously
	}
	return v
}

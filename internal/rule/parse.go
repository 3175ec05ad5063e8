package rule

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// written is a rule as it stands in a file.
type written struct {
	ID       string         `json:"id"`
	Of       Scope          `json:"of"`
	Severity string         `json:"severity"`
	Standing string         `json:"standing"`
	Lasting  bool           `json:"lasting"`
	Source   string         `json:"source"`
	Settles  string         `json:"settles"`
	When     map[string]any `json:"when"`
	Values   []string       `json:"values"`
}

// Parse reads a JSON array of rules.
//
// Errors are Invalid. One that concerns rules has a violation for each rule in
// the wrong, keyed by its id (or "[3]" without one), whose value "text" says
// what is wrong and what to write instead; the message holds them all.
func Parse(data []byte) ([]Rule, error) {
	var list []json.RawMessage
	if err := json.Unmarshal(data, &list); err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "read rules: want a JSON array of rules").WithCode(fault.Malformed)
	}
	rules := make([]Rule, 0, len(list))
	seen := make(map[string]bool)
	var wrong []fault.Violation
	for i, raw := range list {
		r, name, err := parseOne(raw)
		if err == nil && seen[r.ID] {
			err = complain("the id is taken by an earlier rule", "give each rule its own")
		}
		if name == "" {
			name = fmt.Sprintf("[%d]", i)
		}
		if err != nil {
			wrong = append(wrong, fault.Violation{
				Field: name, Code: fault.Malformed, Values: map[string]string{"text": err.Error()},
			})
			continue
		}
		seen[r.ID] = true
		rules = append(rules, r)
	}
	if len(wrong) > 0 {
		return nil, malformed(wrong)
	}
	return rules, nil
}

func malformed(wrong []fault.Violation) error {
	texts := make([]string, len(wrong))
	for i, v := range wrong {
		texts[i] = "rule " + v.Field + ": " + v.Values["text"]
	}
	e := fault.Reject(fault.Malformed, "%s", strings.Join(texts, "\n"))
	e.Violations = wrong
	return e
}

// complain says what is wrong and what to do.
func complain(what, remedy string) error { return fmt.Errorf("%s: %s", what, remedy) }

var idShape = regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`)

// parseOne returns the rule and the id as far as it could be read.
func parseOne(raw json.RawMessage) (Rule, string, error) {
	d := json.NewDecoder(bytes.NewReader(raw))
	d.DisallowUnknownFields()
	d.UseNumber()
	var w written
	if err := d.Decode(&w); err != nil {
		return Rule{}, w.ID, complain(err.Error(), "want an object with id, of, severity, source, settles, when, values")
	}
	if !idShape.MatchString(w.ID) {
		return Rule{}, "", complain(fmt.Sprintf("id %q", w.ID), "want words in lower case joined by dashes")
	}
	r := Rule{ID: w.ID, Of: w.Of, Lasting: w.Lasting, Source: w.Source, Settles: w.Settles}
	if err := r.describe(&w); err != nil {
		return Rule{}, w.ID, err
	}
	p := parser{scope: w.Of}
	when, err := p.all(w.When)
	if err != nil {
		return Rule{}, w.ID, err
	}
	r.when = when
	for _, name := range w.Values {
		v, err := p.operand(name)
		if err != nil {
			return Rule{}, w.ID, err
		}
		r.values = append(r.values, v)
	}
	return r, w.ID, nil
}

// describe fills and checks what is not the condition.
func (r *Rule) describe(w *written) error {
	if !slices.Contains(Scopes(), w.Of) {
		return complain(fmt.Sprintf("of %q", w.Of), "want one of "+list(Scopes()))
	}
	if w.Severity != ByHouseRules {
		r.Severity = registry.Severity(w.Severity)
		if r.Severity.Rank() == 0 {
			return complain(fmt.Sprintf("severity %q", w.Severity), "want one of "+list(registry.Severities())+", "+ByHouseRules)
		}
	}
	r.Standing = registry.Standing(w.Standing)
	if w.Standing != "" && r.Standing.Rank() == 0 {
		return complain(fmt.Sprintf("standing %q", w.Standing), "want one of "+list(registry.Standings())+", or none")
	}
	if strings.TrimSpace(w.Source) == "" {
		return complain("no source", `name it, or write "judgement of this project"`)
	}
	if !idShape.MatchString(w.Settles) {
		return complain(fmt.Sprintf("settles %q", w.Settles), "want the word for what would settle the finding")
	}
	if len(w.When) == 0 {
		return complain("no condition", `write "when" with at least one key`)
	}
	return nil
}

func list[T ~string](values []T) string { return strings.Join(words(values), ", ") }

// parser turns the decoded condition of one rule into nodes.
type parser struct{ scope Scope }

// all reads an object: each key is an operator or an operand, and all of them
// must hold.
func (p parser) all(object map[string]any) (condition, error) {
	var parts all
	for _, key := range slices.Sorted(maps.Keys(object)) {
		c, err := p.key(key, object[key])
		if err != nil {
			return nil, err
		}
		parts = append(parts, c)
	}
	if len(parts) == 1 {
		return parts[0], nil
	}
	return parts, nil
}

// operators lists the operators, for a complaint.
const operators = "all, any, not, known, not_known, less, at_most"

func (p parser) key(key string, arg any) (condition, error) {
	switch key {
	case "all", "any":
		return p.several(key, arg)
	case "not":
		c, err := p.object(key, arg)
		return not{c}, err
	case "known", "not_known":
		name, _ := arg.(string)
		v, err := p.operand(name)
		return knownness{v, key == "known"}, err
	case "less", "at_most":
		return p.compare(key, arg)
	}
	v, err := p.operand(key)
	if err != nil {
		return nil, err
	}
	return p.equal(v, arg)
}

func (p parser) object(key string, arg any) (condition, error) {
	object, ok := arg.(map[string]any)
	if !ok || len(object) == 0 {
		return nil, complain(key, "want an object with at least one key")
	}
	return p.all(object)
}

func (p parser) several(key string, arg any) (condition, error) {
	array, ok := arg.([]any)
	if !ok || len(array) == 0 {
		return nil, complain(key, "want an array of at least one condition")
	}
	parts := make([]condition, len(array))
	for i, a := range array {
		c, err := p.object(key, a)
		if err != nil {
			return nil, err
		}
		parts[i] = c
	}
	if key == "all" {
		return all(parts), nil
	}
	return anyOf(parts), nil
}

package rule

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
)

// operand finds an operand that rules of the parser's scope may ask for.
func (p parser) operand(name string) (Operand, error) {
	v, ok := operandNamed(name)
	if !ok || !v.in(p.scope) {
		return 0, complain(fmt.Sprintf("%q is no operator, nor an operand of a rule of %q", name, p.scope),
			"want one of "+operators+", or "+p.names())
	}
	return v, nil
}

// names lists the operands of the parser's scope.
func (p parser) names() string {
	var names []string
	for v := range operandCount {
		if v.in(p.scope) {
			names = append(names, operands[v].name)
		}
	}
	return strings.Join(names, ", ")
}

// equal reads an operand's key: true or false for a flag, a word or an array of
// words for the others.
func (p parser) equal(v Operand, arg any) (condition, error) {
	d := &operands[v]
	switch d.kind {
	case flag:
		b, ok := arg.(bool)
		if !ok {
			return nil, complain(d.name, "want true or false")
		}
		f := isFlag{operand: v}
		if b {
			f.want = 1
		}
		return f, nil
	case word, set:
		list, err := wordList(v, arg)
		if err != nil {
			return nil, err
		}
		if d.kind == set {
			return canBe{v, list}, nil
		}
		return isWord{v, list}, nil
	case ident:
		return nil, complain(d.name, `report it among the values; a condition only asks whether it is "known"`)
	}
	return nil, complain(d.name, `want it compared with "less" or "at_most"`)
}

func wordList(v Operand, arg any) ([]string, error) {
	array, ok := arg.([]any)
	if !ok {
		array = []any{arg}
	}
	d := &operands[v]
	if len(array) == 0 {
		return nil, complain(d.name, "want at least one word")
	}
	list := make([]string, len(array))
	for i, a := range array {
		text, ok := a.(string)
		if !ok || text == "" || d.list != nil && !slices.Contains(d.list, text) {
			return nil, complain(fmt.Sprintf("%s %v", d.name, a), "want a word of "+strings.Join(d.list, ", "))
		}
		list[i] = text
	}
	return list, nil
}

// compare reads the two terms of a comparison: both dates, both numbers
// or both instants.
func (p parser) compare(key string, arg any) (condition, error) {
	array, ok := arg.([]any)
	if !ok || len(array) != 2 {
		return nil, complain(key, "want an array of two terms")
	}
	left, leftKind, err := p.term(array[0])
	if err != nil {
		return nil, err
	}
	right, rightKind, err := p.term(array[1])
	if err != nil {
		return nil, err
	}
	if leftKind != rightKind {
		return nil, complain(key+" of two kinds", "compare dates with dates, numbers with numbers, instants with instants")
	}
	return compare{left, right, key == "at_most"}, nil
}

// term reads a number, the name of an operand, or {"plus": [number or operand,
// ...]}.
func (p parser) term(arg any) (term, kind, error) {
	object, ok := arg.(map[string]any)
	if !ok {
		return p.simple(arg)
	}
	parts, ok := object["plus"].([]any)
	if !ok || len(object) != 1 || len(parts) == 0 {
		return term{}, 0, complain(fmt.Sprintf("term %v", arg), `want a number, an operand or {"plus": [...]}`)
	}
	var sum term
	for _, a := range parts {
		t, k, err := p.simple(a)
		if err != nil {
			return term{}, 0, err
		}
		if k != number {
			return term{}, 0, complain(fmt.Sprintf("plus of %v", a), "add up numbers only")
		}
		sum.constant += t.constant
		sum.operands = append(sum.operands, t.operands...)
	}
	return sum, number, nil
}

func (p parser) simple(arg any) (term, kind, error) {
	switch a := arg.(type) {
	case json.Number:
		n, err := a.Float64()
		if err != nil || math.IsInf(n, 0) {
			return term{}, 0, complain(fmt.Sprintf("number %v", a), "want one that fits")
		}
		return term{constant: n}, number, nil
	case string:
		v, err := p.operand(a)
		if err != nil {
			return term{}, 0, err
		}
		if k := operands[v].kind; k == number || k == date || k == instant {
			return term{operands: []Operand{v}}, k, nil
		}
		return term{}, 0, complain(a+" is no number, date or instant", "compare it by its own key")
	}
	return term{}, 0, complain(fmt.Sprintf("term %v", arg), `want a number, an operand or {"plus": [...]}`)
}

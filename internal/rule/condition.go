package rule

import "slices"

// truth is yes, no or not known (Kleene's three values).
type truth int8

const (
	no truth = iota
	unknown
	yes
)

func truthOf(b bool) truth {
	if b {
		return yes
	}
	return no
}

// condition is one node of a rule's condition.
type condition interface{ eval(o *Operands) truth }

// all holds if every part does; it is the meaning of an object with several
// keys.
type all []condition

func (a all) eval(o *Operands) truth {
	t := yes
	for _, c := range a {
		if t = min(t, c.eval(o)); t == no {
			break
		}
	}
	return t
}

// anyOf holds if one part does.
type anyOf []condition

func (a anyOf) eval(o *Operands) truth {
	t := no
	for _, c := range a {
		if t = max(t, c.eval(o)); t == yes {
			break
		}
	}
	return t
}

// not holds if its part surely does not.
type not struct{ part condition }

func (n not) eval(o *Operands) truth { return yes - n.part.eval(o) }

// knownness asks whether an operand is known; its answer always is.
type knownness struct {
	operand Operand
	want    bool
}

func (k knownness) eval(o *Operands) truth {
	return truthOf(o.values[k.operand].known == k.want)
}

// isWord asks whether a word is one of a list.
type isWord struct {
	operand Operand
	list    []string
}

func (w isWord) eval(o *Operands) truth {
	v := &o.values[w.operand]
	if !v.known {
		return unknown
	}
	return truthOf(slices.Contains(w.list, v.word))
}

// canBe asks whether a set holds one of a list.
type canBe struct {
	operand Operand
	list    []string
}

func (c canBe) eval(o *Operands) truth {
	if !o.values[c.operand].known {
		return unknown
	}
	return truthOf(slices.ContainsFunc(c.list, func(w string) bool { return o.holds(c.operand, w) }))
}

// isFlag asks whether a flag is as wanted.
type isFlag struct {
	operand Operand
	want    float64
}

func (f isFlag) eval(o *Operands) truth {
	v := &o.values[f.operand]
	if !v.known {
		return unknown
	}
	return truthOf(v.number == f.want)
}

// compare asks whether left is less than right, or at most right.
type compare struct {
	left, right term
	orEqual     bool
}

func (c compare) eval(o *Operands) truth {
	l, ok := c.left.number(o)
	if !ok {
		return unknown
	}
	r, ok := c.right.number(o)
	if !ok {
		return unknown
	}
	return truthOf(l < r || c.orEqual && l == r)
}

// term is a number, an operand or a sum of those.
type term struct {
	constant float64
	operands []Operand
}

// number returns the sum; false if a part of it is not known.
func (t term) number(o *Operands) (float64, bool) {
	n := t.constant
	for _, v := range t.operands {
		if !o.values[v].known {
			return 0, false
		}
		n += o.values[v].number
	}
	return n, true
}

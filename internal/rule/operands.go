package rule

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
)

// Operands are the values a rule is evaluated against. In the zero value
// nothing is known. One may be kept and filled again for the next scope.
type Operands struct {
	values [operandCount]value
	grades [gradeSets]metal.Set
	lists  [setCount][]string
	ids    [operandCount - firstID]uuid.UUID
}

// value is one operand's value; number holds a date's day and a flag's 0 or 1
// too. A set keeps what it holds in Operands.
type value struct {
	known  bool
	number float64
	word   string
}

// SetWord gives a word; a blank one is not known.
func (o *Operands) SetWord(v Operand, text string) {
	o.values[v] = value{known: text != "", word: text}
}

// SetFlag gives true or false.
func (o *Operands) SetFlag(v Operand, b bool) {
	o.values[v] = value{known: true}
	if b {
		o.values[v].number = 1
	}
}

// SetNumber gives a number in the unit of the operand's name; nil is not known.
func (o *Operands) SetNumber(v Operand, n *float64) {
	if n == nil {
		o.values[v] = value{}
		return
	}
	o.values[v] = value{known: true, number: *n}
}

// SetDate gives a date; "no date" is not known.
func (o *Operands) SetDate(v Operand, d calendar.Date) {
	o.values[v] = value{known: !d.IsZero(), number: float64(d)}
}

// SetInstant gives an instant, to the second; the zero time is not known.
func (o *Operands) SetInstant(v Operand, at time.Time) {
	o.values[v] = value{known: !at.IsZero(), number: float64(at.Unix())}
}

// SetID names what a finding rests on; uuid.Nil is nothing.
func (o *Operands) SetID(v Operand, id uuid.UUID) {
	o.values[v] = value{known: id != uuid.Nil}
	o.ids[v-firstID] = id
}

// SetWords gives what something can be; none is not known. The slice is kept
// and not modified.
func (o *Operands) SetWords(v Operand, list []string) {
	o.values[v] = value{known: len(list) > 0}
	o.lists[v] = list
}

// SetGrades gives what a metal can be; none is not known.
func (o *Operands) SetGrades(v Operand, list metal.Set) {
	o.values[v] = value{known: list.Known()}
	o.grades[v] = list
}

// holds says whether a set holds a word.
func (o *Operands) holds(v Operand, word string) bool {
	if v < gradeSets {
		return o.grades[v].Contains(metal.Grade(word))
	}
	return slices.Contains(o.lists[v], word)
}

// text returns a value as canonical text.
func (o *Operands) text(v Operand) string {
	x := &o.values[v]
	switch operands[v].kind {
	case flag:
		return strconv.FormatBool(x.number == 1)
	case number:
		return strconv.FormatFloat(x.number, 'f', -1, 64)
	case date:
		return calendar.Date(x.number).String()
	case instant:
		return time.Unix(int64(x.number), 0).UTC().Format(time.RFC3339)
	case ident:
		return o.ids[v-firstID].String()
	case set:
		if v < gradeSets {
			return strings.Join(o.grades[v].Strings(), " ")
		}
		return strings.Join(o.lists[v], " ")
	}
	return x.word
}

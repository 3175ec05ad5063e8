package rule

import (
	"slices"
	"strconv"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Operand is one named fact that rules can ask for.
type Operand int

// The operands: of the anchor, and of the inspection a rule is about.
const (
	Form Operand = iota
	Bonded
	Metal
	SetOn
	HoleDiameter
	ShankDiameter
	OverallLength
	HoleDepth
	BatchRecorded
	InstallationRecorded
	FirstUseAllowed
	SiteKind
	Role
	Face
	Rock
	Traffic
	BackedUp
	Observation
	SeenOrigin
	SeenLevel
	SeenOn
	SeenUntil // known only if the day is not exact
	VerdictGiven
	operandCount
)

// kind is what an operand's value is.
type kind int

const (
	flag   kind = iota // true or false
	word               // one of a closed list
	set                // several words: what something can be
	number             // in the unit of the name's suffix
	date
)

// operands describes each operand: its name in a rule, its kind, the scopes
// that have it (none: all), and for words the closed list (none: any).
var operands = [operandCount]struct {
	name   string
	kind   kind
	scopes []Scope
	list   []string
}{
	Form:                 {name: "form", kind: word, list: words(registry.Forms())},
	Bonded:               {name: "bonded", kind: flag},
	Metal:                {name: "metal", kind: set},
	SetOn:                {name: "set_on", kind: date},
	HoleDiameter:         {name: "hole_diameter_mm", kind: number},
	ShankDiameter:        {name: "shank_diameter_mm", kind: number},
	OverallLength:        {name: "overall_length_mm", kind: number},
	HoleDepth:            {name: "hole_depth_mm", kind: number},
	BatchRecorded:        {name: "batch_recorded", kind: flag},
	InstallationRecorded: {name: "installation_recorded", kind: flag},
	FirstUseAllowed:      {name: "first_use_allowed", kind: flag},
	SiteKind:             {name: "site_kind", kind: word, list: words(registry.SiteKinds())},
	Role:                 {name: "role", kind: word, list: words(registry.PositionRoles())},
	Face:                 {name: "face", kind: word, list: words(registry.Faces())},
	Rock:                 {name: "rock", kind: word, list: words(registry.RockClasses())},
	Traffic:              {name: "traffic", kind: word, list: words(registry.Traffics())},
	BackedUp:             {name: "backed_up", kind: flag},
	Observation: {
		name: "observation", kind: word, scopes: []Scope{OfObservation}, list: words(registry.Observations()),
	},
	SeenOrigin: {
		name: "seen_origin", kind: word, scopes: inspections(),
		list: []string{string(registry.Recorded), string(registry.Imported)},
	},
	SeenLevel: {name: "seen_level", kind: word, scopes: inspections(), list: words(registry.Levels())},
	SeenOn:    {name: "seen_on", kind: date, scopes: inspections()},
	SeenUntil: {name: "seen_until", kind: date, scopes: inspections()},
	VerdictGiven: {
		name: "verdict", kind: word, scopes: []Scope{OfVerdict}, list: words(registry.Verdicts()),
	},
}

// inspections are the scopes that are about an inspection.
func inspections() []Scope { return []Scope{OfObservation, OfVerdict, OfSearch} }

func words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}

// String returns the name under which rules ask for the operand.
func (o Operand) String() string { return operands[o].name }

// operandNamed finds an operand by name.
func operandNamed(name string) (Operand, bool) {
	for o := range operandCount {
		if operands[o].name == name {
			return o, true
		}
	}
	return 0, false
}

// in says whether rules of a scope may ask for the operand.
func (o Operand) in(s Scope) bool {
	return operands[o].scopes == nil || slices.Contains(operands[o].scopes, s)
}

// Operands are the values a rule is evaluated against. In the zero value
// nothing is known. One may be kept and filled again for the next scope.
type Operands struct {
	values [operandCount]value
}

// value is one operand's value; number holds a date's day and a flag's 0 or 1
// too.
type value struct {
	known  bool
	number float64
	word   string
	words  []string
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

// SetWords gives what something can be; none is not known. The slice is kept
// and not modified.
func (o *Operands) SetWords(v Operand, list []string) {
	o.values[v] = value{known: len(list) > 0, words: list}
}

// text returns a value as canonical text.
func (o *Operands) text(v Operand) string {
	x := o.values[v]
	switch operands[v].kind {
	case flag:
		return strconv.FormatBool(x.number == 1)
	case number:
		return strconv.FormatFloat(x.number, 'f', -1, 64)
	case date:
		return calendar.Date(x.number).String()
	case set:
		return strings.Join(x.words, " ")
	}
	return x.word
}

package exchange

import (
	"regexp"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// stated is what a cell says of an anchor's state.
type stated struct {
	state   registry.ListState
	date    string             // as written behind "replaced"
	next    registry.ListState // said after "replaced": of the anchor that came instead
	guessed bool               // the words may mean something else too
}

// taken names what the words were taken as.
func (s *stated) taken() string {
	name := strings.ReplaceAll(string(s.state), "-", " ")
	if s.next != "" {
		name += ", and the new one " + strings.ReplaceAll(string(s.next), "-", " ")
	}
	return name
}

var stateSeparators = regexp.MustCompile(` ?[,;+&] ?| and | but |\. | - |([a-z]) ?/ ?`)

// readState returns the gravest state that a cell names. It reports false if
// any part of it was not understood; the state is then StateOther, unless
// another part names a graver one. What follows "replaced" and its date is of
// the anchor that came instead.
func readState(text string) (stated, bool) {
	whole := plain(text)
	if s, ok := oneState(whole); ok {
		return s, true
	}
	var read stated
	all := true
	for _, part := range stateSeparators.Split(stateSeparators.ReplaceAllString(whole, "$1;"), -1) {
		if read.state == registry.StateReplaced && read.date == "" && read.next == "" && dated(part) {
			read.date = part
			continue
		}
		s, ok := oneState(part)
		if !ok {
			s, ok = graveState(part)
		}
		if !ok {
			s, all = stated{state: registry.StateOther}, false
		}
		read.add(s)
	}
	return read, all
}

// add takes in what another part of the words says.
func (s *stated) add(part stated) {
	s.guessed = s.guessed || part.guessed
	switch {
	case s.state == registry.StateReplaced:
		s.addNext(part.state)
	case graver(part.state, s.state):
		s.state, s.date = part.state, part.date
	case s.state == registry.StateRemoved && graver(part.state, registry.StateRusty):
		s.guessed = true
	}
}

// addNext takes in what is said after "replaced". That the new anchor went too
// is not taken from the same words.
func (s *stated) addNext(state registry.ListState) {
	if state == registry.StateReplaced || state == registry.StateRemoved {
		state = registry.StateOther
	}
	if graver(state, s.next) {
		s.next = state
	}
	s.guessed = s.guessed || state != "" && state != registry.StateOK
}

// dated says whether a text is a date, if perhaps an impossible one.
func dated(text string) bool {
	s, err := calendar.ParseSpan(strings.Trim(text, " .!()"), calendar.DayFirst, farFuture)
	return s.Known() || err != nil && fault.CodeOf(err) != fault.NotADate
}

// oneState reads a text that names one state.
func oneState(text string) (stated, bool) {
	text = strings.Trim(text, " .!()")
	if isUnknown(text) {
		return stated{}, true
	}
	if looseWords.MatchString(text) {
		return stated{state: registry.StateSpins, guessed: true}, true
	}
	if outWords.MatchString(text) {
		return stated{state: registry.StateUnsafe, guessed: true}, true
	}
	if m := replacedWords.FindStringSubmatch(text); m != nil {
		return stated{state: registry.StateReplaced, date: m[1]}, isUnknown(m[1]) || dated(m[1])
	}
	for _, s := range stateWords {
		if s.pattern.MatchString(text) {
			return stated{state: s.state}, true
		}
	}
	return stated{}, false
}

// graveState takes words that are not known as a whole for the state that grave
// ones among them name.
func graveState(text string) (stated, bool) {
	for _, s := range graveWords {
		if s.pattern.MatchString(text) {
			return stated{state: s.state, guessed: true}, true
		}
	}
	return stated{}, false
}

// state reads the state of the anchor and holds it against the form.
func (r *reader) state(i int) {
	row := &r.list.Rows[i]
	row.StateWords = r.text(i, FieldState)
	s := r.recall.states.of(row.StateWords, stateOf)
	row.State = s.state
	if s.next != registry.StateOK {
		row.NextState = s.next
	}
	if !s.understood {
		r.doubt(i, FieldState, registry.DoubtStateNotRead)
	}
	if s.guessed {
		r.doubt(i, FieldState, registry.DoubtStateGuessed, "taken", s.taken())
	}
	if misfits(row) {
		r.doubt(i, FieldState, registry.DoubtStateFormMisfit, "form", string(row.Form))
	}
	if s.state == registry.StateReplaced {
		r.replaced(i, s.date)
	}
}

func stateOf(text string) stateRead {
	s, understood := readState(text)
	return stateRead{s, understood}
}

// misfits says whether a state cannot be of the form: a nut on an eye, glue on
// an expansion bolt, a hanger on a staple. A form that is not known fits all.
func misfits(row *registry.ListRow) bool {
	eye := row.Form == registry.SingleShank || row.Form == registry.TwistedLeg || row.Form == registry.Staple
	switch row.State {
	case registry.StateLooseNut:
		return (eye || row.Form == registry.GlueIn) && !row.HasHanger
	case registry.StateHangerBent:
		return eye && !row.HasHanger
	case registry.StateCrackedGlue:
		return row.Form != "" && !row.Form.Bonded()
	}
	return false
}

// replaced reads when the anchor was replaced. A row that was set after that is
// of the new anchor or wrong: then the date is not known.
func (r *reader) replaced(i int, text string) {
	row := &r.list.Rows[i]
	row.ReplacedOn = calendar.Span{Words: row.StateWords}
	s, err := calendar.ParseSpan(strings.Trim(text, " .!()"), r.orders[FieldSetOn], r.asOf)
	switch {
	case err != nil:
		r.doubt(i, FieldState, dateDoubt(err))
	case s.Known() && row.SetOn.From > s.To:
		r.doubt(i, FieldState, registry.DoubtSetAfterReplace, "set_on", row.SetOn.From.String())
	default:
		row.ReplacedOn.From, row.ReplacedOn.To = s.From, s.To
	}
}

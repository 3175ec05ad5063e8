package exchange

import (
	"regexp"
	"slices"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// stated is what a cell says of an anchor's state.
type stated struct {
	state   registry.ListState
	date    string // as written behind "replaced"
	guessed bool   // the word may mean something else too
}

// stateWords say what a state's words mean, as whole texts between separators.
// Common practice, no source.
var stateWords = []struct {
	state   registry.ListState
	pattern *regexp.Regexp
}{
	{registry.StateReplaced, state(`(?:has been |was |been )?(?:replaced|renewed|rebolted|re-bolted|re-drilled)(?: (?:in|on|by new|with new|by new bolt)\b)?[ :]*(.*)`)},
	{registry.StateRemoved, state(`(?:has been |was |been )?(?:removed|gone|out|taken out|pulled out|pulled|chopped|cut off|stripped)(?: by us)?`)},
	{registry.StateNotFound, state(`(?:bolt |anchor )?(?:not|never) (?:found|located|seen)|(?:can't|cannot|couldn't|could not|can not) (?:find|locate|be found)(?: it)?|(?:bolt |anchor )?missing|lost|not there`)},
	{registry.StateSpins, state(`spin(?:s|ning|ner)?|spinning (?:bolt|hanger|eye|anchor)|(?:bolt|hanger|eye|anchor|stud) (?:spins|spinning|rotates|rotating|turns|turning)|rotates|rotating|turns|turning|spins (?:freely|in hole|easily|slightly|a bit|a little)`)},
	{registry.StateCrackedGlue, state(`(?:cracked|cracking|broken|crumbling|loose) (?:glue|resin|adhesive|epoxy|mortar)|(?:glue|resin|adhesive|epoxy|mortar)(?: is)? (?:cracked|cracking|broken|crumbling)|cracks? in (?:the )?(?:glue|resin|adhesive)`)},
	{registry.StateHangerBent, state(`(?:hanger|plate)(?: is)? (?:bent|deformed|twisted)|(?:bent|deformed|twisted) (?:hanger|plate)`)},
	{registry.StateLooseNut, state(`(?:loose|slack) nut|nut(?: is)? (?:loose|slack|undone|backing off)|nut came loose`)},
	{registry.StateSurfaceRust, state(`(?:some |slight |light |a bit of |a little |minor )?(?:surface|superficial) (?:rust|corrosion)|(?:slightly|a bit|a little|lightly) rusty|(?:slight|light|minor) (?:rust|corrosion)|surface rusty`)},
	{registry.StateRusty, state(`(?:very |badly |quite |heavily )?(?:rusty|rusted|rusting|corroded)|(?:bad |heavy |some |severe )?(?:rust|corrosion)`)},
	{registry.StateOK, state(`ok|okay|o\.k|all ok|good|very good|fine|excellent|sound|solid|as new|like new|new|satisfactory|good condition|in good condition|no (?:problems?|issues?|faults?|rust|defects?)|all good|looks (?:ok|good|fine)|seems (?:ok|good|fine)|✓|✔|yes`)},
}

// looseWords speak of something that moves without saying what.
var looseWords = state(`loose|(?:bolt|anchor|eye|hanger)(?: is)? loose|loose (?:bolt|anchor|eye|hanger)|wobbly|wobbles|moves|moving|bolt moves`)

func state(pattern string) *regexp.Regexp { return regexp.MustCompile(`^(?:` + pattern + `)$`) }

// gravity orders the states a cell may name side by side, gravest first.
var gravity = []registry.ListState{
	registry.StateReplaced, registry.StateRemoved, registry.StateNotFound, registry.StateSpins,
	registry.StateCrackedGlue, registry.StateHangerBent, registry.StateLooseNut, registry.StateRusty,
	registry.StateSurfaceRust, registry.StateOther, registry.StateOK,
}

var stateSeparators = regexp.MustCompile(` ?[,;+&] ?| and | but |\. | - |([a-z]) ?/ ?`)

// readState returns the gravest state that a cell names. It reports false if
// any part of it was not understood; the state is then StateOther, unless
// another part names a grave one.
func readState(text string) (stated, bool) {
	whole := plain(text)
	if isUnknown(whole) {
		return stated{}, true
	}
	if s, ok := oneState(whole); ok {
		return s, true
	}
	worst, all := stated{state: registry.StateOK}, true
	for _, part := range stateSeparators.Split(stateSeparators.ReplaceAllString(whole, "$1;"), -1) {
		s, ok := oneState(part)
		if !ok {
			s, all = stated{state: registry.StateOther}, false
		}
		if s.state != "" && slices.Index(gravity, s.state) < slices.Index(gravity, worst.state) {
			worst = s
		}
	}
	return worst, all
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
	for _, s := range stateWords {
		if m := s.pattern.FindStringSubmatch(text); m != nil {
			out := stated{state: s.state}
			if len(m) > 1 {
				out.date = m[1]
			}
			return out, true
		}
	}
	return stated{}, false
}

// state reads the state of the anchor and holds it against the form.
func (r *reader) state(i int) {
	row := &r.list.Rows[i]
	row.StateWords = r.text(i, FieldState)
	s, understood := readState(row.StateWords)
	row.State = s.state
	switch {
	case !understood:
		r.doubt(i, FieldState, registry.DoubtStateNotRead)
	case s.guessed:
		r.doubt(i, FieldState, registry.DoubtStateGuessed, "taken", string(s.state))
	}
	if misfits(row) {
		r.doubt(i, FieldState, registry.DoubtStateFormMisfit, "form", string(row.Form))
	}
	if s.state == registry.StateReplaced {
		r.replaced(i, s.date)
	}
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
	s, err := calendar.ParseSpan(text, r.orders[FieldSetOn], r.asOf)
	switch {
	case err != nil:
		r.doubt(i, FieldState, dateDoubt(err))
	case s.Known() && row.SetOn.From > s.To:
		r.doubt(i, FieldState, registry.DoubtSetAfterReplace, "set_on", row.SetOn.From.String())
	default:
		row.ReplacedOn.From, row.ReplacedOn.To = s.From, s.To
	}
}

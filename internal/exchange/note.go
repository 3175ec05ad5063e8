package exchange

import (
	"regexp"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// NotesOf says what a row's notes would become if somebody accepts it: each
// with the part of the note it rests on, in the order of the text. asOf is the
// day on which the list is read.
//
// Only what is known as a whole, from one separator to the next, is taken;
// words not known and words denied become nothing, nor does what stands behind
// a denial in the same sentence: of "no rust, hollow" it cannot be told how far
// the "no" reaches. Of an anchor that is gone only what is true of its place is
// taken.
//
// What words mean is common practice, no source.
func NotesOf(row *registry.ListRow, asOf calendar.Date) []registry.Noted {
	if row.Notes == "" {
		return nil
	}
	n := notes{row: row, asOf: asOf}
	for _, sentence := range fullStops.Split(tidy(row.Notes), -1) {
		n.sentence(sentence)
	}
	return n.found
}

// notes gathers what the notes of one row would become.
type notes struct {
	row   *registry.ListRow
	asOf  calendar.Date
	found []registry.Noted
}

var (
	// fullStops part a text into sentences; one within a date is none.
	fullStops = regexp.MustCompile(`[;|\n]|[.!](?:\s|$)`)
	joints    = regexp.MustCompile(`\s(?:and|plus|but)\s|\s?[&+]\s?`)
	denials   = regexp.MustCompile(`(?:^|\W)(?:no|not|never|none|nor|without|hardly|stopped|lifted|ended|\w+n't|dont|doesnt|isnt|wont|cannot)(?:\W|$)`)
)

// sentence reads the clauses of a sentence up to one that is denied.
func (n *notes) sentence(text string) {
	for _, clause := range strings.Split(text, ",") {
		if n.clause(clause) {
			continue
		}
		if denials.MatchString(plain(clause)) {
			return
		}
		for _, part := range joints.Split(clause, -1) {
			n.clause(part)
		}
	}
}

// clause keeps what one clause would become, and reports false if it is not
// known.
func (n *notes) clause(text string) bool {
	words := strings.Trim(tidy(text), " .!()[]\"")
	said := plain(words)
	if said == "" || len(words) > registry.MaxName {
		return false
	}
	for _, read := range noteReaders {
		v, known := read(n, said)
		if !known {
			continue
		}
		if v.Kind != "" && n.wanted(&v) {
			v.Words = words
			n.found = append(n.found, v)
		}
		return true
	}
	return false
}

// noteReaders read one clause, folded, the first that knows it. What they know
// but nothing comes of has no kind.
var noteReaders = []func(*notes, string) (registry.Noted, bool){
	(*notes).restriction,
	(*notes).agreement,
	(*notes).role,
	(*notes).date,
	(*notes).environment,
	(*notes).observation,
}

// wanted leaves out what the row says elsewhere, what was said before, and what
// is seen of an anchor that is gone.
func (n *notes) wanted(v *registry.Noted) bool {
	for _, said := range n.found {
		said.Words = ""
		if said.Key() == v.Key() {
			return false
		}
	}
	gone := n.row.State == registry.StateRemoved || n.row.State == registry.StateReplaced
	switch v.Kind {
	case registry.ProposesRole:
		return v.Role != n.row.Role
	case registry.ProposesObservation:
		return !gone && stateObservation[n.row.State] != v.Observation
	case registry.ProposesDate:
		return !gone
	}
	return true
}

// clauseWords matches whole clauses, folded.
func clauseWords(pattern string) *regexp.Regexp { return regexp.MustCompile(`^(?:` + pattern + `)$`) }

// hedge is what may stand before what was seen, and changes nothing.
const hedge = `(?:(?:a )?(?:bit|little|touch)|slightly|somewhat|quite|very|rather|still|sounds?|seems|feels|rock|it) `

// stateObservation says what a row's state observes, as the intake does.
var stateObservation = map[registry.ListState]registry.Observation{
	registry.StateSpins:       registry.Spins,
	registry.StateLooseNut:    registry.LooseNut,
	registry.StateRusty:       registry.Rust,
	registry.StateSurfaceRust: registry.SurfaceRust,
	registry.StateCrackedGlue: registry.CrackedGlue,
	registry.StateHangerBent:  registry.HangerBent,
	registry.StateUnsafe:      registry.CalledUnsafe,
}

// seenNotes say what was seen that a list has no state for.
var seenNotes = []struct {
	pattern *regexp.Regexp
	seen    registry.Observation
}{
	{clauseWords(`(?:` + hedge + `)*(?:hollow|drummy)(?:[ -](?:sound(?:ing|s)?|rock))?(?: when tapped)?(?: round (?:it|bolt|anchor))?`), registry.HollowSound},
	{clauseWords(`(?:` + hedge + `)*tea[ -]stain(?:s|ing|ed)?`), registry.TeaStaining},
	{clauseWords(`(?:rock(?: is)? cracked|cracked rock|crack in (?:the )?rock|rock cracked round (?:it|bolt|anchor))`), registry.CrackedRock},
	{clauseWords(`(?:do not|don't|dont) (?:use|clip|trust)(?: it| this| this one)?|unsafe|dangerous|condemned|out of use`), registry.CalledUnsafe},
}

func (n *notes) observation(said string) (registry.Noted, bool) {
	for _, w := range seenNotes {
		if w.pattern.MatchString(said) {
			return registry.Noted{Kind: registry.ProposesObservation, Observation: w.seen}, true
		}
	}
	for _, w := range stateWords {
		seen, ok := stateObservation[w.state]
		if ok && w.pattern.MatchString(said) {
			return registry.Noted{Kind: registry.ProposesObservation, Observation: seen}, true
		}
	}
	return registry.Noted{}, false
}

var (
	onlyWords = regexp.MustCompile(`^(?:(?:now |only )?(?:used |use )?(?:as |for )(?:a |the )?)?(.*?)(?: (?:only|bolt|anchor|point|bolts))*$`)
	// loneRoles are those words that say what an anchor is for even with nothing
	// beside them.
	loneRoles = clauseWords(`low(?:er)?[ -]?offs?|abseil(?: point)?|rap(?:pel)?(?: (?:point|anchor|station))|rebelay|deviation|handline|back[ -]?up`)
	roleMarks = regexp.MustCompile(`(?:^| )(?:only|as|for|point|station)(?: |$)`)
)

func (n *notes) role(said string) (registry.Noted, bool) {
	if !roleMarks.MatchString(said) && !loneRoles.MatchString(said) {
		return registry.Noted{}, false
	}
	m := onlyWords.FindStringSubmatch(said)
	if m == nil {
		return registry.Noted{}, false
	}
	name := strings.TrimSuffix(strings.ReplaceAll(m[1], "-", " "), "ing")
	switch name {
	case "low off", "low offs", "lower", "lower off", "loweroff", "lowering":
		return registry.Noted{Kind: registry.ProposesRole, Role: registry.LowerOff}, true
	}
	for _, w := range roleWords {
		for _, word := range w.words {
			if word == name {
				return registry.Noted{Kind: registry.ProposesRole, Role: w.role}, true
			}
		}
	}
	return registry.Noted{}, false
}

var asking = []*regexp.Regexp{
	clauseWords(`(?:please |always |must )?(?:ask|phone|ring|call|contact|tell|inform|notify|speak to|check with|see) (?:the |local )?` + landPeople + `(?: (?:first|before(?: .{1,40})?|beforehand|for permission|in advance))`),
	clauseWords(`(?:please |always |must )?(?:ask|phone|ring|contact) (?:the |local )?` + landPeople),
	clauseWords(`(?:` + landPeople + `(?:'s|s'|s)? )?(?:permission|permit|consent) (?:is )?(?:needed|required|necessary)(?: from (?:the )?` + landPeople + `)?`),
	clauseWords(`(?:only )?(?:with|by) (?:the )?(?:permission of (?:the )?` + landPeople + `|` + landPeople + `'s permission)(?: only)?`),
}

const landPeople = `(?:farmers?|farm|land ?-?owners?|owner|estate(?: office)?|wardens?|rangers?|game ?keepers?|keeper|tenant|land manager|quarry(?: office)?|site office|forester)`

func (n *notes) agreement(said string) (registry.Noted, bool) {
	for _, p := range asking {
		if p.MatchString(said) {
			return registry.Noted{Kind: registry.ProposesAgreement}, true
		}
	}
	return registry.Noted{}, false
}

// wetNotes say how wet a place is, and whether rain reaches it.
var wetNotes = []struct {
	pattern *regexp.Regexp
	wetness registry.Wetness
	washed  string // "yes", "no"; empty: not said
}{
	{clauseWords(`(?:water )?drip(?:s|ping|py)?(?: (?:on|onto|over|down|above)(?: the| this)? (?:bolt|anchor|hanger|it|eye|head|belay))?(?: (?:a lot|always|in winter|after rain))?`), registry.Dripping, ""},
	{clauseWords(`(?:always|often|usually|permanently|very) (?:wet|damp|seeping)|seep(?:s|ing|age)?(?: (?:line|above|over (?:the )?(?:bolt|anchor)))?|wet streak`), registry.Dripping, ""},
	{clauseWords(`in (?:the )?(?:stream(?:way)?|waterfall|spray|water)|spray from (?:the )?(?:stream|waterfall|pitch)`), registry.Stream, ""},
	{clauseWords(`(?:always|bone|permanently) dry`), registry.Dry, ""},
	{clauseWords(`(?:rain[ -]?washed|washed by (?:the )?rain|(?:well |gets )washed)`), "", "yes"},
	{clauseWords(`(?:never|not) (?:washed by (?:the )?rain|rain[ -]?washed|rained on)|(?:under|below) (?:the |a )?(?:roof|overhang),? never (?:wet|washed)|sheltered from (?:the )?rain|rain never (?:reaches|gets to) it`), "", "no"},
}

func (n *notes) environment(said string) (registry.Noted, bool) {
	for _, w := range wetNotes {
		if !w.pattern.MatchString(said) {
			continue
		}
		v := registry.Noted{Kind: registry.ProposesEnvironment, Wetness: w.wetness}
		if w.washed != "" {
			washed := w.washed == "yes"
			v.Washed = &washed
		}
		return v, true
	}
	return registry.Noted{}, false
}

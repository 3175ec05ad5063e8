package wording

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// EvidenceHelp says what evidence rests on and what it leaves out.
const EvidenceHelp = "Taken from the log of changes and the history of what was shown, cut at the end of the day in the group's " +
	"time zone. What counts is when something was recorded here, not when it happened. Names of people are those of today, " +
	"and words are read from the rows themselves: the log holds their seals. Landowners, agreements and restrictions are left out."

// Sentences of evidence.
const (
	EvidenceKnewNothing  = "The register knew nothing of this anchor on that day: it was entered later."
	EvidenceShownNothing = "By the end of that day the register had shown nothing about this anchor."
	EvidenceNothingAfter = "Nothing that bears on this anchor was recorded, changed or shown otherwise after that day."
)

// EvidenceOn heads evidence: "What was known at the end of 3 May 2026
// (Europe/London)".
func EvidenceOn(day calendar.Date, zone string) string {
	return "What was known at the end of " + day.Words() + " (" + zone + ")"
}

// EvidenceLine is one thing that bears on an anchor, with who recorded it and
// when.
type EvidenceLine struct {
	At    time.Time     // when it was recorded, changed or shown
	On    calendar.Span // when it happened; not known for inventory and what was shown
	Who   string        // "An Example"; empty for what was shown
	Words string
	// Record says that it is about something done, not about what is or was there.
	Record bool
	Gone   bool                 // a later record replaces it or takes it back
	Line   *registry.LedgerLine // nil: it was shown
	Row    *registry.HistoryRow // what was shown; nil: it is a line of the log
}

// Shown says that the line is about what the register showed.
func (l EvidenceLine) Shown() bool { return l.Row != nil }

// EvidenceKnown tells each row that bears on the anchor as it was known: records
// as sentences, everything else by what is filled in. In the order in which
// the rows were first entered.
func EvidenceKnown(e registry.Evidence) []EvidenceLine {
	t := newEvidenceTeller(&e, &e.Then)
	state := registry.State(e.KnownLines())
	lines := make([]EvidenceLine, 0, len(state))
	for i := range state {
		lines = append(lines, t.known(&state[i]))
	}
	return lines
}

// EvidenceAfter tells what was recorded, changed and shown after the evidence is
// cut, in the order of time.
func EvidenceAfter(e registry.Evidence) []EvidenceLine {
	t := newEvidenceTeller(&e, &e.Now)
	var lines []EvidenceLine
	later := e.LaterLines()
	for i := range later {
		lines = append(lines, t.changed(&later[i]))
	}
	for _, h := range slices.Backward(e.ShownLater) {
		lines = append(lines, EvidenceLine{At: h.At, Words: shown(h), Row: &h})
	}
	slices.SortStableFunc(lines, func(a, b EvidenceLine) int { return a.At.Compare(b.At) })
	return lines
}

// EvidenceShown says what the register showed at the end of a day: "Shown as:
// watch; inspect by 2 May 2026: overdue." Whether the date had passed by then is
// overdue's to say: the row itself knows it of the instant it was written only.
func EvidenceShown(h registry.HistoryRow, overdue bool) string {
	h.DueState = ""
	if overdue {
		h.DueState = registry.Overdue
	}
	return capital(strings.TrimPrefix(shown(h), "From then on "))
}

// Actor says who an entry of the log refers to: a member's or token's name, or
// the reference itself.
func Actor(who string, names map[string]string) string {
	name, known := names[who]
	switch {
	case !known && strings.HasPrefix(who, "account:"):
		return "somebody who is no longer a member (" + who + ")"
	case !known:
		return who
	case strings.HasPrefix(who, "token:"):
		return "the token “" + name + "”"
	}
	return name
}

// evidenceTeller says lines of the log with what a story knows.
type evidenceTeller struct {
	actors  map[string]string
	records map[uuid.UUID]HistoryLine
	names   rowNames
	lists   map[uuid.UUID]registry.ListOrigin
}

func newEvidenceTeller(e *registry.Evidence, s *registry.AnchorStory) *evidenceTeller {
	t := evidenceTeller{actors: e.Actors, records: make(map[uuid.UUID]HistoryLine), names: namesIn(s), lists: e.Lists}
	for _, l := range History(*s) {
		if !l.Shown() {
			t.records[l.ID] = l
		}
	}
	return &t
}

// known says a row as it stands.
func (t *evidenceTeller) known(l *registry.LedgerLine) EvidenceLine {
	if line, ok := t.record(l); ok {
		return line
	}
	if words := t.listed(l); words != "" {
		return EvidenceLine{At: l.At, Who: Actor(l.Who, t.actors), Line: l, Words: words}
	}
	said := t.names.row(l.After)
	return EvidenceLine{At: l.At, Who: Actor(l.Who, t.actors), Line: l, Words: joined(RowNoun(l.Noun), said) + "."}
}

// changed says what became of a row.
func (t *evidenceTeller) changed(l *registry.LedgerLine) EvidenceLine {
	if line, ok := t.record(l); ok {
		return line
	}
	noun, words := RowNoun(l.Noun), t.listed(l)
	if words != "" {
		return EvidenceLine{At: l.At, Who: Actor(l.Who, t.actors), Line: l, Words: words}
	}
	switch {
	case l.Before == "":
		words = joined(noun+" entered", t.names.row(l.After))
	case l.After == "":
		words = joined(noun+" taken away", t.names.row(l.Before))
	default:
		words = joined(noun+" changed", t.names.difference(l.Before, l.After))
	}
	return EvidenceLine{At: l.At, Who: Actor(l.Who, t.actors), Line: l, Words: words + "."}
}

// record says a record as the anchor's history does.
func (t *evidenceTeller) record(l *registry.LedgerLine) (EvidenceLine, bool) {
	r, ok := t.records[l.RowID]
	return EvidenceLine{At: l.At, On: r.On, Who: Actor(l.Who, t.actors), Words: r.Words, Record: true, Gone: r.Gone, Line: l}, ok
}

// listed says that a list was taken over which has the anchor; empty: the line
// says something else.
func (t *evidenceTeller) listed(l *registry.LedgerLine) string {
	origin, ok := t.lists[l.RowID]
	if !ok || l.Noun != "import" {
		return ""
	}
	return "The anchor came from " + lineWords(origin.Lines) + " of the list “" + origin.FileName + "” taken over."
}

// lineWords names lines of a file: "line 3", "lines 3 and 7".
func lineWords(lines []int) string {
	texts := make([]string, len(lines))
	for i, n := range lines {
		texts[i] = strconv.Itoa(n)
	}
	if len(texts) == 1 {
		return "line " + texts[0]
	}
	last := len(texts) - 1
	return "lines " + strings.Join(texts[:last], ", ") + " and " + texts[last]
}

// joined puts what is said of a row behind its noun.
func joined(noun string, said []string) string {
	if len(said) == 0 {
		return noun
	}
	return noun + ": " + strings.Join(said, "; ")
}

var rowNouns = map[string]string{
	"anchor": "The anchor", "fitting": "A fitting", "picture": "A picture", "position": "The position", "site": "The site",
	"sector": "The sector", "route": "A route", "route_position": "The position on a route", "assembly": "An assembly",
	"assembly_position": "The position in an assembly", "product": "A product", "product_version": "A product's sheet",
	"batch": "A batch", "gluing_session": "The gluing session", "environment": "The surroundings", "event": "An event at the site",
	"notice": "A notice", "notice_anchor": "The anchor named in a notice", "installation": "The setting", "cure": "A look at the cure",
	"first_use": "Leave for first use", "inspection": "An inspection", "maintenance": "Maintenance", "removal": "A removal",
	"marking": "A marking", "settlement": "A settlement", "retraction": "A retraction",
	"import_undo": "Taking a list back",
}

// RowNoun names what a row of the log is about.
func RowNoun(table string) string {
	return cmp.Or(rowNouns[table], capital(strings.ReplaceAll(table, "_", " ")))
}

// EvidenceBy says who recorded something, and in the course of what: "Recorded
// by An Example (anchor changed)".
func EvidenceBy(who, what string) string { return "Recorded by " + who + by(what) }

package registry

import (
	"bytes"
	"encoding/json"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
)

// Value is one named value behind a finding or candidate, as canonical text:
// a number without unit (the unit is the name's suffix), a date as 2006-01-02,
// a word of a closed list, or under a name that ends in "_id" what the finding
// rests on, which is for matching and not for people. Ages are never values,
// since they change by themselves.
type Value struct{ Name, Text string }

// Values are the values behind a finding or candidate, in the order in which
// the rule names them.
type Values []Value

// Text returns the value called name, or "".
func (v Values) Text(name string) string {
	for _, x := range v {
		if x.Name == name {
			return x.Text
		}
	}
	return ""
}

// MarshalJSON writes one object, in order.
func (v Values) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, x := range v {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := json.Marshal(x.Name)
		if err != nil {
			return nil, err
		}
		text, err := json.Marshal(x.Text)
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(text)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// UnmarshalJSON reads one object of texts and keeps its order.
func (v *Values) UnmarshalJSON(data []byte) error {
	d := json.NewDecoder(bytes.NewReader(data))
	if _, err := d.Token(); err != nil {
		return err
	}
	out := Values{}
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return err
		}
		var text string
		if err := d.Decode(&text); err != nil {
			return err
		}
		out = append(out, Value{name.(string), text})
	}
	*v = out
	return nil
}

// Severity is how much a finding weighs.
type Severity string

// The severities, lightest first.
const (
	Note     Severity = "note"
	Watch    Severity = "watch"
	Suspect  Severity = "suspect"
	OutOfUse Severity = "out-of-use"
)

// Severities lists the severities, lightest first.
func Severities() []Severity { return []Severity{Note, Watch, Suspect, OutOfUse} }

// Rank orders severities, lightest 1; 0 for none.
func (s Severity) Rank() int {
	switch s { // asked for every finding of every anchor
	case Note:
		return 1
	case Watch:
		return 2
	case Suspect:
		return 3
	case OutOfUse:
		return 4
	}
	return 0
}

// Finding is one thing held against an anchor.
type Finding struct {
	Rule     string     `json:"rule"`
	Severity Severity   `json:"severity"`
	Values   Values     `json:"values"`
	Source   string     `json:"source"`
	Settles  string     `json:"settles"` // what would settle it: a word of wording's list
	RecordID *uuid.UUID `json:"record_id,omitempty"`
	// SettledBy is the settlement that answers the finding; nil: none does. A
	// settled finding is shown and weighs nothing.
	SettledBy *uuid.UUID `json:"settled_by,omitempty"`
}

// Weighs returns the severity that counts: none of a settled finding.
func (f *Finding) Weighs() Severity {
	if f.SettledBy != nil {
		return ""
	}
	return f.Severity
}

// Candidate is one date by which an anchor should be inspected, with its
// reason. The earliest wins; all are kept.
type Candidate struct {
	Rule   string        `json:"rule"`             // "interval", "first-inspection", "verdict", ...
	Factor string        `json:"factor,omitempty"` // for an interval: the factor that won
	On     calendar.Date `json:"on"`
	Values Values        `json:"values"`
	Source string        `json:"source"`
	// Hard candidates (verdict, notice, event, bad state) are never raised to
	// the end of a first round.
	Hard bool `json:"hard,omitempty"`
}

// Standing is what the register holds of an anchor. It certifies nothing.
type Standing string

// The standings. The first five are ordered, worst last; the last two stand
// outside the order.
const (
	NoProblem          Standing = "no-problem-on-record"
	StandingWatch      Standing = "watch"
	StandingSuspect    Standing = "suspect"
	NotInUseYet        Standing = "not-in-use-yet"
	StandingOutOfUse   Standing = "out-of-use"
	StandingNotLocated Standing = "not-located"
	StandingRemoved    Standing = "removed"
)

// Standings lists the standings, the ordered ones first, worst last.
func Standings() []Standing {
	return []Standing{
		NoProblem, StandingWatch, StandingSuspect, NotInUseYet, StandingOutOfUse,
		StandingNotLocated, StandingRemoved,
	}
}

// Rank orders the first five standings from 1, worst highest.
func (s Standing) Rank() int { return rankOf(s, Standings()) + 1 }

// DueState says how a due date stands to a day.
type DueState string

// The due states. A removed anchor has none.
const (
	AwaitingFirstRound DueState = "awaiting-first-round"
	NotDue             DueState = "not-due"
	DueSoon            DueState = "due-soon"
	Overdue            DueState = "overdue"
)

// DueStates lists the due states.
func DueStates() []DueState { return []DueState{AwaitingFirstRound, NotDue, DueSoon, Overdue} }

// Band is how urgent an anchor is, as a sentence rather than a number.
type Band string

// The bands, most urgent first.
const (
	BandNow         Band = "now"
	BandThisSeason  Band = "this-season"
	BandThisYear    Band = "this-year"
	BandWhenPassing Band = "when-passing"
)

// Bands lists the bands, most urgent first.
func Bands() []Band { return []Band{BandNow, BandThisSeason, BandThisYear, BandWhenPassing} }

// Rank orders bands, most urgent 1.
func (b Band) Rank() int { return rankOf(b, Bands()) + 1 }

// Consequence is what hangs on one anchor, worst first.
type Consequence int

// The consequences.
const (
	SinglePoint Consequence = iota + 1
	InAssembly
	OneOfMany // a runner, handline or aid among neighbours
)

// Assessment is all that is computed for one anchor as of one day.
type Assessment struct {
	AnchorID   uuid.UUID
	SiteID     uuid.UUID
	AsOf       calendar.Date
	Standing   Standing
	Findings   []Finding   // worst first, then by rule id
	Candidates []Candidate // earliest first, then by rule id
	// DueOn is the day by which to inspect; zero only for a removed anchor.
	DueOn calendar.Date
	// SoonestOn is the earliest candidate before the first round raised it.
	SoonestOn calendar.Date
	// Reason is the candidate that won, or the first round ("first-round").
	Reason      Candidate
	DueState    DueState
	Band        Band
	BandReason  string // a word of wording's list: why this band
	Consequence Consequence
	OldestOn    calendar.Date // earliest the anchor can have been set; zero: not known
	// ValidUntil is the last day on which, with no new fact, nothing above
	// changes; zero: never changes.
	ValidUntil   calendar.Date
	Engine       int // version of the computation
	RulesVersion int // version of the house rules
}

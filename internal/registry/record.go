package registry

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Record is what every record has in common. Records are never changed: a
// correction is a new record that names the one it replaces.
type Record struct {
	ID         uuid.UUID
	AnchorID   uuid.UUID
	DoneOn     calendar.Span // when it happened
	PersonID   *uuid.UUID    // who did it
	Words      string        // in the recorder's or list's own words
	Origin     Origin
	RecordedAt time.Time
	Replaces   *uuid.UUID
}

// validate checks a record made here: it says when, and not ahead of asOf.
func (r *Record) validate(c *fault.Checks, asOf calendar.Date) {
	c.Require(r.ID != uuid.Nil, "id", fault.Required)
	bounds := r.DoneOn.Validate()
	c.Nest("done_on", bounds)
	c.Require(r.DoneOn.Known() || bounds != nil, "done_on", fault.Required)
	c.Require(r.DoneOn.To <= asOf, "done_on", fault.DateAhead, "today", asOf.String())
	c.Require(r.Replaces == nil || *r.Replaces != r.ID, "replaces", fault.Mismatch)
}

// Level is how closely an anchor was inspected.
type Level string

// The levels, lowest first.
const (
	Glance  Level = "glance"   // from the ground or in passing
	HandsOn Level = "hands-on" // touched, turned, tapped
	Full    Level = "full"     // fittings off, torque or pull where the sheet allows
)

// Levels lists the levels, lowest first.
func Levels() []Level { return []Level{Glance, HandsOn, Full} }

// Rank orders levels, lowest 1; 0 for no level.
func (l Level) Rank() int { return rankOf(l, Levels()) + 1 }

// Verdict is what an inspector decided.
type Verdict string

// The verdicts; the empty verdict is none given.
const (
	Keep           Verdict = "keep"
	KeepWatching   Verdict = "watch"
	Repair         Verdict = "repair"
	TakeOutOfUse   Verdict = "take-out-of-use"
	verdictUnknown Verdict = ""
)

// Verdicts lists the verdicts, mildest first.
func Verdicts() []Verdict { return []Verdict{Keep, KeepWatching, Repair, TakeOutOfUse} }

// Observation is one thing seen at an anchor.
type Observation string

// The observations.
const (
	Spins        Observation = "spins" // something turns; what is not said
	AnchorTurns  Observation = "anchor-turns"
	HangerTurns  Observation = "hanger-turns"
	LooseNut     Observation = "loose-nut"
	Rust         Observation = "rust"
	SurfaceRust  Observation = "surface-rust"
	TeaStaining  Observation = "tea-staining"
	CrackedGlue  Observation = "cracked-glue"
	HangerBent   Observation = "hanger-bent"
	HollowSound  Observation = "hollow-sound"
	CrackedRock  Observation = "cracked-rock"
	CrackedMetal Observation = "cracked-metal"

	// What only a list says: its words are kept, and a person who looks records
	// what there is to see instead.
	CalledUnsafe Observation = "called-unsafe" // grave words that fit none of the above
	UnclearWords Observation = "unclear-words" // not understood
)

// Observations lists the observations: those that a person records, then those
// that only a list makes.
func Observations() []Observation { return append(SeenObservations(), CalledUnsafe, UnclearWords) }

// SeenObservations lists the observations that a person records.
func SeenObservations() []Observation {
	return []Observation{
		Spins, AnchorTurns, HangerTurns, LooseNut, Rust, SurfaceRust, TeaStaining, CrackedGlue,
		HangerBent, HollowSound, CrackedRock, CrackedMetal,
	}
}

// ListOnly says whether only a list makes the observation.
func (o Observation) ListOnly() bool { return o == CalledUnsafe || o == UnclearWords }

// Inspection is what somebody saw at an anchor and decided.
type Inspection struct {
	Record
	Level Level
	// Found is false when the anchor was looked for and not found. Nil: not
	// said, which is the same as found.
	Found        *bool
	Observations []Observation
	Verdict      Verdict
	InspectBy    calendar.Date // set with "watch" or "repair"; zero: none
	Measured     []Measurement
	// Ticked is false for an anchor that a bulk entry covered without being
	// ticked one by one: such an inspection resets nothing.
	Ticked bool
	// OfNote is the proposal that it was made of. Nil: it was made otherwise.
	OfNote *uuid.UUID
}

// Measurement is the thinnest section that an inspector measured, of a fitting
// or, without one, of the anchor's eye.
type Measurement struct {
	FittingID *uuid.UUID       `json:"fitting_id,omitempty"`
	Left      quantity.Length  `json:"left_mm"`
	New       *quantity.Length `json:"new_mm,omitempty"` // when new, if not on record
}

// NotFound says that the anchor was looked for and not found.
func (i *Inspection) NotFound() bool { return i.Found != nil && !*i.Found }

// newSize says a thickness in mm; blank if it is not known.
func newSize(l *quantity.Length) string {
	if l == nil {
		return ""
	}
	return number(l.Millimetres())
}

// Validate reports every violation, keyed by JSON name.
func (i *Inspection) Validate(asOf calendar.Date) error {
	var c fault.Checks
	i.validate(&c, asOf)
	checkListed(&c, "level", i.Level, Levels())
	checkListedOrBlank(&c, "verdict", i.Verdict, Verdicts())
	for _, o := range i.Observations {
		checkListed(&c, "observations", o, Observations())
		c.Require(i.Origin != Recorded || !o.ListOnly(), "observations", fault.NotAllowed)
	}
	for _, m := range i.Measured {
		checkLength(&c, "measured.left_mm", &m.Left, 100)
		checkLength(&c, "measured.new_mm", m.New, 100)
		c.Require(m.New == nil || m.Left <= *m.New, "measured.left_mm", fault.Order, "new_mm", newSize(m.New))
	}
	dated := i.Verdict == KeepWatching || i.Verdict == Repair
	c.Require(i.InspectBy.IsZero() || dated, "inspect_by", fault.Mismatch)
	c.Require(i.InspectBy.IsZero() || i.InspectBy >= i.DoneOn.From, "inspect_by", fault.Order)
	c.Require(!i.NotFound() || len(i.Observations) == 0, "observations", fault.Mismatch)
	c.Require(!i.NotFound() || i.Verdict == verdictUnknown, "verdict", fault.Mismatch)
	return c.Err()
}

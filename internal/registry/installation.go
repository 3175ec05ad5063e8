package registry

import (
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Sound is how the rock sounded under the hammer.
type Sound string

// The sounds, best first; the empty sound is not known.
const (
	Ringing Sound = "ringing"
	Dull    Sound = "dull"
	Hollow  Sound = "hollow" // hollow, cracked or loose
)

// Sounds lists the sounds, best first.
func Sounds() []Sound { return []Sound{Ringing, Dull, Hollow} }

// Moisture is how wet a hole was.
type Moisture string

// The moistures, driest first; the empty moisture is not known.
const (
	HoleDry     Moisture = "dry"
	HoleDamp    Moisture = "damp"
	Saturated   Moisture = "saturated"
	WaterFilled Moisture = "water-filled"
	RunningIn   Moisture = "running-in" // water runs in
)

// Moistures lists the moistures, driest first.
func Moistures() []Moisture {
	return []Moisture{HoleDry, HoleDamp, Saturated, WaterFilled, RunningIn}
}

// HoleState says where a hole came from.
type HoleState string

// The states of a hole; the empty state is not known.
const (
	HoleNew      HoleState = "new"
	HoleReused   HoleState = "reused"
	HoleEnlarged HoleState = "enlarged"
)

// HoleStates lists the states of a hole.
func HoleStates() []HoleState { return []HoleState{HoleNew, HoleReused, HoleEnlarged} }

// Installation is the record of setting an anchor. Its fields stand in the order
// of the card: first the short line, then what stands under "more". Each may be
// left open; a nil bool is not recorded, which is not "no". What it leaves open
// and its session states is the session's.
type Installation struct {
	Record
	SessionID *uuid.UUID

	Form       Form       // as set; empty: not recorded, then the anchor's
	HardwareID *uuid.UUID // product as set; nil: not recorded, then the anchor's

	HoleDiameter *quantity.Length
	HoleDepth    *quantity.Length
	// CleaningCycles counts rounds of blowing and brushing; 0: not cleaned.
	CleaningCycles *int
	Moisture       Moisture
	SetAt          calendar.Moment

	// Under "more".
	AdhesiveID        *uuid.UUID // product
	BatchID           *uuid.UUID
	Rock              RockClass // at the hole
	RockWords         string
	RockSound         Sound
	CracksSeen        *bool
	EdgeDistance      *quantity.Length
	NeighbourDistance *quantity.Length
	AngleDeg          *float64 // off square to the face, 0 to 90
	Embedded          *quantity.Length
	RecessCut         *bool // in the direction of pull
	DryFit            *bool
	FromBottom        *bool // injected from the bottom of the hole out
	FillPct           *float64
	Turned            *bool // turned while setting; never asked of a staple
	AsDrawn           *bool // set as the product's drawing shows
	SurplusWiped      *bool // surplus wiped and gaps filled
	Hole              HoleState
	OldHoleDistance   *quantity.Length
	TorqueNM          *float64 // expansion anchors
	TorqueTool        string
}

// Validate reports every violation, keyed by JSON name.
func (i *Installation) Validate(asOf calendar.Date) error {
	var c fault.Checks
	i.validate(&c, asOf)
	checkListedOrBlank(&c, "form", i.Form, Forms())
	checkLength(&c, "hole_diameter_mm", i.HoleDiameter, 100)
	checkLength(&c, "hole_depth_mm", i.HoleDepth, 1000)
	c.Require(i.CleaningCycles == nil || *i.CleaningCycles >= 0 && *i.CleaningCycles <= 99, "cleaning_cycles", fault.OutOfRange, "from", "0", "to", "99")
	checkListedOrBlank(&c, "moisture", i.Moisture, Moistures())
	c.Nest("set_at", i.SetAt.Validate())
	checkListedOrBlank(&c, "rock", i.Rock, RockClasses())
	c.Require(len(i.RockWords) <= MaxName, "rock_words", fault.TooLong)
	checkListedOrBlank(&c, "rock_sound", i.RockSound, Sounds())
	checkLength(&c, "edge_distance_mm", i.EdgeDistance, 100_000)
	checkLength(&c, "neighbour_distance_mm", i.NeighbourDistance, 100_000)
	checkShare(&c, "angle_deg", i.AngleDeg, 90)
	checkLength(&c, "embedded_length_mm", i.Embedded, 1000)
	fits := i.Embedded == nil || i.HoleDepth == nil || *i.Embedded <= *i.HoleDepth
	c.Require(fits, "embedded_length_mm", fault.Mismatch, "with", "hole_depth_mm")
	checkShare(&c, "fill_pct", i.FillPct, 100)
	c.Require(i.Turned == nil || i.Form != Staple, "turned", fault.Mismatch)
	checkListedOrBlank(&c, "hole", i.Hole, HoleStates())
	checkLength(&c, "old_hole_distance_mm", i.OldHoleDistance, 100_000)
	checkShare(&c, "torque_nm", i.TorqueNM, 500)
	c.Require(len(i.TorqueTool) <= MaxName, "torque_tool", fault.TooLong)
	return c.Err()
}

// checkShare wants a number from 0 to most where one is given.
func checkShare(c *fault.Checks, field string, v *float64, most float64) {
	if v != nil {
		c.Require(*v >= 0 && *v <= most, field, fault.OutOfRange, "from", "0", "to", number(most))
	}
}

// Gluing is one session with the anchors set in it, as it is entered together.
// Anchors that are new come with their installations.
type Gluing struct {
	Session GluingSession
	// BatchText names the session's batch as printed, where its id is not given:
	// that batch of the adhesive is found, or made.
	BatchText     string
	Anchors       []Anchor // those that are new
	Installations []Installation
}

// Cure is what somebody found out about the setting of a bonded anchor: how cold
// the rock became until release, what the label said, or that it was loaded
// early. The time itself is computed; see CureTime.
type Cure struct {
	Record
	InstallationID *uuid.UUID // nil: that of the anchor's setting
	LowestC        *Reading   // the coldest the rock was until release
	// What the person read off the label, for a product without a sheet here.
	LabelWorkingMinutes *int
	LabelCureMinutes    *int
	LabelC              *quantity.Temperature // the row that was read
	LoadedAt            calendar.Moment       // first loaded; not known: not on record
}

// Validate reports every violation, keyed by JSON name.
func (u *Cure) Validate(asOf calendar.Date) error {
	var c fault.Checks
	u.validate(&c, asOf)
	checkReading(&c, "lowest_c", u.LowestC)
	checkMinutes(&c, "label_working_minutes", u.LabelWorkingMinutes)
	checkMinutes(&c, "label_cure_minutes", u.LabelCureMinutes)
	checkTemperature(&c, "label_c", u.LabelC)
	c.Nest("loaded_at", u.LoadedAt.Validate())
	said := u.LowestC != nil || u.LabelWorkingMinutes != nil || u.LabelCureMinutes != nil || u.LoadedAt.Known() || u.Words != ""
	c.Require(said, "words", fault.Blank)
	return c.Err()
}

// MaxMinutes is the longest working or cure time: ninety days.
const MaxMinutes = 90 * 24 * 60

func checkMinutes(c *fault.Checks, field string, m *int) {
	if m != nil {
		c.Require(*m > 0 && *m <= MaxMinutes, field, fault.OutOfRange, "from", "1", "to", number(MaxMinutes))
	}
}

// SampleState is what became of the sample of mixed adhesive that was kept.
type SampleState string

// The states of a sample; the empty state is not recorded.
const (
	SampleHard SampleState = "hard"
	SampleSoft SampleState = "soft"
	SampleNone SampleState = "none-kept"
)

// SamplesFound lists what a sample that was kept can be found to be.
func SamplesFound() []SampleState { return []SampleState{SampleHard, SampleSoft} }

// SampleStates lists the states of a sample.
func SampleStates() []SampleState { return []SampleState{SampleHard, SampleSoft, SampleNone} }

// FirstUse is a named person's word that an anchor may be used. Time alone
// never gives it.
type FirstUse struct {
	Record
	At     calendar.Moment // when it was allowed; not known: some time on that day
	Sample SampleState     // the kept sample, when it was looked at
}

// Validate reports every violation, keyed by JSON name.
func (f *FirstUse) Validate(asOf calendar.Date) error {
	var c fault.Checks
	f.validate(&c, asOf)
	c.Require(f.PersonID != nil, "person_id", fault.Required)
	c.Nest("at", f.At.Validate())
	checkListedOrBlank(&c, "sample", f.Sample, SampleStates())
	c.Require(f.Sample != SampleSoft, "sample", fault.NotAllowed, "sample", string(SampleSoft))
	return c.Err()
}

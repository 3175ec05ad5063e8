package registry

import (
	"strconv"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
)

// Form is how an anchor holds in the rock.
type Form string

// The forms; the empty form is not known.
const (
	SingleShank     Form = "glue-in-single-shank" // eye or ring bolt with one shank
	TwistedLeg      Form = "twisted-leg"          // two legs twisted in one hole, bonded
	Staple          Form = "staple"               // two legs in two holes, bonded
	GlueIn          Form = "glue-in"              // bonded, shape not known
	BondedStud      Form = "bonded-stud"          // threaded rod in resin, with a hanger
	ThroughBolt     Form = "through-bolt"
	WedgeAnchor     Form = "wedge-anchor"
	SleeveAnchor    Form = "sleeve-anchor"
	ExpansionBolt   Form = "expansion-bolt" // expansion, kind not known
	ConcreteScrew   Form = "concrete-screw"
	SelfDrillSleeve Form = "self-drill-sleeve"
	DriveIn         Form = "drive-in"
	Piton           Form = "piton"
)

// Forms lists the forms.
func Forms() []Form {
	return []Form{
		SingleShank, TwistedLeg, Staple, GlueIn, BondedStud, ThroughBolt, WedgeAnchor, SleeveAnchor,
		ExpansionBolt, ConcreteScrew, SelfDrillSleeve, DriveIn, Piton,
	}
}

// Bonded says whether resin or mortar holds anchors of this form. It is false
// for a form that is not known too: where that matters, ask Facts.Bonded.
func (f Form) Bonded() bool {
	switch f {
	case SingleShank, TwistedLeg, Staple, GlueIn, BondedStud:
		return true
	}
	return false
}

// Expansion says whether the anchor holds by pressing against the hole.
func (f Form) Expansion() bool {
	switch f {
	case ThroughBolt, WedgeAnchor, SleeveAnchor, ExpansionBolt:
		return true
	}
	return false
}

// Origin says how a noun or record came into the register.
type Origin string

// The origins.
const (
	Recorded Origin = "recorded" // entered here by a person
	Imported Origin = "imported" // taken over from a list
)

// Anchor is one bolt, staple or eye in the rock, from set to removed.
type Anchor struct {
	ID         uuid.UUID
	Version    int
	SiteID     uuid.UUID
	PositionID uuid.UUID
	Form       Form
	FormWords  string // the type as written on a list
	Metal      metal.Set
	MetalWords string
	ProductID  *uuid.UUID // hardware
	Shank      *quantity.Length
	Length     *quantity.Length // overall, not embedded
	SetOn      calendar.Span
	// RemovedOn is known in words even when its dates are not; Removed says
	// that the anchor is no longer in the rock.
	Removed   bool
	RemovedOn calendar.Span
	// Mistaken says that it was entered by mistake and never was. Such an
	// anchor counts as removed and is on no list.
	Mistaken  bool
	Origin    Origin
	EnteredOn calendar.Date
	Notes     string
}

// Validate reports every violation, keyed by JSON name.
func (a *Anchor) Validate() error {
	var c fault.Checks
	checkListedOrBlank(&c, "form", a.Form, Forms())
	checkLength(&c, "shank_diameter_mm", a.Shank, 100)
	checkLength(&c, "overall_length_mm", a.Length, 1000)
	checkListed(&c, "origin", a.Origin, []Origin{Recorded, Imported})
	c.Require(!a.EnteredOn.IsZero(), "entered_on", fault.Required)
	for _, g := range a.Metal {
		_, known := metal.Lookup(g)
		c.Require(known, "metal", fault.Unknown, "value", string(g))
	}
	if a.Removed && a.SetOn.Known() && a.RemovedOn.Known() {
		c.Require(a.RemovedOn.To >= a.SetOn.From, "removed_on", fault.Order)
	}
	return c.Err()
}

// checkLength wants a positive length of at most limit mm where one is given.
func checkLength(c *fault.Checks, field string, l *quantity.Length, limit quantity.Length) {
	if l == nil {
		return
	}
	c.Require(*l > 0, field, fault.NotPositive)
	c.Require(*l <= limit, field, fault.OutOfRange, "to", number(limit.Millimetres()))
}

func number(v float64) string { return strconv.FormatFloat(v, 'g', -1, 64) }

// FittingKind is what hangs on an anchor.
type FittingKind string

// The kinds of fitting.
const (
	Hanger  FittingKind = "hanger"
	Ring    FittingKind = "ring"
	Chain   FittingKind = "chain"
	Maillon FittingKind = "maillon"
	Hook    FittingKind = "lower-off-hook"
)

// FittingKinds lists the kinds of fitting.
func FittingKinds() []FittingKind { return []FittingKind{Hanger, Ring, Chain, Maillon, Hook} }

// Presence says whether the fitting is there.
type Presence string

// What can be said of a fitting's presence.
const (
	Present  Presence = "present"
	LeftOff  Presence = "left-off"       // on purpose
	BringOwn Presence = "bring-your-own" // the user brings one
	Missing  Presence = "missing"
)

// Presences lists the values of Presence.
func Presences() []Presence { return []Presence{Present, LeftOff, BringOwn, Missing} }

// Fitting is what hangs on an anchor and wears on its own.
type Fitting struct {
	ID         uuid.UUID
	Version    int
	AnchorID   uuid.UUID
	Kind       FittingKind
	Presence   Presence
	Words      string // "M8", as written
	Metal      metal.Set
	MetalWords string
	SetOn      calendar.Span
	New        *quantity.Length // thickness of the wearing section when new
	EndedOn    calendar.Date    // the day it was taken off; zero: hangs
	ProductID  *uuid.UUID       // hardware; nil: not known
	BatchID    *uuid.UUID       // of the product; nil: not known
}

// Validate reports every violation, keyed by JSON name.
func (f *Fitting) Validate() error {
	var c fault.Checks
	checkListed(&c, "kind", f.Kind, FittingKinds())
	checkListed(&c, "presence", f.Presence, Presences())
	checkLength(&c, "new_section_mm", f.New, 100)
	for _, g := range f.Metal {
		_, known := metal.Lookup(g)
		c.Require(known, "metal", fault.Unknown, "value", string(g))
	}
	return c.Err()
}

// Hangs says whether the fitting had not been taken off by a day.
func (f *Fitting) Hangs(asOf calendar.Date) bool { return f.EndedOn.IsZero() || f.EndedOn > asOf }

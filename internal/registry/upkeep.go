package registry

import (
	"fmt"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// Upkeep is one kind of work on an anchor that stays.
type Upkeep string

// The kinds of work.
const (
	Tightened      Upkeep = "tightened"       // a nut or bolt
	FittingRenewed Upkeep = "fitting-renewed" // hanger, ring, chain, maillon, hook
	FittingAdded   Upkeep = "fitting-added"
	FittingTaken   Upkeep = "fitting-taken" // off, on purpose
	RockCleared    Upkeep = "rock-cleared"  // loose rock, plants, drip taken away
	Cleaned        Upkeep = "cleaned"
)

// Upkeeps lists the kinds of work.
func Upkeeps() []Upkeep {
	return []Upkeep{Tightened, FittingRenewed, FittingAdded, FittingTaken, RockCleared, Cleaned}
}

// Maintenance is what somebody did to an anchor that stays.
type Maintenance struct {
	Record
	Done []Upkeep
	// FittingID is the fitting worked on; where it was renewed or taken off, the
	// old one, which ended then.
	FittingID    *uuid.UUID
	NewFittingID *uuid.UUID // the fitting that came with it; nil: none
	TorqueNM     *float64
	TorqueTool   string
}

// Did says whether work of a kind was done.
func (m *Maintenance) Did(kind Upkeep) bool { return slices.Contains(m.Done, kind) }

// Ends says whether the fitting worked on no longer hangs.
func (m *Maintenance) Ends() bool { return m.Did(FittingRenewed) || m.Did(FittingTaken) }

// Brings says whether a new fitting may have come with it.
func (m *Maintenance) Brings() bool { return m.Did(FittingRenewed) || m.Did(FittingAdded) }

// Validate reports every violation, keyed by JSON name.
func (m *Maintenance) Validate(asOf calendar.Date) error {
	var c fault.Checks
	m.validate(&c, asOf)
	c.Require(len(m.Done) > 0, "done", fault.Required)
	for _, d := range m.Done {
		checkListed(&c, "done", d, Upkeeps())
	}
	checkOnce(&c, "done", m.Done)
	c.Require(!m.Did(FittingRenewed) || !m.Did(FittingTaken), "done", fault.Mismatch, "with", "fitting-taken")
	checkShare(&c, "torque_nm", m.TorqueNM, 500)
	c.Require(len(m.TorqueTool) <= MaxName, "torque_tool", fault.TooLong)
	c.Require(m.NewFittingID == nil || m.Brings(), "new_fitting", fault.Mismatch)
	c.Require(m.TorqueNM == nil || m.Did(Tightened), "torque_nm", fault.Mismatch)
	return c.Err()
}

// checkOnce wants nothing to stand in a list twice.
func checkOnce[T comparable](c *fault.Checks, field string, list []T) {
	for i, v := range list {
		if slices.Contains(list[:i], v) {
			c.Require(false, field, fault.Duplicate, "twice", fmt.Sprint(v))
			return
		}
	}
}

// RemovalHow is how an anchor came out.
type RemovalHow string

// The ways; the empty way is not recorded.
const (
	Unscrewed RemovalHow = "unscrewed"
	Pulled    RemovalHow = "pulled"
	CoredOut  RemovalHow = "cored-out"
	CutOff    RemovalHow = "cut-off"
	BrokeOff  RemovalHow = "broke-off"
	FellOut   RemovalHow = "fell-out"
)

// RemovalHows lists the ways.
func RemovalHows() []RemovalHow {
	return []RemovalHow{Unscrewed, Pulled, CoredOut, CutOff, BrokeOff, FellOut}
}

// OldHole is what became of the hole that an anchor left.
type OldHole string

// What became of it; empty: not recorded.
const (
	HoleFilled OldHole = "filled"
	HoleAgain  OldHole = "used-again"
	HoleOpen   OldHole = "left-open"
	HoleStub   OldHole = "stub-left" // what is left of the anchor sits in it
)

// OldHoles lists what may become of a hole.
func OldHoles() []OldHole { return []OldHole{HoleFilled, HoleAgain, HoleOpen, HoleStub} }

// Removal is how an anchor came out.
type Removal struct {
	Record
	How          RemovalHow
	Stub         *quantity.Length // that stands out of the rock, 0: flush; nil: not recorded
	OldHole      OldHole
	Observations []Observation // seen once it was out
	MetalKept    *bool
	MetalWhere   string // where the kept metal lies
}

// Validate reports every violation, keyed by JSON name.
func (r *Removal) Validate(asOf calendar.Date) error {
	var c fault.Checks
	r.validate(&c, asOf)
	checkListedOrBlank(&c, "how", r.How, RemovalHows())
	if r.Stub != nil && *r.Stub != 0 { // cut flush with the rock
		checkLength(&c, "stub_mm", r.Stub, 1000)
	}
	checkListedOrBlank(&c, "old_hole", r.OldHole, OldHoles())
	for _, o := range r.Observations {
		checkListed(&c, "observations", o, SeenObservations())
	}
	checkOnce(&c, "observations", r.Observations)
	c.Require(len(r.MetalWhere) <= MaxName, "metal_where", fault.TooLong)
	c.Require(r.MetalWhere == "" || r.MetalKept != nil && *r.MetalKept, "metal_where", fault.Mismatch)
	return c.Err()
}

// MarkingHow is what was done at the rock to keep people off an anchor.
type MarkingHow string

// The ways.
const (
	MarkedTape        MarkingHow = "tape"
	MarkedTag         MarkingHow = "tag"
	MarkedHangerTaken MarkingHow = "hanger-taken"
	MarkedEyeBlocked  MarkingHow = "eye-blocked"
	MarkedSign        MarkingHow = "sign"
)

// MarkingHows lists the ways.
func MarkingHows() []MarkingHow {
	return []MarkingHow{MarkedTape, MarkedTag, MarkedHangerTaken, MarkedEyeBlocked, MarkedSign}
}

// Marking is what was done at the rock to keep people off an anchor, or that it
// was taken away again. A marking stands from its day until one that lifts it.
type Marking struct {
	Record
	How   []MarkingHow // none where it lifts another
	Lifts *uuid.UUID   // the marking that is lifted; nil: this one is put up
}

// Validate reports every violation, keyed by JSON name.
func (m *Marking) Validate(asOf calendar.Date) error {
	var c fault.Checks
	m.validate(&c, asOf)
	c.Require((len(m.How) == 0) == (m.Lifts != nil), "how", fault.Required)
	for _, h := range m.How {
		checkListed(&c, "how", h, MarkingHows())
	}
	checkOnce(&c, "how", m.How)
	c.Require(m.Lifts == nil || *m.Lifts != m.ID, "lifts", fault.Mismatch)
	return c.Err()
}

// Marked says whether a marking stands. Records that others replace must have
// been left out (Current).
func (f *Facts) Marked() bool {
	for i := range f.Markings {
		if f.Markings[i].Lifts == nil && !f.lifted(f.Markings[i].ID) {
			return true
		}
	}
	return false
}

// StandingMarkings lists the markings that stand, on the terms of Marked.
func (f Facts) StandingMarkings() []Marking {
	return keep(f.Markings, func(m Marking) bool { return m.Lifts == nil && !f.lifted(m.ID) })
}

func (f *Facts) lifted(marking uuid.UUID) bool {
	for i := range f.Markings {
		if l := f.Markings[i].Lifts; l != nil && *l == marking {
			return true
		}
	}
	return false
}

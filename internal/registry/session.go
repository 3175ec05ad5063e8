package registry

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
)

// HowRead says whether a figure was measured or assumed.
type HowRead string

// The ways.
const (
	Measured HowRead = "measured"
	Assumed  HowRead = "assumed"
)

// HowReads lists the ways.
func HowReads() []HowRead { return []HowRead{Measured, Assumed} }

// Reading is a temperature and how it is known; an empty How is not recorded,
// which counts as assumed.
type Reading struct {
	C   quantity.Temperature `json:"c"`
	How HowRead              `json:"how,omitempty"`
}

// GluingSession is what several installations share: one cartridge, one place,
// one set of people. Like every record it is never changed: a correction is a
// new session that names the one it replaces, and the installations of the old
// one then read the new one. Its fields stand in the order of the card. Each may
// be left open; a nil bool is not recorded, which is not "no".
type GluingSession struct {
	ID     uuid.UUID
	SiteID uuid.UUID
	DoneOn calendar.Span

	AdhesiveID *uuid.UUID    // product
	BatchID    *uuid.UUID    // batch as read off the cartridge
	ExpiresOn  calendar.Date // as read off the cartridge; zero: not recorded
	Cartridge  string        // its mark or number in the group's own words
	NozzleNew  *bool
	OpenedAt   calendar.Moment // when the cartridge was opened
	// FirstMixDiscarded says that the first mix was thrown away until its colour
	// was uniform.
	FirstMixDiscarded *bool

	RockC      *Reading // of the rock at the setting
	AirC       *Reading
	CartridgeC *Reading
	// NightC is the lowest rock temperature to come until release.
	NightC *Reading

	SetByID         *uuid.UUID // persons
	SupervisedByID  *uuid.UUID
	CheckedByID     *uuid.UUID
	MethodStatement string // version of the group's method statement

	SampleKept   *bool
	SampleWhere  string
	SampleAtRock *bool // it lies at rock temperature
	// SampleFound is what the sample was found to be, on a day, by a person: hard
	// or soft. Empty: nobody recorded a look at it.
	SampleFound     SampleState
	SampleFoundOn   calendar.Date
	SampleFoundByID *uuid.UUID

	Words      string
	Origin     Origin
	RecordedAt time.Time
	Replaces   *uuid.UUID
}

// Validate reports every violation, keyed by JSON name.
func (s *GluingSession) Validate(asOf calendar.Date) error {
	var c fault.Checks
	r := Record{ID: s.ID, DoneOn: s.DoneOn, Replaces: s.Replaces}
	r.validate(&c, asOf)
	c.Require(s.SiteID != uuid.Nil, "site_id", fault.Required)
	c.Nest("opened_at", s.OpenedAt.Validate())
	checkReading(&c, "rock_c", s.RockC)
	checkReading(&c, "air_c", s.AirC)
	checkReading(&c, "cartridge_c", s.CartridgeC)
	checkReading(&c, "night_c", s.NightC)
	c.Require(len(s.Cartridge) <= MaxName, "cartridge", fault.TooLong)
	c.Require(len(s.MethodStatement) <= MaxName, "method_statement", fault.TooLong)
	c.Require(len(s.SampleWhere) <= MaxName, "sample_where", fault.TooLong)
	c.Require(len(s.Words) <= MaxWords, "words", fault.TooLong)
	s.checkSample(&c, asOf)
	return c.Err()
}

// checkSample wants what the sample was found to be to come with day and person,
// of a sample that was kept.
func (s *GluingSession) checkSample(c *fault.Checks, asOf calendar.Date) {
	if s.SampleFound == "" {
		c.Require(s.SampleFoundOn.IsZero(), "sample_found_on", fault.NotAllowed)
		c.Require(s.SampleFoundByID == nil, "sample_found_by_id", fault.NotAllowed)
		return
	}
	checkListed(c, "sample_found", s.SampleFound, SamplesFound())
	c.Require(s.SampleKept == nil || *s.SampleKept, "sample_found", fault.Mismatch, "with", "sample_kept")
	c.Require(!s.SampleFoundOn.IsZero(), "sample_found_on", fault.Required)
	c.Require(s.SampleFoundOn <= asOf, "sample_found_on", fault.DateAhead, "today", asOf.String())
	c.Require(s.SampleFoundOn.IsZero() || s.SampleFoundOn >= s.DoneOn.From, "sample_found_on", fault.Order)
	c.Require(s.SampleFoundByID != nil, "sample_found_by_id", fault.Required)
}

// checkReading wants a temperature that the world has, in degC.
func checkReading(c *fault.Checks, field string, r *Reading) {
	if r == nil {
		return
	}
	checkTemperature(c, field, &r.C)
	checkListedOrBlank(c, field, r.How, HowReads())
}

func checkTemperature(c *fault.Checks, field string, t *quantity.Temperature) {
	if t != nil {
		c.Require(*t >= -60 && *t <= 90, field, fault.OutOfRange, "from", "-60", "to", "90")
	}
}

package registry

import (
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// Landowner holds land.
type Landowner struct {
	ID      uuid.UUID
	Version int
	Name    string
	Contact string        // owners only
	EndedOn calendar.Date // zero: stands
	// ErasedOn is the day on which name and contact were erased; Name is none any
	// more. Zero: they were not.
	ErasedOn calendar.Date
}

// Validate reports every violation, keyed by JSON name.
func (l *Landowner) Validate() error {
	var c fault.Checks
	checkName(&c, "name", l.Name)
	c.Require(len(l.Contact) <= MaxWords, "contact", fault.TooLong)
	return c.Err()
}

// Parcel is a landowner's piece of land.
type Parcel struct {
	ID          uuid.UUID
	Version     int
	LandownerID uuid.UUID
	Name        string
	Outline     string   // GeoJSON Polygon or MultiPolygon, WGS 84; empty: not drawn
	AreaM2      *float64 // computed from the outline; nil: not drawn
	EndedOn     calendar.Date
}

// Validate reports every violation, keyed by JSON name; the outline is checked
// where it is read.
func (p *Parcel) Validate() error {
	var c fault.Checks
	checkName(&c, "name", p.Name)
	c.Require(p.LandownerID != uuid.Nil, "landowner_id", fault.Required)
	return c.Err()
}

// AgreementKind is who agreed to what.
type AgreementKind string

// The kinds of agreement.
const (
	Permission AgreementKind = "permission" // of a landowner
	Consent    AgreementKind = "consent"    // of an authority
)

// AgreementKinds lists the kinds of agreement.
func AgreementKinds() []AgreementKind { return []AgreementKind{Permission, Consent} }

// Agreement is a landowner's permission or an authority's consent.
type Agreement struct {
	ID          uuid.UUID
	Version     int
	LandownerID *uuid.UUID // the landowner whose land it is about
	Kind        AgreementKind
	Issuer      string
	Conditions  string
	From        calendar.Date
	Until       calendar.Date // last day; zero: open
}

// Validate reports every violation, keyed by JSON name.
func (a *Agreement) Validate() error {
	var c fault.Checks
	checkListed(&c, "kind", a.Kind, AgreementKinds())
	checkName(&c, "issuer", a.Issuer)
	c.Require(len(a.Conditions) <= MaxWords, "conditions", fault.TooLong)
	c.Require(a.Kind != Permission || a.LandownerID != nil, "landowner_id", fault.Required)
	c.Require(!a.From.IsZero(), "from", fault.Required)
	c.Require(a.Until.IsZero() || a.Until >= a.From, "until", fault.Order)
	return c.Err()
}

// RestrictionKind is what is barred.
type RestrictionKind string

// The kinds of restriction.
const (
	NoEntry    RestrictionKind = "entry"
	NoClimbing RestrictionKind = "climbing"
	NoDrilling RestrictionKind = "drilling"
	NoNoise    RestrictionKind = "noise"
)

// RestrictionKinds lists the kinds of restriction.
func RestrictionKinds() []RestrictionKind {
	return []RestrictionKind{NoEntry, NoClimbing, NoDrilling, NoNoise}
}

// Weight is what stands behind a restriction.
type Weight string

// The weights, heaviest first.
const (
	ByLaw       Weight = "law"
	ByAgreement Weight = "agreement"
	ByRequest   Weight = "request"
)

// Weights lists the weights, heaviest first.
func Weights() []Weight { return []Weight{ByLaw, ByAgreement, ByRequest} }

// Restriction is a time when something is barred at a place or on a parcel:
// every year in a window that may run over new year, or once from a day to
// another.
type Restriction struct {
	ID          uuid.UUID
	Version     int
	Place       *Place // this or the parcel
	ParcelID    *uuid.UUID
	Kind        RestrictionKind
	Why         string
	Weight      Weight
	Yearly      *calendar.Window
	From, Until calendar.Date // without Yearly: the days; with it: the years it holds
	ConfirmedOn calendar.Date // when its status was last confirmed; zero: never
}

// Bars says whether the restriction bars a day.
func (r *Restriction) Bars(day calendar.Date) bool {
	if day < r.From || !r.Until.IsZero() && day > r.Until {
		return false
	}
	return r.Yearly == nil || r.Yearly.Contains(day)
}

// Validate reports every violation, keyed by JSON name.
func (r *Restriction) Validate() error {
	var c fault.Checks
	checkListed(&c, "kind", r.Kind, RestrictionKinds())
	checkListed(&c, "weight", r.Weight, Weights())
	checkName(&c, "why", r.Why)
	c.Require((r.Place == nil) != (r.ParcelID == nil), "place_id", fault.Required)
	if r.Place != nil {
		checkListed(&c, "place_kind", r.Place.Kind, PlaceKinds())
	}
	c.Require(!r.From.IsZero() || r.Yearly != nil, "from", fault.Required)
	c.Require(r.Until.IsZero() || r.Until >= r.From, "until", fault.Order)
	if r.Yearly != nil {
		c.Nest("yearly", r.Yearly.Validate())
	}
	return c.Err()
}

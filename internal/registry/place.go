package registry

import (
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// MaxName is the longest name, label or heading, in bytes.
const MaxName = 200

// SiteKind says what kind of place a site is.
type SiteKind string

// The kinds of site.
const (
	Crag     SiteKind = "crag"
	SeaCliff SiteKind = "sea-cliff"
	Quarry   SiteKind = "quarry"
	Cave     SiteKind = "cave"
)

// SiteKinds lists the kinds of site.
func SiteKinds() []SiteKind { return []SiteKind{Crag, SeaCliff, Quarry, Cave} }

// RockClass is how hard the rock is, as far as the house rules care.
type RockClass string

// The rock classes, best first; the empty class is not known.
const (
	RockHard  RockClass = "hard"
	RockOther RockClass = "other"
	RockSoft  RockClass = "soft"
)

// RockClasses lists the rock classes, best first.
func RockClasses() []RockClass { return []RockClass{RockHard, RockOther, RockSoft} }

// Site is a crag or a cave.
type Site struct {
	ID        uuid.UUID
	Version   int
	Name      string
	Kind      SiteKind
	Rock      RockClass
	RockWords string // "limestone", as written
	Lat, Lon  *float64
	// CoordinateWords are a cave's coordinates as written: shown to stewards,
	// never turned into a place on a map.
	CoordinateWords string
	// FirstRoundEnds is the planned end of the first round of inspections
	// after an import; zero when none is planned.
	FirstRoundEnds calendar.Date
	Notes          string
	EndedOn        calendar.Date // looked after no longer; zero: it is
}

// Validate reports every violation, keyed by JSON name.
func (s *Site) Validate() error {
	var c fault.Checks
	checkName(&c, "name", s.Name)
	checkListed(&c, "kind", s.Kind, SiteKinds())
	checkListedOrBlank(&c, "rock", s.Rock, RockClasses())
	checkCoordinates(&c, s.Lat, s.Lon)
	c.Require(s.Kind != Cave || s.Lat == nil && s.Lon == nil, "lat", fault.Mismatch)
	return c.Err()
}

// Sector is a part of a site.
type Sector struct {
	ID      uuid.UUID
	Version int
	SiteID  uuid.UUID
	Name    string
	EndedOn calendar.Date
}

// Validate reports every violation, keyed by JSON name.
func (s *Sector) Validate() error {
	var c fault.Checks
	checkName(&c, "name", s.Name)
	return c.Err()
}

// RouteKind says what is climbed, descended or crossed.
type RouteKind string

// The kinds of route.
const (
	Climb    RouteKind = "climb"
	Pitch    RouteKind = "pitch"
	Crossing RouteKind = "traverse"
	Abseil   RouteKind = "abseil"
)

// RouteKinds lists the kinds of route.
func RouteKinds() []RouteKind { return []RouteKind{Climb, Pitch, Crossing, Abseil} }

// Traffic is how often a route is used.
type Traffic string

// The traffic classes, least first; the empty class is not known.
const (
	TrafficSeldom       Traffic = "seldom"
	TrafficOrdinary     Traffic = "ordinary"
	TrafficMostWeekends Traffic = "most-weekends"
)

// Traffics lists the traffic classes, least first.
func Traffics() []Traffic { return []Traffic{TrafficSeldom, TrafficOrdinary, TrafficMostWeekends} }

// Route is a climb, a pitch, a traverse or an abseil.
type Route struct {
	ID       uuid.UUID
	Version  int
	SiteID   uuid.UUID
	SectorID *uuid.UUID
	Name     string
	Kind     RouteKind
	Traffic  Traffic
	EndedOn  calendar.Date
}

// Validate reports every violation, keyed by JSON name.
func (r *Route) Validate() error {
	var c fault.Checks
	checkName(&c, "name", r.Name)
	checkListed(&c, "kind", r.Kind, RouteKinds())
	checkListedOrBlank(&c, "traffic", r.Traffic, Traffics())
	return c.Err()
}

// PositionRole is what an anchor at a position is for.
type PositionRole string

// The roles of a position; the empty role is not known.
const (
	MainHang  PositionRole = "main-hang"
	Backup    PositionRole = "backup"
	Belay     PositionRole = "belay"
	LowerOff  PositionRole = "lower-off"
	Rebelay   PositionRole = "rebelay"
	Deviation PositionRole = "deviation"
	Traverse  PositionRole = "traverse"
	YHangLeg  PositionRole = "y-hang-leg"
	Runner    PositionRole = "runner"
	Handline  PositionRole = "handline"
	Aid       PositionRole = "aid"
)

// PositionRoles lists the roles of a position.
func PositionRoles() []PositionRole {
	return []PositionRole{MainHang, Backup, Belay, LowerOff, Rebelay, Deviation, Traverse, YHangLeg, Runner, Handline, Aid}
}

// Face is the lie of the rock at a position.
type Face string

// The faces; the empty face is not known.
const (
	Slab     Face = "slab"
	Wall     Face = "wall"
	Overhang Face = "overhang"
	Roof     Face = "roof"
	Floor    Face = "floor"
)

// Faces lists the faces.
func Faces() []Face { return []Face{Slab, Wall, Overhang, Roof, Floor} }

// Position is one spot where an anchor belongs. It may belong to several
// routes.
type Position struct {
	ID       uuid.UUID
	Version  int
	SiteID   uuid.UUID
	SectorID *uuid.UUID
	Label    string
	Role     PositionRole
	Face     Face
	// BackedUp says whether another anchor would hold if this one failed.
	// Nil: not known.
	BackedUp *bool
	Lat, Lon *float64 // never set in a cave
	HowTo    string   // how to find it
	ParcelID *uuid.UUID
	// ParcelByHand says that a person named the parcel, so that outlines do
	// not: caves run under other people's land.
	ParcelByHand bool
	Notes        string
	EndedOn      calendar.Date
}

// Validate reports every violation, keyed by JSON name.
func (p *Position) Validate() error {
	var c fault.Checks
	checkName(&c, "label", p.Label)
	checkListedOrBlank(&c, "role", p.Role, PositionRoles())
	checkListedOrBlank(&c, "face", p.Face, Faces())
	checkCoordinates(&c, p.Lat, p.Lon)
	return c.Err()
}

// Stop places a position on a route, in order from the foot or the entrance.
type Stop struct {
	RouteID    uuid.UUID
	PositionID uuid.UUID
	Rank       int
}

// AssemblyKind says how anchors loaded together share the load.
type AssemblyKind string

// The kinds of assembly; the empty kind is not known.
const (
	Equalised   AssemblyKind = "equalised"
	InSeries    AssemblyKind = "in-series"
	Independent AssemblyKind = "independent"
)

// AssemblyKinds lists the kinds of assembly.
func AssemblyKinds() []AssemblyKind { return []AssemblyKind{Equalised, InSeries, Independent} }

// Assembly names positions whose anchors are loaded together.
type Assembly struct {
	ID          uuid.UUID
	Version     int
	SiteID      uuid.UUID
	Name        string
	Kind        AssemblyKind
	PositionIDs []uuid.UUID
	EndedOn     calendar.Date
}

// Validate reports every violation, keyed by JSON name.
func (a *Assembly) Validate() error {
	var c fault.Checks
	checkName(&c, "name", a.Name)
	checkListedOrBlank(&c, "kind", a.Kind, AssemblyKinds())
	c.Require(len(a.PositionIDs) >= 2, "position_ids", fault.TooShort, "least", "2")
	return c.Err()
}

func checkName(c *fault.Checks, field, name string) {
	c.Require(strings.TrimSpace(name) != "", field, fault.Blank)
	c.Require(len(name) <= MaxName, field, fault.TooLong)
}

func checkListed[T ~string](c *fault.Checks, field string, v T, list []T) {
	c.Require(rankOf(v, list) >= 0, field, fault.Unknown, "allowed", joinWords(list))
}

func checkListedOrBlank[T ~string](c *fault.Checks, field string, v T, list []T) {
	if v != "" {
		checkListed(c, field, v, list)
	}
}

func joinWords[T ~string](list []T) string {
	words := make([]string, len(list))
	for i, v := range list {
		words[i] = string(v)
	}
	return strings.Join(words, ", ")
}

// checkCoordinates wants both or neither, in degrees, WGS 84.
func checkCoordinates(c *fault.Checks, lat, lon *float64) {
	c.Require((lat == nil) == (lon == nil), "lon", fault.Required)
	if lat != nil {
		c.Require(*lat >= -90 && *lat <= 90, "lat", fault.OutOfRange, "from", "-90", "to", "90")
	}
	if lon != nil {
		c.Require(*lon >= -180 && *lon <= 180, "lon", fault.OutOfRange, "from", "-180", "to", "180")
	}
}

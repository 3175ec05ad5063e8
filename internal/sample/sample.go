// Package sample makes valid nouns, records and facts for tests, which then
// state only what matters to them. Everything in it is invented. Each call
// makes new ids.
package sample

import (
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Day is the day on which samples were entered: 3 May 2026.
var Day = calendar.NewDate(2026, time.May, 3)

// At is the instant at which sample records were made, on Day.
var At = time.Date(2026, time.May, 3, 9, 30, 0, 0, time.UTC)

// ID returns a new UUIDv7.
func ID() uuid.UUID { return uuid.Must(uuid.NewV7()) }

// Of returns a pointer to v.
func Of[T any](v T) *T { return &v }

// made applies the changes to v.
func made[T any](v T, changes []func(*T)) T {
	for _, change := range changes {
		change(&v)
	}
	return v
}

// Group is an invented group.
func Group(changes ...func(*registry.Group)) registry.Group {
	id := ID()
	return made(registry.Group{
		ID: id, Slug: "example-" + id.String()[24:], Name: "Example Anchor Group", TimeZone: "Europe/London",
	}, changes)
}

// Actor is a steward of the group, by token.
func Actor(g registry.Group, changes ...func(*registry.Actor)) registry.Actor {
	return made(registry.Actor{
		GroupID: g.ID, Group: g.Slug, TimeZone: g.TimeZone, Role: registry.RoleSteward, Who: "token:" + ID().String(),
	}, changes)
}

// Person is an invented person.
func Person(changes ...func(*registry.Person)) registry.Person {
	return made(registry.Person{ID: ID(), Name: "Invented Person"}, changes)
}

// Landowner is an invented landowner.
func Landowner(changes ...func(*registry.Landowner)) registry.Landowner {
	return made(registry.Landowner{ID: ID(), Name: "Invented Estate", Contact: "an invented address"}, changes)
}

// Parcel is a piece of the landowner's land, without outline.
func Parcel(l registry.Landowner, changes ...func(*registry.Parcel)) registry.Parcel {
	return made(registry.Parcel{ID: ID(), LandownerID: l.ID, Name: "Invented Field"}, changes)
}

// Site is an inland crag of hard rock.
func Site(changes ...func(*registry.Site)) registry.Site {
	return made(registry.Site{
		ID: ID(), Name: "Example Crag", Kind: registry.Crag, Rock: registry.RockHard, RockWords: "limestone",
		Lat: Of(54.1), Lon: Of(-2.3),
	}, changes)
}

// Sector is a part of the site.
func Sector(s registry.Site, changes ...func(*registry.Sector)) registry.Sector {
	return made(registry.Sector{ID: ID(), SiteID: s.ID, Name: "Left Wall"}, changes)
}

// Route is a climb at the site, in no sector.
func Route(s registry.Site, changes ...func(*registry.Route)) registry.Route {
	return made(registry.Route{
		ID: ID(), SiteID: s.ID, Name: "Example Groove", Kind: registry.Climb, Traffic: registry.TrafficOrdinary,
	}, changes)
}

// Position is a runner at the site.
func Position(s registry.Site, changes ...func(*registry.Position)) registry.Position {
	return made(registry.Position{ID: ID(), SiteID: s.ID, Label: "B1", Role: registry.Runner, Face: registry.Wall}, changes)
}

// Stop places the position first on the route.
func Stop(r registry.Route, p registry.Position) registry.Stop {
	return registry.Stop{RouteID: r.ID, PositionID: p.ID, Rank: 1}
}

// Assembly loads the positions together.
func Assembly(s registry.Site, positions ...registry.Position) registry.Assembly {
	a := registry.Assembly{ID: ID(), SiteID: s.ID, Name: "belay", Kind: registry.Equalised}
	for _, p := range positions {
		a.PositionIDs = append(a.PositionIDs, p.ID)
	}
	return a
}

// Adhesive is an invented adhesive.
func Adhesive(changes ...func(*registry.Product)) registry.Product {
	return made(registry.Product{
		ID: ID(), Kind: registry.Adhesive, Name: "Example Resin", Maker: "Invented Maker", Chemistry: "vinylester",
	}, changes)
}

// Hardware is an invented glue-in bolt.
func Hardware(changes ...func(*registry.Product)) registry.Product {
	return made(registry.Product{
		ID: ID(), Kind: registry.Hardware, Name: "Example Eye", Maker: "Invented Maker", Form: registry.SingleShank,
		Metal: metal.NewSet("1.4404"),
	}, changes)
}

// Batch is a delivery of the product.
func Batch(p registry.Product, changes ...func(*registry.Batch)) registry.Batch {
	return made(registry.Batch{
		ID: ID(), ProductID: Of(p.ID), Text: "X-0001", ExpiresOn: calendar.NewDate(2027, time.March, 31), Quantity: "12 cartridges",
	}, changes)
}

// setOn is when sample anchors were set.
var setOn = calendar.Span{From: calendar.NewDate(2014, time.January, 1), To: calendar.NewDate(2014, time.December, 31), Words: "2014"}

// Anchor is a bonded bolt of a known stainless steel at the position, set in
// 2014 and entered here.
func Anchor(p registry.Position, changes ...func(*registry.Anchor)) registry.Anchor {
	return made(registry.Anchor{
		ID: ID(), SiteID: p.SiteID, PositionID: p.ID, Form: registry.SingleShank, FormWords: "glue-in eye",
		Metal: metal.NewSet("1.4404"), MetalWords: "316L", Shank: Of(quantity.Length(12)), Length: Of(quantity.Length(100)),
		SetOn:  setOn,
		Origin: registry.Recorded, EnteredOn: Day,
	}, changes)
}

// Fitting is a ring on the anchor.
func Fitting(a registry.Anchor, changes ...func(*registry.Fitting)) registry.Fitting {
	return made(registry.Fitting{
		ID: ID(), AnchorID: a.ID, Kind: registry.Ring, Presence: registry.Present, Metal: metal.NewSet("1.4401", "1.4404"),
		MetalWords: "A4", SetOn: calendar.Exactly(calendar.NewDate(2020, time.June, 1)),
	}, changes)
}

// Picture is a picture of the anchor. Its hash is of no file.
func Picture(a registry.Anchor, changes ...func(*registry.Picture)) registry.Picture {
	return made(registry.Picture{
		ID: ID(), AnchorID: a.ID, Hash: strings.Repeat("0f", 32), TakenOn: Day, Words: "The eye from below.",
		Width: 40, Height: 30, RecordedAt: At,
	}, changes)
}

// record is what a record made here on Day says of the anchor.
func record(a registry.Anchor, on calendar.Span) registry.Record {
	return registry.Record{ID: ID(), AnchorID: a.ID, DoneOn: on, Origin: registry.Recorded, RecordedAt: At}
}

// Installation records setting the anchor on the day it says.
func Installation(a registry.Anchor, changes ...func(*registry.Installation)) registry.Installation {
	return made(registry.Installation{
		Record: record(a, a.SetOn), HoleDiameter: Of(quantity.Length(14)), HoleDepth: Of(quantity.Length(90)),
		RockSound: registry.Ringing,
	}, changes)
}

// GluingSession is one at a site, done on the day on which sample anchors are
// set; nothing else is said.
func GluingSession(s registry.Site, changes ...func(*registry.GluingSession)) registry.GluingSession {
	return made(registry.GluingSession{
		ID: ID(), SiteID: s.ID, DoneOn: setOn, Origin: registry.Recorded, RecordedAt: At,
	}, changes)
}

// Cure is what somebody read off the label of a sample anchor's adhesive.
func Cure(a registry.Anchor, changes ...func(*registry.Cure)) registry.Cure {
	return made(registry.Cure{Record: record(a, a.SetOn), LabelCureMinutes: Of(90), LabelC: Of(quantity.Temperature(10))}, changes)
}

// FirstUse is the person's word that the anchor may be used, a month after
// 2014.
func FirstUse(a registry.Anchor, p registry.Person, changes ...func(*registry.FirstUse)) registry.FirstUse {
	f := registry.FirstUse{Record: record(a, calendar.Exactly(calendar.NewDate(2015, time.February, 1)))}
	f.PersonID = Of(p.ID)
	return made(f, changes)
}

// Inspection is a hands-on inspection a year before Day that found nothing.
func Inspection(a registry.Anchor, changes ...func(*registry.Inspection)) registry.Inspection {
	return made(registry.Inspection{
		Record: record(a, calendar.Exactly(Day.AddYears(-1))), Level: registry.HandsOn, Verdict: registry.Keep, Ticked: true,
	}, changes)
}

// Removal records that the anchor came out on Day.
func Removal(a registry.Anchor, changes ...func(*registry.Removal)) registry.Removal {
	return made(registry.Removal{Record: record(a, calendar.Exactly(Day))}, changes)
}

// Maintenance records that a nut was tightened on Day.
func Maintenance(a registry.Anchor, changes ...func(*registry.Maintenance)) registry.Maintenance {
	return made(registry.Maintenance{Record: record(a, calendar.Exactly(Day)), Done: []registry.Upkeep{registry.Tightened}}, changes)
}

// Marking records that tape was put on the anchor on Day.
func Marking(a registry.Anchor, changes ...func(*registry.Marking)) registry.Marking {
	return made(registry.Marking{Record: record(a, calendar.Exactly(Day)), How: []registry.MarkingHow{registry.MarkedTape}}, changes)
}

// Settlement is the person's answer, given on Day, to a note that the batch is
// not recorded.
func Settlement(a registry.Anchor, p registry.Person, changes ...func(*registry.Settlement)) registry.Settlement {
	s := registry.Settlement{Record: record(a, calendar.Exactly(Day)), Rule: "batch-not-recorded", Reason: "asked the maker"}
	s.PersonID = Of(p.ID)
	return made(s, changes)
}

// Retraction takes a record of the anchor back, on Day.
func Retraction(a registry.Anchor, p registry.Person, retracts uuid.UUID, changes ...func(*registry.Retraction)) registry.Retraction {
	r := registry.Retraction{Record: record(a, calendar.Exactly(Day)), RetractsID: retracts, Reason: "the wrong anchor"}
	r.PersonID = Of(p.ID)
	return made(r, changes)
}

// Facts are those of one sample anchor in use: set, allowed, inspected.
func Facts(changes ...func(*registry.Facts)) registry.Facts {
	s := Site()
	p := Position(s)
	a := Anchor(p)
	return made(registry.Facts{
		Anchor: a, Position: p, Site: s, Traffic: registry.TrafficOrdinary,
		Fittings:      []registry.Fitting{Fitting(a)},
		Installations: []registry.Installation{Installation(a)},
		FirstUses:     []registry.FirstUse{FirstUse(a, Person())},
		Inspections:   []registry.Inspection{Inspection(a)},
	}, changes)
}

// Assessment is one of the anchor, as of Day, with one note and one candidate.
// Nothing in it is computed.
func Assessment(a registry.Anchor, changes ...func(*registry.Assessment)) registry.Assessment {
	due := Day.AddYears(1)
	interval := registry.Candidate{
		Rule: "interval", Factor: "metal", On: due, Source: "default of this project",
		Values: registry.Values{{Name: "last_inspected_on", Text: Day.AddYears(-1).String()}, {Name: "months", Text: "24"}},
	}
	return made(registry.Assessment{
		AnchorID: a.ID, SiteID: a.SiteID, AsOf: Day, Standing: registry.NoProblem,
		Findings: []registry.Finding{{
			Rule: "batch-not-recorded", Severity: registry.Note, Source: "judgement of this project", Settles: "record-batch",
		}},
		Candidates: []registry.Candidate{interval},
		DueOn:      due, SoonestOn: due, Reason: interval, DueState: registry.NotDue,
		Band: registry.BandWhenPassing, BandReason: "ordinary", Consequence: registry.OneOfMany, OldestOn: a.SetOn.From,
		ValidUntil: due.AddDays(-61), Engine: 1, RulesVersion: 1,
	}, changes)
}

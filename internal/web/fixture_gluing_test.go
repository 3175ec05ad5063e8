package web

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Everything below is invented.

// gluingOf is the form for a route with three positions.
func gluingOf(f *form) gluingPage {
	choices := cardChoices{
		Persons:   personOptions(peopleOf())[1:],
		Hardware:  []option{{Value: id(41).String(), Text: "Twist 80"}},
		Adhesives: []option{{Value: id(32).String(), Text: "Slow resin"}},
		Batches:   []option{{Value: id(33).String(), Text: "L1709-A"}},
		OnHand:    []option{{Value: "L1709-A", Text: "L1709-A, Slow resin"}},
	}
	at := &gluingGround{site: registry.Site{ID: id(2), Name: "Marrow Scar"}, route: &registry.Route{ID: id(5), Name: "The Long Way Round"}}
	for n, label := range []string{"B1", "B2", "B3"} {
		at.holes = append(at.holes, hole{position: registry.Position{ID: id(byte(50 + n)), Label: label}, route: at.route.Name, rank: n + 1})
	}
	at.holes[2].standing = &registry.Anchor{ID: id(60), Form: registry.ThroughBolt}
	return gluingPage{form: f, Frame: frameOf("Enter a gluing card"), Where: at.name(), Card: "/c", Choices: choices, Holes: at.options(), Lines: 3}
}

// gluedOf is a session with one anchor of which everything is recorded, and one
// of which nothing is.
func gluedOf(zone *time.Location) gluingPageOf {
	s := gluedStory()
	replaced := id(71)
	s.ReplacedBy = &replaced
	cures := map[uuid.UUID]registry.CureTime{id(60): {InstallationID: id(61), Basis: registry.CureNone, Missing: "no-sheet"}}
	page := newGluingPageOf(frameOf("Gluing on 2 May 2026"), toldSession{story: s, site: registry.Site{ID: id(2), Name: "Marrow Scar"}, cures: cures}, zone)
	page.Anchors[0].FirstUse, page.Anchors[0].Cured = "/f", "/c"
	return page
}

func gluedStory() registry.GluingStory {
	yes, no, cycles, angle := true, false, 4, 5.0
	width, depth := quantity.Length(14), quantity.Length(90)
	person, glue, batch, product := id(31), id(32), id(33), id(41)
	on := calendar.Exactly(day(2026, time.May, 2))
	at := calendar.Moment{From: on.From.Time().Add(14 * time.Hour), To: on.From.Time().Add(15 * time.Hour), Words: "about 14:30"}
	return registry.GluingStory{
		Session: registry.GluingSession{
			ID: id(70), SiteID: id(2), DoneOn: on, AdhesiveID: &glue, BatchID: &batch, ExpiresOn: day(2027, time.March, 31), Cartridge: "3",
			NozzleNew: &yes, OpenedAt: at, FirstMixDiscarded: &yes, RockC: &registry.Reading{C: 11, How: registry.Measured},
			AirC: &registry.Reading{C: -2.5}, CartridgeC: &registry.Reading{C: 15, How: registry.Assumed}, NightC: &registry.Reading{C: 4, How: registry.Assumed},
			SetByID: &person, SupervisedByID: &person, CheckedByID: &person, MethodStatement: "4", SampleKept: &no, SampleWhere: "in the gear shed",
			SampleAtRock: &no, Words: "Windy.",
		},
		Installations: []registry.Installation{
			{
				Record: registry.Record{ID: id(61), AnchorID: id(60), DoneOn: on, Words: "Nothing odd."}, Form: registry.SingleShank, HardwareID: &product,
				HoleDiameter: &width, HoleDepth: &depth, CleaningCycles: &cycles, Moisture: registry.HoleDamp, SetAt: at, AdhesiveID: &glue, BatchID: &batch,
				Rock: registry.RockHard, RockWords: "limestone", RockSound: registry.Ringing, CracksSeen: &no, EdgeDistance: &depth, NeighbourDistance: &depth,
				AngleDeg: &angle, Embedded: &depth, RecessCut: &yes, DryFit: &yes, FromBottom: &yes, FillPct: &angle, Turned: &yes, AsDrawn: &yes,
				SurplusWiped: &yes, Hole: registry.HoleNew, OldHoleDistance: &depth, TorqueNM: &angle, TorqueTool: "the long one",
			},
			{Record: registry.Record{ID: id(63), AnchorID: id(62), DoneOn: on}},
		},
		Anchors: []registry.AnchorLine{
			{Anchor: registry.Anchor{ID: id(60)}, Route: "The Long Way Round", Label: "B1", Standing: registry.NotInUseYet},
			{Anchor: registry.Anchor{ID: id(62)}, Route: "The Long Way Round", Label: "B2", Standing: registry.NotInUseYet},
		},
		Persons:  map[uuid.UUID]string{person: "A. Example"},
		Products: map[uuid.UUID]registry.Product{glue: {ID: glue, Name: "Slow resin", Kind: registry.Adhesive}, product: {ID: product, Name: "Twist 80"}},
		Batches:  map[uuid.UUID]registry.Batch{batch: {ID: batch, Text: "L1709-A"}},
	}
}

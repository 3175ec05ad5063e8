package web

import (
	"net/url"
	"time"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// Everything below is invented.

func peopleOf() []registry.Person {
	return []registry.Person{{ID: id(31), Name: "A. Example"}, {ID: id(34), Name: "B. Example"}}
}

// wrongForm is a form with something wrong in each field.
func wrongForm(fields ...string) *form {
	f := &form{Values: url.Values{"observations": {"rust", "loose-nut"}, "level": {"glance"}}}
	for _, name := range fields {
		f.Wrong = append(f.Wrong, wrongField{name, "This cannot be right."})
	}
	return f
}

// staleForm is a form with other things stored by now in each field.
func staleForm(fields ...string) *form {
	f := newForm()
	f.Stored = map[string]string{}
	for _, name := range fields {
		f.Stored[name] = "something else"
	}
	return f
}

// keepOf is a form with a field of every kind.
func keepOf(f *form) keepPage {
	return keepPage{
		form: f, Frame: frameOf("Change the site Marrow Scar"), Trail: []detail{{"Marrow Scar", "/x"}, {"Change", ""}}, Help: "Help.",
		Action: "/x/change", Button: "Change this site", Fields: []formField{
			{Name: "name", Kind: "text", Help: "Help."},
			{Name: "kind", Kind: "select", Options: []option{{Value: "crag", Text: "Crag"}}},
			{Name: "backed_up", Kind: "radio", Options: yesNoOptions()},
			{Name: "lat", Kind: "number"},
			{Name: "notes", Kind: "words"},
			{Name: endedField, Kind: "date"},
		},
	}
}

// orderOf is the order of two positions.
func orderOf(f *form) orderPage {
	page := orderPage{form: f, Frame: frameOf("Order of the positions"), Route: "The Long Way Round", Action: "/r/order"}
	for n, label := range []string{"B1", "B2"} {
		page.Stops = append(page.Stops, orderStop{rankField(id(byte(50 + n))), versionField(id(byte(50 + n))), label, "Belay"})
	}
	return page
}

func tasksOf() []taskLine {
	site := registry.Site{ID: id(2), Name: "Marrow Scar"}
	return []taskLine{
		newTaskLine("/g/fell-end", site, report.TaskEnvironment, true),
		newTaskLine("/g/fell-end", site, report.TaskSeaDistance, false),
	}
}

func aroundOf() surroundings {
	return surroundings{
		Environment: []environmentLine{{"Distance to the sea", "0.3 km", "from the site Marrow Scar, since 1 May 2025"}},
		EnterHref:   "/g/fell-end/places/x/environment",
		Restrictions: []groundLine{
			{Where: "Parcel North Field", Text: "No climbing from 1 February to 30 June every year, by agreement: nesting birds; never confirmed.", State: "in force today", Now: true},
			{Text: "No drilling from 1 May 2026, on request: lambs; never confirmed."},
		},
		Agreements: []groundLine{agreementLine(registry.Agreement{Kind: registry.Permission, Issuer: "Invented Estate", From: day(2020, time.May, 1)}, theDay)},
		Events:     []groundLine{{Text: wording.Event(registry.Event{Kind: registry.Rockfall, HappenedOn: day(2026, time.April, 2)})}},
	}
}

func positionOf() positionPage {
	rows := rowsOf("/g/fell-end", todayReport(1).Suspect)
	return positionPage{
		Frame: frameOf("Marrow Scar, B2 left"), Trail: []detail{{"Marrow Scar", "/x"}, {"B2 left", ""}}, Heading: "The Long Way Round, B2 left", Notice: "Done.",
		Routes: []routeStop{{"/r", "The Long Way Round", wording.Rank(3)}}, Details: []detail{{"Role", "Belay"}},
		Standing: rows, Earlier: []otherAnchor{{"/a", "Piton"}}, Assemblies: []string{"B2 belay, equalised"}, Around: aroundOf(),
	}
}

func routeOf() routePage {
	lines := everyStanding()[:3]
	positions := make([]registry.Position, 0, len(lines)+1)
	for i, l := range lines {
		lines[i].Anchor.PositionID = id(byte(60 + i))
		positions = append(positions, registry.Position{ID: id(byte(60 + i)), Label: l.Label, Role: registry.Runner, HowTo: "Left of the crack."})
	}
	positions = append(positions, registry.Position{ID: id(69), Label: "T"})
	return routePage{
		Frame: frameOf("Marrow Scar, The Long Way Round"), Trail: []detail{{"Marrow Scar", "/x"}, {"The Long Way Round", ""}}, Name: "The Long Way Round",
		Details: routeDetails(registry.Route{Kind: registry.Climb}), Stops: stopLines("/g/fell-end", positions, lines), Around: aroundOf(),
	}
}

func workOf() reportPage {
	line := todayReport(1).Suspect[0]
	line.Restrictions = []registry.Restriction{{Kind: registry.NoEntry, Weight: registry.ByLaw, Why: "bats", From: day(2026, time.April, 1)}}
	line.LastOpenDay = day(2026, time.March, 31)
	kit := []registry.KitLine{{Kind: registry.KitAnchor, Form: registry.SingleShank, Metal: metal.NewSet("1.4404"), Count: 1}}
	page := reportPage{Frame: frameOf("Work"), Path: "/w", Heading: report.Heading{AsOf: theDay}, Summary: []string{"1 to replace"}, CSV: "/w.csv", Kit: []string{wording.Kit(kit[0])}}
	item := registry.WorkItem{Line: line, Do: registry.WorkReplace, For: line.Assessment.Findings, Bring: kit}
	page.part("band-this-year", "This year", "", workRows(page.Frame.Base, registry.BandThisYear, []registry.WorkItem{item}))
	return page
}

func landOf() landPage {
	owner := id(70)
	line := todayReport(1).Suspect[0]
	o := report.LandOwner{
		ID: &owner, Name: "Invented Estate", Anchors: 4, Parcels: []registry.Parcel{{Name: "North Field"}},
		ByStanding: map[registry.Standing]int{registry.StandingWatch: 4},
		Problems:   []report.LandProblem{{Rule: "loose-nut", Severity: registry.Watch, Anchors: 4, Settled: 1, Inspected: 1, Open: 2}},
		Work:       []report.LandWork{{Kind: "inspection", Count: 2}},
		Agreements: []registry.Agreement{{Kind: registry.Permission, Issuer: "Invented Estate", From: day(2020, time.May, 1)}},
		Lines:      []report.LandLine{{Line: line, Work: []registry.LandRecord{{Kind: "inspection", Verdict: registry.Keep}}}},
	}
	return landPage{
		form: newForm("from", "2025-05-04", "to", "2026-05-03", "detail", "yes"), Frame: frameOf("Land"), Path: "/l", CSV: "/l.csv",
		Landowners: []option{{Text: "All landowners"}}, Period: "A year.",
		Owners: []ownerPart{newOwnerPart("/g/fell-end", &o, true, false), newOwnerPart("/g/fell-end", &report.LandOwner{}, false, false)},
	}
}

func rulesOf() rulesPage {
	parts, err := rulesParts([]byte(rulesText))
	if err != nil {
		panic(err)
	}
	parts[0].Tables[1].Rows[0].Differs, parts[0].Tables[1].Rows[0].Default = true, "Default: 6 months (yet another)."
	versions := []rulesVersion{{Version: 1, Made: "In force.", Reasons: []string{"a reason"}, Changes: []string{"a change"}}}
	return rulesPage{Frame: frameOf("House rules"), Version: 1, Parts: parts, Change: "/c", Versions: versions}
}

func rulesFormOf() rulesFormPage {
	parts := rulesOf().Parts
	parts[1].Tables[0].Rows[0].InForce = "In force: 60 days."
	return rulesFormPage{
		form: wrongForm("due_soon_days", "reason", ""), Frame: frameOf("Change the house rules"), Action: "/c", Stale: "Nothing was adopted.", Parts: parts,
		Looked: true, Change: []string{"a change"}, Counts: []string{"a count"}, First: "The first", Moves: []rulesMove{{"/x", "B2", "The Long Way Round", "It moves."}},
	}
}

const rulesText = `{
  "version": 1,
  "longest_interval_months": {
    "metal": {"environment-not-known": {"titanium": {"value": 60, "source": "an invented source"}}},
    "form": {"piton": {"value": 12, "source": "another"}, "staple": {"value": 60, "source": "a fifth"}}
  },
  "due_soon_days": {"value": 60, "source": "a third"},
  "resets": {"interval": {"hands-on": {"value": "yes", "source": "a fourth"}}}
}`

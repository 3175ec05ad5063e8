package web

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// Everything below is invented.

// id returns the nth of some fixed ids.
func id(n byte) uuid.UUID { return uuid.UUID{0: 1, 6: 0x70, 8: 0x80, 15: n} }

func day(y int, m time.Month, d int) calendar.Date { return calendar.NewDate(y, m, d) }

// theDay is the day that the fixed pages are of.
var theDay = day(2026, time.May, 3)

func frameOf(title string) frame {
	return frame{
		Title: title, Group: "Fell End Anchor Group (invented)", Base: "/g/fell-end", SignedIn: true, Caution: true,
		Nav: []navItem{
			{"/g/fell-end/", "Today", currentIf(title == "Today")},
			{"/g/fell-end/places", "Places", currentIf(title == "Places")},
			{"/g/fell-end/reports/overdue", "Overdue", currentIf(title == "Overdue")},
			{"/g/fell-end/reports/suspect", "Suspect", currentIf(title == "Suspect")},
			{"/g/fell-end/import", "Import", currentIf(title == "Import a list")},
		},
	}
}

// assessmentOf is an assessment with one finding.
func assessmentOf(s registry.Standing, due calendar.Date, state registry.DueState) registry.Assessment {
	won := registry.Candidate{
		Rule: "interval", Factor: "metal", On: due, Source: "default of this project",
		Values: registry.Values{
			{Name: "last_inspected_on", Text: "2025-05-02"},
			{Name: "months", Text: "12"},
			{Name: "level", Text: "hands-on"},
			{Name: "row", Text: "stainless"},
		},
	}
	return registry.Assessment{
		AnchorID: id(1), SiteID: id(2), AsOf: theDay, Standing: s, DueOn: due, SoonestOn: due, DueState: state,
		Reason: won, Candidates: []registry.Candidate{won}, Band: registry.BandThisYear, BandReason: "overdue",
		Findings: []registry.Finding{{
			Rule: "loose-nut", Severity: registry.Watch, Source: "judgement of this project", Settles: "maintenance",
			Values: registry.Values{{Name: "seen_on", Text: "2025-05-02"}, {Name: "seen_level", Text: "hands-on"}},
		}},
		ValidUntil: day(2026, time.June, 30), Engine: 1, RulesVersion: 1,
	}
}

func lineOf(n byte, route, label string, a registry.Assessment) registry.ReportLine {
	a.AnchorID = id(n)
	return registry.ReportLine{
		Place: registry.AnchorLine{
			Anchor: registry.Anchor{ID: id(n)}, Site: "Marrow Scar", Sector: "Left Wing", Route: route, Label: label,
			Role: registry.Belay, Standing: a.Standing, DueOn: a.DueOn, DueState: a.DueState, Band: a.Band,
		},
		Assessment: a,
	}
}

// todayReport has n anchors in each of its lists.
func todayReport(n int) report.Today {
	list := func(s registry.Standing, state registry.DueState) report.Stretch {
		lines := make([]registry.ReportLine, n)
		for i := range lines {
			lines[i] = lineOf(byte(i+1), "The Long Way Round", "B2 left", assessmentOf(s, day(2026, time.May, 2), state))
		}
		return report.Stretch{Lines: lines, Total: n}
	}
	return report.Today{
		Heading: report.Heading{Group: "fell-end", AsOf: theDay},
		Counts: registry.Counts{
			ByStanding: map[registry.Standing]int{
				registry.StandingOutOfUse: n, registry.StandingSuspect: n, registry.NotInUseYet: 2, registry.StandingWatch: 14,
				registry.NoProblem: 311, registry.StandingNotLocated: 3,
			},
			ByDueState: map[registry.DueState]int{
				registry.Overdue: n, registry.DueSoon: 12, registry.AwaitingFirstRound: n, registry.NotDue: 180,
			},
		},
		OutOfUse:   list(registry.StandingOutOfUse, registry.NotDue),
		Suspect:    list(registry.StandingSuspect, registry.DueSoon),
		Overdue:    list(registry.StandingWatch, registry.Overdue),
		FirstRound: list(registry.NoProblem, registry.AwaitingFirstRound),
	}
}

// storyOf is an anchor with a record of every kind.
func storyOf() registry.AnchorStory {
	person, glue, batch := id(31), id(32), id(33)
	shank, hole := quantity.Length(12), quantity.Length(14)
	record := func(n byte, on calendar.Date, o registry.Origin, words string) registry.Record {
		return registry.Record{
			ID: id(n), AnchorID: id(1), DoneOn: calendar.Exactly(on), PersonID: &person, Origin: o, Words: words,
			RecordedAt: on.Time().Add(18 * time.Hour),
		}
	}
	a := assessmentOf(registry.StandingWatch, day(2026, time.May, 2), registry.Overdue)
	a.Candidates = append(a.Candidates, registry.Candidate{
		Rule: "verdict", On: day(2027, time.May, 2), Source: "the inspector's own date", Hard: true,
		Values: registry.Values{{Name: "given_on", Text: "2025-05-02"}, {Name: "verdict", Text: "watch"}},
	})
	return registry.AnchorStory{
		Facts: registry.Facts{
			Anchor: registry.Anchor{
				ID: id(1), Version: 3, SiteID: id(2), PositionID: id(3), Form: registry.SingleShank, FormWords: "glue-in eye",
				Metal: metal.NewSet("1.4401", "1.4404"), MetalWords: "A4", Shank: &shank,
				SetOn:  calendar.Span{From: day(2003, time.June, 1), To: day(2003, time.August, 31), Words: "summer 2003"},
				Origin: registry.Imported, EnteredOn: day(2025, time.January, 10), Notes: "bit rusty? check <next> time",
			},
			Position: registry.Position{ID: id(3), SiteID: id(2), Label: "B2 left", Role: registry.Belay, Face: registry.Wall, HowTo: "Left end of the ledge, at knee height."},
			Site:     registry.Site{ID: id(2), Name: "Marrow Scar", Kind: registry.Crag},
			Fittings: []registry.Fitting{{ID: id(9), AnchorID: id(1), Kind: registry.Ring, Presence: registry.Present, Words: "10 mm"}},
			Installations: []registry.Installation{{
				Record: record(11, day(2003, time.July, 1), registry.Imported, ""), HoleDiameter: &hole, AdhesiveID: &glue, BatchID: &batch, RockSound: registry.Ringing,
			}},
			FirstUses: []registry.FirstUse{{Record: record(12, day(2003, time.July, 2), registry.Recorded, "")}},
			Inspections: []registry.Inspection{
				{Record: record(13, day(2019, time.April, 1), registry.Imported, "ok"), Level: registry.Glance},
				{
					Record: record(14, day(2025, time.May, 2), registry.Recorded, "Nut turned by hand."), Level: registry.HandsOn, Ticked: true,
					Observations: []registry.Observation{registry.LooseNut}, Verdict: registry.KeepWatching, InspectBy: day(2027, time.May, 2),
				},
			},
		},
		Sector: "Left Wing", Routes: []registry.Route{{Name: "The Long Way Round"}, {Name: "Short Cut"}}, Landowner: "Invented Estate",
		Persons:    map[uuid.UUID]string{person: "A. Example"},
		Products:   map[uuid.UUID]registry.Product{glue: {ID: glue, Name: "Slow resin", Kind: registry.Adhesive}},
		Batches:    map[uuid.UUID]registry.Batch{batch: {ID: batch, Text: "L1709-A"}},
		Assessment: a,
		History: []registry.HistoryRow{
			{At: time.Date(2026, time.May, 2, 23, 30, 0, 0, time.UTC), Standing: registry.StandingWatch, DueOn: day(2026, time.May, 2), DueState: registry.Overdue, Rules: []string{"loose-nut"}},
			{At: time.Date(2025, time.January, 10, 9, 0, 0, 0, time.UTC), Standing: registry.NoProblem, DueOn: day(2026, time.January, 10), DueState: registry.AwaitingFirstRound},
		},
		Others: []registry.Anchor{{ID: id(40), Form: registry.ThroughBolt, Removed: true, SetOn: calendar.Span{Words: "?"}, RemovedOn: calendar.Exactly(day(2003, time.July, 1))}},
	}
}

// evidenceOf is evidence about the anchor of storyOf, the evening before its
// last inspection was recorded.
func evidenceOf(zone *time.Location) evidencePage {
	now := storyOf()
	then := now
	then.History, then.Facts.Inspections = now.History[1:], now.Facts.Inspections[:1]
	line := func(noun string, row uuid.UUID, known bool) registry.LedgerLine {
		return registry.LedgerLine{
			At: theDay.Time(), Who: "token:" + id(50).String(), What: "import", Noun: noun, RowID: row, Known: known,
			After: `{"name":"Marrow Scar","notes":"a <b>bold</b> note"}`,
		}
	}
	e := report.Evidence{
		Group: "fell-end", MadeAt: theDay.Time(), TimeZone: "Europe/London", AnchorID: id(1), KnownOn: day(2025, time.May, 1),
		Shown: &then.History[0], Seal: &registry.Seal{Era: 1, Number: 4, At: theDay.Time(), Hash: "5ea1"},
		Log: registry.Evidence{Known: true, ShownLater: now.History[:1], Then: then, Now: now, Lines: []registry.LedgerLine{
			line("site", id(2), true), line("inspection", id(13), true), line("inspection", id(14), false), line("site", id(2), false),
		}},
	}
	page := newEvidencePage(frameOf("Evidence"), e, zone)
	page.Path = "/g/fell-end/anchors/1/evidence"
	return page
}

// importReport is what became of a small list.
func importReportOf() report.Import {
	return report.Import{
		DryRun: true, FileName: "anchors.csv", Encoding: "UTF-8", Delimiter: ";", Rows: 8, Entered: 2, Changed: 1, Clashes: 1, Successors: 1, Duplicates: 1, Blank: 1, Refused: 1, Unchanged: 1,
		Columns:  []report.Column{{Heading: "Crag", Field: "site"}, {Heading: "Fitted", Field: "set_on"}, {Heading: "Colour"}},
		Doubts:   []registry.Doubt{{Line: 4, Column: "Fitted", Text: "31/02/2012", Code: registry.DoubtNoSuchDay}},
		Refusals: []registry.Doubt{{Line: 5, Code: registry.RefusedSiteNotNamed}}, DuplicateRows: []report.Repeat{{Line: 6, Of: 3}},
		ChangedCells:  []report.CellChange{{Line: 7, Column: "Fitted", Field: "set_on", Place: "Marrow Scar, B2", From: "2012", To: "2014"}},
		ClashingCells: []report.CellClash{{CellChange: report.CellChange{Line: 8, Column: "Dia", Place: "Marrow Scar, B3", From: "10", To: "12"}, Register: "11 mm"}},
	}
}

// currentIf marks the entry of the navigation that a page is at.
func currentIf(here bool) string {
	if here {
		return "page"
	}
	return ""
}

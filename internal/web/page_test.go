package web

import (
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/a-h/templ"
	"github.com/google/go-cmp/cmp"
	"golang.org/x/net/html"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// pages are all pages, each with something in every part of it.
func pages() map[string]templ.Component {
	zone := time.FixedZone("BST", 3600)
	imported := importPage{Frame: frameOf("Import a list"), Wrong: []string{"Something."}, Kept: "x"}
	imported.fill(importReportOf())
	site := newSitePage(frameOf("Marrow Scar"), registry.Site{Name: "Marrow Scar", Kind: registry.Crag, RockWords: "limestone"}, siteFilter{})
	site.Groups = routeGroups(site.Frame.Base, siteLayout{}, everyStanding())
	site.More, site.Start = "/more", "/start"
	site.Around, site.Tasks = aroundOf(), tasksOf()
	site.Sectors = []siteLine{{Href: "/s", Name: "Left Wing"}}
	today := newTodayPage(frameOf("Today"), todayReport(12))
	today.Tasks, today.Upcoming, today.Proposals = tasksOf(), aroundOf().Restrictions, wording.ProposalsWait(3)
	inspected := newAnchorPage(frameOf("Marrow Scar, B2 left"), storyOf(), zone)
	inspected.Inspect = &inspectionForm{form: wrongForm("done_on", "level", "observations", "person_id", "words"), Action: "/i", Open: true, Persons: personOptions(peopleOf())}
	inspected.offerSettling(storyOf())
	rep := reportPage{
		Frame: frameOf("Suspect"), Path: "/g/fell-end/reports/suspect", Form: asOfForm{Text: "2026-13-01", Wrong: "There is no such day."},
		Heading: report.Heading{AsOf: theDay, Recomputed: true}, Summary: []string{"1 anchor out of use"}, CSV: "/x.csv", Earlier: "/a", Later: "/b", Shown: "Anchors 1 to 3 of 9.",
	}
	rep.part("worst-first", "Worst first", "A word of help.", findingRows(rep.Frame.Base, todayReport(3).Suspect.Lines))
	return map[string]templ.Component{
		"sign-in":    signInView(signInPage{Frame: frame{Title: "Sign in"}, Email: "a@example.org", Next: "/g/fell-end/", Wrong: wording.SignInWrong}),
		"sent":       signInView(signInPage{Frame: frame{Title: "Sign in"}, Again: again{Action: "/g/fell-end/holds", Values: map[string][]string{"reason": {"x"}}, Files: []string{"file"}}}),
		"notice to":  recallFormView(recallFormOf()),
		"add to":     positionAddView(positionAddPage{form: newForm(), Frame: frameOf("Add a position"), Action: "/p"}),
		"home":       homeView(homePage{Frame: frame{Title: "Your groups", SignedIn: true}, Groups: []registry.Group{{Slug: "a", Name: "A"}, {Slug: "b", Name: "B"}}}),
		"no group":   homeView(homePage{Frame: frame{Title: "Your groups", SignedIn: true}}),
		"today":      todayView(today),
		"inspection": anchorView(inspected),
		"evidence":   evidenceView(evidenceOf(zone)),
		"unknown":    evidenceView(evidencePage{Frame: frameOf("Evidence"), Heading: "What was known", Path: "/e", Form: asOfForm{Text: "2027-01-01", Wrong: "Ahead."}}),
		"position":   positionView(positionOf()),
		"no anchor":  positionView(positionPage{Frame: frameOf("B1"), Heading: "B1"}),
		"route":      routeView(routeOf()),
		"no stops":   routeView(routePage{Frame: frameOf("Bare Slab"), Name: "Bare Slab"}),
		"climate":    environmentView(environmentPage{form: wrongForm("sea_km", "until", ""), Frame: frameOf("Environment of Marrow Scar"), Action: "/e", Preset: "/p", PresetName: "Cave"}),
		"settle":     settleView(settlePage{form: wrongForm("reason", "until"), Frame: frameOf("Settle a finding"), Action: "/s", Finding: newFindingLine(storyOf().Assessment.Findings[0])}),
		"retract":    retractView(retractPage{form: wrongForm("reason", "retracts_id"), Frame: frameOf("Take a record back"), Action: "/r", Record: "Inspected.", Follows: []string{"x"}, Better: true}),
		"refused":    retractView(retractPage{form: newForm(), Frame: frameOf("Take a record back"), Record: "Inspected.", Refused: "It would stand again."}),
		"settled":    settleView(settlePage{form: newForm(), Frame: frameOf("Settle a finding"), Gone: true}),
		"work":       reportView(workOf()),
		"land":       landView(landOf()),
		"no land":    landView(landPage{form: wrongForm("from"), Frame: frameOf("Land"), Path: "/l"}),
		"glue":       gluingView(gluingOf(wrongForm("done_on", "rock_c", "all.hole_depth_mm", "installations[1].set_at", "installations[2].edge_distance_mm", ""))),
		"glue bare":  gluingView(gluingOf(newForm())),
		"correct":    correctView(correctPage{form: wrongForm("done_on", "rock_c"), Frame: frameOf("Correct a gluing session"), Action: "/c", Choices: gluingOf(newForm()).Choices}),
		"glue where": gluingPlacesView(gluingListPage{Frame: frameOf("Enter a gluing card"), Places: []siteLine{{"/x", "Marrow Scar", "Crag"}}}),
		"glued":      gluingListView(gluingListPage{Frame: frameOf("Gluing"), May: true, Sessions: []siteLine{{"/x", "2 May 2026", "Marrow Scar"}}, Older: "/o"}),
		"none glued": gluingListView(gluingListPage{Frame: frameOf("Gluing")}),
		"session":    gluingSessionView(gluedOf(zone)),
		"glue card":  gluingCardView(cardPage{Frame: frameOf("Gluing card"), Back: "/b", Where: "Marrow Scar", Sheets: sheetsOf([]string{"B1", "B2", "B3", "B4", "B5", "B6", "B7"})}),
		"cure card":  cureCardView(cureCardPage{Frame: frameOf("Cure card"), Back: "/b", Where: "Marrow Scar", Until: "Do not load.", Doubt: "z", Anchors: []cureLine{{"B1", "x", "y", "z"}}}),
		"first use":  firstUseView(anchorFormPage{form: wrongForm("at", "sample"), Frame: frameOf("Allow first use"), Action: "/a", Persons: personOptions(peopleOf()), Held: []findingLine{{Severity: registry.Suspect, Text: "z"}}, Cure: []detail{{"Cure", "x"}}}),
		"cure":       cureView(anchorFormPage{form: wrongForm("lowest_c", "label_c"), Frame: frameOf("What the label says"), Action: "/a", Persons: personOptions(peopleOf())}),
		"rules":      rulesView(rulesOf()),
		"keep":       keepView(keepOf(wrongForm("name", "kind", endedField))),
		"keep stale": keepView(keepOf(staleForm("name", "kind", "backed_up", endedField))),
		"order":      orderView(orderOf(wrongForm(rankField(id(50))))),
		"order old":  orderView(orderOf(staleForm(rankField(id(51))))),
		"new rules":  rulesFormView(rulesFormOf()),
		"landowner":  landFormView(landFormPage{form: wrongForm("owner_name", "contact"), Frame: frameOf("Add a landowner"), Kind: "landowner", Action: "/o", Contact: true, Stale: []string{"x"}}),
		"parcel":     landFormView(landFormPage{form: wrongForm("outline", "outline_file"), Frame: frameOf("Add a parcel"), Kind: "parcel", Action: "/o"}),
		"agreement":  landFormView(landFormPage{form: wrongForm("issuer", "agreement", "holds_from"), Frame: frameOf("Add a permission"), Kind: "agreement", Action: "/o"}),
		"barred":     landFormView(landFormPage{form: wrongForm("barred_at", "barred", "yearly_from_day", "weight"), Frame: frameOf("Add a restriction"), Kind: "restriction", Action: "/o"}),
		"all land":   landListView(landListPage{Frame: frameOf("Landowners"), Report: "/l", Parts: []landListPart{{ID: "landowners", Heading: "Landowners", Add: "/a", AddHow: "Add", Lines: []landLine{{"x", []string{"y"}, "/c"}}}, {ID: "parcels", Heading: "Parcels", None: "None."}}}),
		"proposals":  proposalsView(proposalsOf()),
		"no notes":   proposalsView(proposalsPage{Frame: frameOf("Proposals from lists"), Action: "/g/fell-end/proposals"}),
		"first day":  todayView(newTodayPage(frameOf("Today"), report.Today{Heading: report.Heading{AsOf: theDay}})),
		"anchor":     anchorView(newAnchorPage(frameOf("Marrow Scar, B2 left"), storyOf(), zone)),
		"bare story": anchorView(newAnchorPage(frameOf("B1"), registry.AnchorStory{Facts: registry.Facts{Site: registry.Site{Name: "Marrow Scar"}}}, zone)),
		"places":     placesView(placesPage{Frame: frameOf("Places"), Sites: []siteLine{{"/x", "Marrow Scar", "Crag"}}, More: "/more"}),
		"anchors":    anchorsView(anchorsPage{Frame: frameOf("Anchors"), Due: dueOptions(registry.Overdue), Rows: rowsOf("/g/fell-end", todayReport(2).Suspect.Lines), More: "/more", Start: "/start"}),
		"none found": anchorsView(anchorsPage{Frame: frameOf("Anchors")}),
		"no places":  placesView(placesPage{Frame: frameOf("Places"), Import: true}),
		"site":       siteView(site),
		"report":     reportView(rep),
		"no report":  reportView(reportPage{Frame: frameOf("Overdue"), Path: "/x", None: wording.NoneOverdue, Heading: report.Heading{AsOf: theDay}}),
		"import":     importView(importPage{Frame: frameOf("Import a list")}),
		"imported":   importView(imported),
		"importing":  importStateView(importingOf(imported)),
		"tried":      importedOf(imported)["tried"],
		"undoing":    importedOf(imported)["undoing"],
		"not undone": importedOf(imported)["not undone"],
		"error":      errorView(errorPage{Frame: frame{Title: "Not found"}, Text: "There is no such page.", Home: "/", HomeText: "To the first page", RequestID: "7"}),
	}
}

// everyStanding is a line for each standing.
func everyStanding() []registry.AnchorLine {
	var lines []registry.AnchorLine
	for i, s := range registry.Standings() {
		lines = append(lines, lineOf(byte(i+1), "The Long Way Round", "B"+string(rune('1'+i)), assessmentOf(s, day(2026, time.May, 2), registry.Overdue)).Place)
	}
	return append(lines, registry.AnchorLine{Sector: "Left Wing", Route: "Bare Slab"})
}

// What a machine can see of WCAG 2.2: 1.3.1 and 4.1.2 (names and relations),
// 2.4.1 (skip link), 2.4.2 (title), 2.4.6 (headings in order), 3.1.1 (language).
func TestEveryPageIsAccessible(t *testing.T) {
	t.Parallel()
	for name, page := range pages() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			doc := draw(t, page)
			if lang, _ := attr(one(t, doc, "html", tag("html")), "lang"); lang != "en-GB" {
				t.Errorf("lang = %q, want en-GB", lang)
			}
			if title := text(one(t, doc, "title", tag("title"))); !strings.HasSuffix(title, "Rockledger") || title == "Rockledger" {
				t.Errorf("title = %q, want the page's own and then Rockledger", title)
			}
			one(t, doc, "main", tag("main"), has("id", "content"))
			one(t, doc, "skip link", tag("a"), has("href", "#content"))
			checkHeadings(t, doc)
			checkReferences(t, doc)
			checkNames(t, doc)
		})
	}
}

// checkHeadings wants one h1, first, and no level left out below it.
func checkHeadings(t *testing.T, doc *html.Node) {
	t.Helper()
	var levels []string
	for _, n := range all(doc, func(n *html.Node) bool {
		return len(n.Data) == 2 && n.Data[0] == 'h' && n.Data[1] >= '1' && n.Data[1] <= '6'
	}) {
		levels = append(levels, n.Data)
	}
	if len(levels) == 0 || levels[0] != "h1" || slices.Contains(levels[1:], "h1") {
		t.Fatalf("headings %v, want one h1, first", levels)
	}
	for i := 1; i < len(levels); i++ {
		if levels[i][1] > levels[i-1][1]+1 {
			t.Errorf("headings %v: %s follows %s", levels, levels[i], levels[i-1])
		}
	}
}

// checkReferences wants every id once, and every reference to one answered.
func checkReferences(t *testing.T, doc *html.Node) {
	t.Helper()
	ids := map[string]int{}
	for _, n := range all(doc) {
		if v, ok := attr(n, "id"); ok {
			ids[v]++
		}
	}
	for v, n := range ids {
		if n != 1 {
			t.Errorf("id %q stands %d times, want once", v, n)
		}
	}
	for _, n := range all(doc) {
		for _, name := range []string{"for", "aria-labelledby", "aria-describedby"} {
			v, _ := attr(n, name)
			for _, id := range strings.Fields(v) {
				if ids[id] == 0 {
					t.Errorf("%s=%q on <%s> refers to nothing called %q", name, v, n.Data, id)
				}
			}
		}
	}
}

// checkNames wants a label for every field and a text for every link and
// button.
func checkNames(t *testing.T, doc *html.Node) {
	t.Helper()
	for _, n := range all(doc) {
		kind, _ := attr(n, "type")
		switch {
		case n.Data == "a" || n.Data == "button":
			if text(n) == "" {
				t.Errorf("a <%s> without text", n.Data)
			}
		case n.Data == "input" && kind != "hidden" || n.Data == "select" || n.Data == "textarea":
			v, _ := attr(n, "id")
			if len(all(doc, tag("label"), has("for", v))) != 1 {
				t.Errorf("field %q has no label", v)
			}
		}
	}
}

// Pages live under a content policy that allows nothing inline, and need no
// script and nothing from elsewhere.
func TestEveryPageStandsAlone(t *testing.T) {
	t.Parallel()
	for name, page := range pages() {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			for _, n := range all(draw(t, page)) {
				if n.Data == "style" || n.Data == "script" || n.Data == "iframe" {
					t.Errorf("a <%s>", n.Data)
				}
				for _, a := range n.Attr {
					inline := a.Key == "style" || strings.HasPrefix(a.Key, "on")
					away := (a.Key == "href" || a.Key == "src" || a.Key == "action") && !strings.HasPrefix(a.Val, "/") && !strings.HasPrefix(a.Val, "#")
					if inline || away || strings.HasPrefix(a.Val, "//") {
						t.Errorf("<%s %s=%q>", n.Data, a.Key, a.Val)
					}
				}
			}
		})
	}
}

// Every page of a group can give a standing or a date, so all carry the caution.
func TestEveryPageOfAGroupCarriesTheCaution(t *testing.T) {
	t.Parallel()
	for name, page := range pages() {
		doc := draw(t, page)
		if len(all(doc, tag("nav"), has("aria-label", "Main"))) == 0 {
			continue // outside a group
		}
		if got := text(one(t, doc, "caution", class("caution"))); !strings.Contains(got, wording.Caution) {
			t.Errorf("%s: caution reads %q", name, got)
		}
	}
}

// "No problem on record" is never shown as safe, never as a tick.
func TestNoPageSaysSafe(t *testing.T) {
	t.Parallel()
	for name, page := range pages() {
		got := strings.ToLower(text(draw(t, page)))
		for _, word := range []string{"safe", "✓", "✔", "☑", "✅"} {
			if strings.Contains(got, word) {
				t.Errorf("%s says %q: %s", name, word, got[max(0, strings.Index(got, word)-60):])
			}
		}
	}
}

func TestStandingIsAMarkOfItsOwnAndWords(t *testing.T) {
	t.Parallel()
	shapes := map[string]registry.Standing{}
	for _, s := range registry.Standings() {
		doc := draw(t, standingWords(s))
		if got := text(doc); got != wording.Standing(s) {
			t.Errorf("standingWords(%s) reads %q, want %q", s, got, wording.Standing(s))
		}
		mark := one(t, doc, "mark", tag("svg"), has("aria-hidden", "true"))
		shape := shapeOf(mark)
		if other, there := shapes[shape]; there {
			t.Errorf("the marks of %s and %s have the same shape", s, other)
		}
		shapes[shape] = s
	}
}

// shapeOf is what an svg draws, colours and classes aside but for filled or
// drawn in lines.
func shapeOf(svg *html.Node) string {
	var b strings.Builder
	for _, n := range all(svg) {
		b.WriteString(n.Data)
		for _, a := range n.Attr {
			b.WriteString(" " + a.Key + "=" + a.Val)
		}
	}
	return b.String()
}

func TestTodayCountsInWords(t *testing.T) {
	t.Parallel()
	doc := draw(t, todayView(newTodayPage(frameOf("Today"), todayReport(2))))
	got := texts(all(one(t, doc, "summary", class("summary")), tag("li")))
	want := []string{
		"2 out of use", "2 not in use yet", "2 suspect", "14 to watch", "311 with no problem on record", "3 not located",
		"2 overdue", "12 due soon", "2 awaiting the first round", "180 not due",
	}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("counts (-want +got):\n%s", diff)
	}
}

func TestTodayOfAnEmptyRegisterLeadsToTheImport(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		frame frame
		want  int
	}{
		{"steward", frameOf("Today"), 1},
		{"reader", frame{Title: "Today", Base: "/g/fell-end"}, 0},
	} {
		doc := draw(t, todayView(newTodayPage(c.frame, report.Today{Heading: report.Heading{AsOf: theDay}})))
		main := one(t, doc, "main", tag("main"))
		if got := len(all(main, tag("a"), has("href", "/g/fell-end/import"))); got != c.want {
			t.Errorf("%s: %d links to the import, want %d", c.name, got, c.want)
		}
		if !strings.Contains(text(main), wording.EmptyRegister) {
			t.Errorf("%s: page reads %q, want %q in it", c.name, text(main), wording.EmptyRegister)
		}
	}
}

func TestRowSaysPlaceStandingDateAndReason(t *testing.T) {
	t.Parallel()
	l := todayReport(1).Overdue.Lines[0]
	doc := draw(t, anchorList(rowsOf("/g/fell-end", []registry.ReportLine{l})))
	got := text(doc)
	for _, want := range []string{
		"The Long Way Round, B2 left", "Marrow Scar › Left Wing", "Watch", "Inspect by 2 May 2026: overdue",
		wording.ReasonBehind(l.Assessment),
	} {
		if !strings.Contains(got, want) {
			t.Errorf("row reads %q, want %q in it", got, want)
		}
	}
	if strings.Count(got, "2 May 2026") != 1 {
		t.Errorf("row reads %q, want its date once", got)
	}
}

package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

func counts(t *testing.T, p page) []string {
	t.Helper()
	return web.Texts(web.All(web.One(t, p.doc, "counts", web.Class("counts")), web.Tag("li")))
}

func TestImportShowsFirstAndThenEnters(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	tried := b.upload("/g/fell-end/import", map[string]string{"file": gutter})
	want := []string{
		"5 rows in the list", "4 would be entered", "0 successors of replaced anchors beside them", "1 duplicate",
		"0 blank", "0 refused", "0 in the register already, unchanged",
	}
	if diff := cmp.Diff(want, counts(t, tried)); diff != "" {
		t.Errorf("counts of the first step (-want +got):\n%s", diff)
	}
	for _, want := range []string{wording.ImportTried, "Line 4, column Date set: 31/02/2012", "Line 6 says the same as line 2."} {
		if !strings.Contains(tried.text(), want) {
			t.Errorf("first step reads %q, want %q in it", tried.text(), want)
		}
	}
	if p := b.get("/g/fell-end/"); !strings.Contains(p.text(), wording.EmptyRegister) {
		t.Error("the first step entered something")
	}

	done := b.enter(gutter)
	want[1] = "4 entered"
	if diff := cmp.Diff(want, counts(t, done)); diff != "" {
		t.Errorf("counts of the second step (-want +got):\n%s", diff)
	}
	again := b.upload("/g/fell-end/import", map[string]string{"file": gutter})
	if !strings.Contains(again.text(), wording.ImportNoNew) || len(web.All(again.doc, web.Has("name", "kept"))) != 0 {
		t.Errorf("the same list again reads %q, want %q and no way to enter it", again.text(), wording.ImportNoNew)
	}
}

// A long list that is tried is followed on a page of its own, and entered from
// there.
func TestLongListIsTriedThenEntered(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	long := gutter + strings.Repeat(strings.SplitAfter(gutter, "\n")[1], app.MostAtOnce)
	sent := b.upload("/g/fell-end/import", map[string]string{"file": long})
	at := sent.header.Get("Location")
	if sent.status != http.StatusSeeOther || at == "" {
		t.Fatalf("a long list to be tried = %d, want 303", sent.status)
	}
	if p := b.get(at); !strings.Contains(p.text(), wording.ImportStateWords(registry.JobTrying, true, 0)) ||
		len(web.All(p.doc, web.Has("http-equiv", "refresh"))) != 1 || len(web.All(p.doc, web.Has("action", at+"/enter"))) != 0 {
		t.Errorf("the page reads %q, want that the list is tried, and itself loaded again", p.text())
	}
	if early := b.post(at+"/enter", nil); early.status != http.StatusUnprocessableEntity || len(web.All(early.doc, web.Has("id", "import-wrong"))) != 1 {
		t.Errorf("entered too early = %d, want 422 and why", early.status)
	}
	s.runImports(t)
	p := b.get(at)
	if !strings.Contains(p.text(), wording.ImportTried) || counts(t, p)[1] != "4 would be entered" || len(web.All(p.doc, web.Has("http-equiv", "refresh"))) != 0 {
		t.Errorf("the page reads %q, want the report", p.text())
	}
	web.One(t, p.doc, "the way to enter it", web.Has("action", at+"/enter"))
	if places := b.get("/g/fell-end/"); !strings.Contains(places.text(), wording.EmptyRegister) {
		t.Error("the trial entered something")
	}
	if sent := b.post(at+"/enter", nil); sent.status != http.StatusSeeOther || sent.header.Get("Location") != at {
		t.Fatalf("enter = %d to %q, want 303 to %q", sent.status, sent.header.Get("Location"), at)
	}
	if p := b.get(at); !strings.Contains(p.text(), wording.ImportStateWords(registry.JobWaiting, false, 0)) || len(web.All(p.doc, web.Has("http-equiv", "refresh"))) != 1 {
		t.Errorf("the page reads %q, want that the list waits, and itself loaded again", p.text())
	}
	s.runImports(t)
	if p := b.get(at); len(web.All(p.doc, web.Has("http-equiv", "refresh"))) != 0 || counts(t, p)[1] != "4 entered" || !strings.Contains(p.text(), wording.ImportStateWords(registry.JobDone, false, 4)) {
		t.Errorf("the page reads %q, want that the list was entered", p.text())
	}
}

func (s *stack) runImports(t *testing.T) {
	t.Helper()
	if err := s.service.RunImports(t.Context()); err != nil {
		t.Fatal(err)
	}
}

// A list is undone from its page, which says so while it waits, what stood in the
// way, and when it is done.
func TestLongImportIsUndone(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	long := gutter + strings.Repeat(strings.SplitAfter(gutter, "\n")[1], app.MostAtOnce)
	at := b.upload("/g/fell-end/import", map[string]string{"file": long}).header.Get("Location")
	s.runImports(t)
	b.post(at+"/enter", nil)
	if p := b.get(at); len(web.All(p.doc, web.Has("action", at+"/undo"))) != 0 {
		t.Error("a list that is being entered is offered to be undone")
	}
	s.runImports(t)
	web.One(t, b.get(at).doc, "the way to undo it", web.Has("action", at+"/undo"))
	ask := func() page {
		t.Helper()
		sent := b.post(at+"/undo", nil)
		if sent.status != http.StatusSeeOther {
			t.Fatalf("undo = %d, want 303", sent.status)
		}
		return b.get(at)
	}
	if p := ask(); len(web.All(p.doc, web.Has("http-equiv", "refresh"))) != 1 || len(web.All(p.doc, web.Has("action", at+"/undo"))) != 0 ||
		!strings.HasPrefix(web.Text(web.One(t, p.doc, "since when", web.Has("id", "undo-since"))), "Being undone since ") {
		t.Errorf("the page reads %q, want that the list is being undone", p.text())
	}
	lines, err := s.service.Anchors(t.Context(), s.actor(registry.RoleSteward), registry.AnchorFilter{}, registry.Page{Limit: 1})
	if err != nil {
		t.Fatal(err)
	}
	seen := registry.Inspection{Record: registry.Record{AnchorID: lines[0].Anchor.ID, DoneOn: calendar.Exactly(calendar.NewDate(2026, 5, 2))}, Level: registry.Glance}
	seen.ID = uuid.Must(uuid.NewV7())
	if _, _, err := s.service.RecordInspection(t.Context(), s.actor(registry.RoleSteward), seen); err != nil {
		t.Fatal(err)
	}
	s.runImports(t)
	for name, p := range map[string]page{"kept": b.get(at), "at once": b.post(at+"/undo", nil)} {
		if n := len(web.All(web.One(t, p.doc, name+": what is in the way", web.Has("id", "in-the-way")), web.Tag("li"))); n != 1 {
			t.Errorf("%s: %d things in the way, want 1: %q", name, n, p.text())
		}
	}
	if p := s.member(t, registry.RoleRecorder).post(at+"/undo", nil); p.status != http.StatusForbidden {
		t.Errorf("undo by a recorder = %d, want 403", p.status)
	}
}

// A short list is undone before its page is shown again.
func TestShortImportIsUndone(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	at := b.get("/g/fell-end/import").link(t, "file.csv")
	if sent := b.post(at+"/undo", nil); sent.status != http.StatusSeeOther {
		t.Fatalf("undo = %d %q, want 303", sent.status, sent.text())
	}
	if p := b.get(at); !strings.Contains(p.text(), wording.ImportStateWords(registry.JobUndone, false, 4)) {
		t.Errorf("the page reads %q, want that the import was undone", p.text())
	}
	if p := b.post(at+"/undo", nil); p.status != http.StatusConflict || !strings.Contains(p.text(), "undone already") {
		t.Errorf("undone again = %d %q, want 409", p.status, p.text())
	}
}

func TestImportSaysWhatIsWrong(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	for name, p := range map[string]page{
		"no file":        b.upload("/g/fell-end/import", nil),
		"no list":        b.upload("/g/fell-end/import", map[string]string{"file": "\x00\x01\x02"}),
		"broken mapping": b.upload("/g/fell-end/import", map[string]string{"file": gutter, "columns": "columns: ["}),
		"lost list":      b.post("/g/fell-end/import/enter", url.Values{"kept": {"rock"}}),
	} {
		if p.status != http.StatusUnprocessableEntity {
			t.Errorf("%s = %d, want 422", name, p.status)
		}
		if n := len(web.All(web.One(t, p.doc, name+": what is wrong", web.Has("id", "import-wrong")), web.Tag("li"))); n == 0 {
			t.Errorf("%s: no sentence says what is wrong", name)
		}
	}
}

func TestTodayLeadsToAnAnchorsStory(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)
	today := b.get("/g/fell-end/")
	if today.status != http.StatusOK {
		t.Fatalf("Today = %d, want 200", today.status)
	}
	if got, want := web.Text(web.One(t, today.doc, "h1", web.Tag("h1"))), "Today, 3 May 2026"; got != want {
		t.Errorf("heading %q, want %q", got, want)
	}
	// spins: suspect for any form (judgement of this project, the default house rules)
	anchor := b.get(today.link(t, "Slate Rib, 2"))
	if anchor.status != http.StatusOK {
		t.Fatalf("anchor = %d, want 200", anchor.status)
	}
	for _, want := range []string{
		"Suspect as of 3 May 2026", "Why this date", "Inspect by", "Taken over from a list, which says “spins”.",
		"<b>by the bush</b>", "Invented Estate", wording.Caution,
	} {
		if !strings.Contains(anchor.text(), want) {
			t.Errorf("anchor's page lacks %q: %s", want, anchor.text())
		}
	}
	if strings.Contains(anchor.body, "<b>by") {
		t.Error("a note's markup reached the page unescaped")
	}
}

func TestPlacesLeadToEveryAnchor(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)
	site := b.get(b.get("/g/fell-end/places").link(t, "Gutter Edge"))
	got := web.Texts(web.All(site.doc, web.Tag("h3")))
	want := []string{"Left Wall › Slate Rib", "Right Wall › Wet Corner"}
	if diff := cmp.Diff(want, got); diff != "" {
		t.Errorf("routes (-want +got):\n%s", diff)
	}
	for _, c := range []struct {
		query string
		want  int
	}{{"", 4}, {"?standing=suspect", 1}, {"?standing=removed", 1}, {"?text=bush", 1}, {"?text=nowhere", 0}, {"?standing=rock", 4}} {
		p := b.get(site.link(t, "Places") + "/" + siteID(t, b) + c.query)
		if n := len(web.All(p.doc, web.Class("anchor-row"))); n != c.want {
			t.Errorf("%q shows %d anchors, want %d", c.query, n, c.want)
		}
	}
}

func siteID(t *testing.T, b *browser) string {
	t.Helper()
	href := b.get("/g/fell-end/places").link(t, "Gutter Edge")
	return href[strings.LastIndex(href, "/")+1:]
}

func TestReportsForAnotherDay(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)

	p := b.get("/g/fell-end/reports/overdue")
	if !strings.Contains(p.text(), "Awaiting the first round") || strings.Contains(p.text(), wording.RecomputedHelp) {
		t.Errorf("today's report reads %q", p.text())
	}
	// the first round ends 12 months after entry (default of this project)
	p = b.get("/g/fell-end/reports/overdue?as_of=2028-01-01")
	if p.status != http.StatusOK || !strings.Contains(p.text(), wording.RecomputedHelp) || !strings.Contains(p.text(), "Overdue on 1 January 2028") {
		t.Errorf("report for another day = %d %q", p.status, p.text())
	}
	for _, typed := range []string{"2026-02-31", "soon", "1800-01-01"} {
		p = b.get("/g/fell-end/reports/overdue?as_of=" + typed)
		field := web.One(t, p.doc, "field", web.Has("id", "as_of"))
		if got, _ := web.Attr(field, "value"); p.status != http.StatusUnprocessableEntity || got != typed {
			t.Errorf("as_of %q = %d with %q in the field, want 422 with what was typed", typed, p.status, got)
		}
		if got := web.Text(web.One(t, p.doc, "what is wrong", web.Has("id", "as-of-wrong"))); got == typed+":" {
			t.Errorf("as_of %q: no sentence says what is wrong", typed)
		}
		if p = b.get("/g/fell-end/reports/overdue.csv?as_of=" + typed); p.status != http.StatusUnprocessableEntity {
			t.Errorf("as_of %q as CSV = %d, want 422", typed, p.status)
		}
	}
}

func TestReportsAsCSV(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)
	for name, spot := range map[string]string{"overdue": "Wet Corner", "suspect": "Slate Rib"} {
		p := b.get(b.get("/g/fell-end/reports/"+name).link(t, "Download as CSV"))
		if p.status != http.StatusOK || !strings.HasPrefix(p.header.Get("Content-Type"), "text/csv") {
			t.Errorf("%s = %d %s, want 200 text/csv", name, p.status, p.header.Get("Content-Type"))
		}
		if want := `attachment; filename="fell-end-` + name + `.csv"`; p.header.Get("Content-Disposition") != want {
			t.Errorf("%s: disposition %q, want %q", name, p.header.Get("Content-Disposition"), want)
		}
		for _, want := range []string{"caution", wording.Caution, spot} {
			if !strings.Contains(p.body, want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
	}
}

// 338 rows, 332 entered, 4 duplicates, 2 blank: the sample's own counts.
func TestSampleListThroughThePages(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	got := counts(t, b.enter(sample(t)))
	for _, want := range []string{"338 rows in the list", "332 entered", "4 duplicates", "2 blank", "0 refused"} {
		if !strings.Contains(strings.Join(got, "\n"), want) {
			t.Errorf("counts %q, want %q", got, want)
		}
	}
	today := b.get("/g/fell-end/")
	if n := len(web.All(today.doc, web.Class("anchor-row"))); n > 5*web.TodayRows {
		t.Errorf("Today shows %d anchors, want at most %d", n, 5*web.TodayRows)
	}
	cut := web.All(today.doc, web.Class("some"))
	if len(cut) == 0 {
		t.Error("Today shows every part of a long register whole")
	}
	for _, some := range cut {
		link := web.One(t, some, "link to all", web.Tag("a"))
		href, _ := web.Attr(link, "href")
		_, n, _ := strings.Cut(web.Text(link), "Show all ")
		n, _, _ = strings.Cut(n, " ")
		p := b.get(href)
		if only := web.Text(web.One(t, p.doc, "which part", web.Has("id", "only"))); !strings.Contains(only, " alone: "+n+" of the ") {
			t.Errorf("%s says %q, want the %s that Today counts", href, only, n)
		}
		for p.status == http.StatusOK && strings.Contains(p.text(), "Anchors after these") {
			next := p.link(t, "Anchors after these")
			if !strings.Contains(next, "show=") {
				t.Errorf("%s forgets which part it shows", next)
			}
			p = b.get(next)
		}
		if !strings.Contains(p.text(), "to "+n+" of "+n+".") {
			t.Errorf("%s ends before the %s that Today counts: %s", href, n, p.text())
		}
	}
	overdue := b.get("/g/fell-end/reports/overdue")
	shown := len(web.All(overdue.doc, web.Class("anchor-row")))
	rest := b.get(overdue.link(t, "Anchors after these"))
	if more := len(web.All(rest.doc, web.Class("anchor-row"))); shown != 25 || more == 0 {
		t.Errorf("report shows %d and then %d anchors, want 25 and more", shown, more)
	}
}

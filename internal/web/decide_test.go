package web_test

import (
	"net/http"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// notedGutter is a list of an invented crag with notes.
const notedGutter = `Site,Sector,Route,Anchor,Material,Last checked,Landowner,Notes
Gutter Edge,Left Wall,Slate Rib,1,316L,02/05/2025,Invented Estate,bird ban Mar-Jul
Gutter Edge,Left Wall,Slate Rib,2,316L,02/05/2025,Invented Estate,bird ban Mar-Jul; hollow sounding
Gutter Edge,Left Wall,Slate Rib,3,316L,02/05/2025,,ask farmer first
`

// box returns the value of the box to tick beside some words: that of a group
// comes before those of its rows.
func (p page) box(t *testing.T, words string) string {
	t.Helper()
	for _, li := range web.All(p.doc, web.Tag("li")) {
		if boxes := web.All(li, web.Has("name", "ids")); len(boxes) > 0 && strings.Contains(web.Text(li), words) {
			value, _ := web.Attr(boxes[0], "value")
			return value
		}
	}
	t.Fatalf("no box beside %q in %q", words, p.text())
	return ""
}

func TestProposalsAreDecided(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	done := b.enter(notedGutter)
	if want := "4 notes wait to be accepted or declined."; !strings.Contains(done.text(), want) {
		t.Errorf("the import's page reads %q, want %q in it", done.text(), want)
	}
	if p := b.get(done.link(t, "Look at them")); p.status != http.StatusOK || !strings.Contains(p.text(), "bird ban Mar-Jul") {
		t.Errorf("proposals of the import = %d %q", p.status, p.text())
	}
	p := b.get(b.get("/g/fell-end/").link(t, "Proposals from lists"))
	for _, want := range []string{"No climbing from 1 March to 31 July every year", "Gutter Edge, 2 anchors", wording.ProposalsHelp, wording.Caution} {
		if !strings.Contains(p.text(), want) {
			t.Errorf("the page reads %q, want %q in it", p.text(), want)
		}
	}
	if len(web.All(p.doc, web.Has("name", "accept_all"))) != 3 || len(web.All(p.doc, web.Has("id", "of_kind"))) != 1 {
		t.Error("want a button for each of the three groups, and a choice of kinds")
	}
	some := b.get("/g/fell-end/proposals?kind=observation")
	if !strings.Contains(some.text(), "hollow") || strings.Contains(some.text(), "bird ban") {
		t.Errorf("what was seen only: %q", some.text())
	}
	ban, farmer, hollow := p.box(t, "bird ban"), p.box(t, "ask farmer"), p.box(t, "hollow")

	p = b.post("/g/fell-end/proposals", url.Values{"accept_all": {ban}, "ids": {hollow}}) // what is ticked beside it is left
	if want := wording.ProposalsDecided(true, 2, 2); p.status != http.StatusOK || !strings.Contains(p.text(), want) {
		t.Errorf("accepted = %d %q, want %q", p.status, p.text(), want)
	}
	if p = b.post("/g/fell-end/proposals", url.Values{"ids": {ban, hollow}, "decision": {"decline"}}); p.status != http.StatusConflict || !strings.Contains(p.text(), wording.ProposalsConflict) {
		t.Errorf("decided once more = %d %q", p.status, p.text())
	}
	if p = b.post("/g/fell-end/proposals", url.Values{"decision": {"accept"}}); p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), wording.ProposalsNone) {
		t.Errorf("nothing ticked = %d %q", p.status, p.text())
	}
	p = b.post("/g/fell-end/proposals", url.Values{"ids": {hollow, farmer}, "decision": {"accept"}})
	if p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), "whose land") || p.box(t, "hollow") != hollow {
		t.Errorf("a condition of nobody = %d %q, want all left open", p.status, p.text())
	}
	p = b.post("/g/fell-end/proposals", url.Values{"ids": {hollow, farmer}, "decision": {"decline"}})
	if !strings.Contains(p.text(), wording.NoProposals) {
		t.Errorf("after all are decided: %q", p.text())
	}
	if today := b.get("/g/fell-end/"); len(web.All(today.doc, web.Has("id", "proposals-task"))) > 0 {
		t.Error("Today still asks for decisions")
	}
}

// A key in any field sends a form by its first button: that decides nothing, and
// what is ticked, in whatever part of the page, stays.
func TestProposalsKeepWhatIsTicked(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(notedGutter)
	const path = "/g/fell-end/proposals"
	p := b.get(path)
	ban, hollow := p.box(t, "bird ban"), p.box(t, "hollow")
	one, _, _ := strings.Cut(ban, ",")
	form := web.One(t, p.doc, "form to decide", web.Tag("form"), web.Has("action", path), web.Has("method", "post"))
	sent := url.Values{"ids": {one, hollow}}
	if name, named := web.Attr(web.All(form, web.Tag("button"))[0], "name"); named {
		value, _ := web.Attr(web.All(form, web.Tag("button"))[0], "value")
		sent.Set(name, value)
	}
	p = b.post(path, sent)
	if p.status != http.StatusUnprocessableEntity || !strings.Contains(p.text(), wording.ProposalsUndecided) {
		t.Errorf("sent by a key = %d %q, want nothing decided", p.status, p.text())
	}
	if got := p.ticked(); !slices.Equal(got, []string{one, hollow}) && !slices.Equal(got, []string{hollow, one}) {
		t.Errorf("ticked %q, want one row of the ban and hollow", got)
	}
	p = b.post(path, url.Values{"accept_all": {hollow}, "ids": {one}})
	if got := p.ticked(); !slices.Equal(got, []string{one}) {
		t.Errorf("ticked %q after another group was accepted, want %q", got, one)
	}
	p = b.post(path, url.Values{"decision": {"accept"}, "ids": {one, one}})
	if want := wording.ProposalsDecided(true, 1, 1); !strings.Contains(p.text(), want) {
		t.Errorf("one row of two = %q, want %q", p.text(), want)
	}
	if rest := p.box(t, "bird ban"); strings.Contains(rest, one) || rest == "" {
		t.Errorf("open after one row was accepted: %q, want the other", rest)
	}
}

// ticked are the values of the boxes that are ticked.
func (p page) ticked() []string {
	var values []string
	for _, n := range web.All(p.doc, web.Has("name", "ids")) {
		if _, is := web.Attr(n, "checked"); is {
			value, _ := web.Attr(n, "value")
			values = append(values, value)
		}
	}
	return values
}

// Notes are the stewards': readers see neither the page nor that there is any.
func TestProposalsAreForStewards(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(notedGutter)
	b := s.member(t, registry.RoleRecorder)
	if today := b.get("/g/fell-end/"); len(web.All(today.doc, web.Has("id", "proposals-task"))) > 0 {
		t.Error("Today tells a recorder of proposals")
	}
	if p := b.get("/g/fell-end/proposals"); p.status != http.StatusForbidden {
		t.Errorf("proposals for a recorder = %d, want 403", p.status)
	}
	if p := b.post("/g/fell-end/proposals", url.Values{"ids": {uuid.Nil.String()}, "decision": {"accept"}}); p.status != http.StatusForbidden {
		t.Errorf("a recorder decides = %d, want 403", p.status)
	}
}

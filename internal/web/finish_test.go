package web_test

import (
	"encoding/csv"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// A filter that asks for what does not exist says so above what it shows.
func TestFilterOfWhatDoesNotExistSaysSo(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleReader)
	site := b.get("/g/fell-end/places").link(t, "Gutter Edge")
	for path, want := range map[string]string{
		"/g/fell-end/anchors?standing=nope":  wording.NoSuchChoice("Standing", "nope"),
		"/g/fell-end/anchors?due_state=nope": wording.NoSuchChoice("Date", "nope"),
		site + "?standing=nope":              wording.NoSuchChoice("Standing", "nope"),
	} {
		p := b.get(path)
		if p.status != http.StatusUnprocessableEntity || web.Text(web.One(t, p.doc, "what is wrong", web.Has("id", "filter-wrong"))) != want {
			t.Errorf("%s = %d %q, want %q", path, p.status, p.text(), want)
		}
	}
	if p := b.get("/g/fell-end/anchors?standing=suspect&due_state="); p.status != http.StatusOK || len(web.All(p.doc, web.Has("id", "filter-wrong"))) > 0 {
		t.Errorf("a filter of what exists = %d %q", p.status, p.text())
	}
}

// An address that only takes a form leads back to the page of the form.
func TestAddressOfARefusedFormLeadsBack(t *testing.T) {
	t.Parallel()
	s, anchor := withAnchor(t)
	b := s.member(t, registry.RoleSteward)
	for from, to := range map[string]string{
		anchor + "/inspections": anchor, anchor + "/pictures": anchor, "/g/fell-end/import/enter": "/g/fell-end/import",
		"/g/fell-end/holds/" + uuid.NewString() + "/lift": "/g/fell-end/holds",
	} {
		if p := b.get(from); p.status != http.StatusSeeOther || p.header.Get("Location") != to {
			t.Errorf("GET %s = %d to %q, want 303 to %q", from, p.status, p.header.Get("Location"), to)
		}
	}
}

// The register is downloaded from the page of imports, with our headings or
// those of the list; what was changed since is left alone, beside a link to its
// anchor.
func TestListRoundGoesOverThePages(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	if p := b.get("/g/fell-end/import"); strings.Contains(p.text(), wording.ExportOwn) {
		t.Error("headings of a list are offered where none was taken over")
	}
	b.enter(gutter)
	p := b.get("/g/fell-end/import")
	for text, heading := range map[string]string{wording.ExportOurs: "site", wording.ExportOwn: "Site"} {
		got := b.get(p.link(t, text))
		rows, err := csv.NewReader(strings.NewReader(got.body)).ReadAll()
		if err != nil || len(rows) < 5 || strings.TrimPrefix(rows[0][0], "\ufeff") != heading || !strings.Contains(got.header.Get("Content-Disposition"), "attachment") {
			t.Errorf("%s = %d, %.80q, %v; want a table from %q on", text, got.status, got.body, err, heading)
		}
	}
	state := b.get(p.link(t, "file.csv"))
	if strings.Contains(state.text(), "so far") || len(web.All(state.doc, web.Tag("progress"))) > 0 {
		t.Errorf("a list that was entered reads %q, want no progress", state.text())
	}
	if own := b.get(state.link(t, wording.ExportThisOwn)); !strings.Contains(own.body, "Date set") {
		t.Errorf("under this list's headings: %.80q", own.body)
	}
	if r := s.member(t, registry.RoleReader); r.get("/g/fell-end/export/anchor-list.csv").status != http.StatusOK {
		t.Error("a reader may have the list and does not get it")
	}
	if p := b.get("/g/fell-end/export/anchor-list.csv?import_id=" + uuid.NewString()); p.status != http.StatusNotFound || p.header.Get("Content-Disposition") != "" {
		t.Errorf("the headings of a list that never was = %d, want a page that says so", p.status)
	}

	lines, err := s.service.Anchors(t.Context(), s.actor(registry.RoleSteward), registry.AnchorFilter{}, registry.Page{Limit: 10})
	check(t, err)
	i := slices.IndexFunc(lines, func(l registry.AnchorLine) bool { return l.Route == "Slate Rib" && l.Label == "1" })
	a := lines[i].Anchor
	_, err = s.service.ChangeAnchor(t.Context(), s.actor(registry.RoleSteward), a.ID, a.Version, func(a *registry.Anchor) error {
		a.Metal, a.MetalWords = metal.NewSet("1.4401"), "A4 by the stamp"
		return nil
	})
	check(t, err)
	clash := b.upload("/g/fell-end/import", map[string]string{"file": strings.ReplaceAll(strings.ReplaceAll(gutter, "316L", "2205"), "12 mm", "14 mm")})
	var links []string
	for _, n := range web.All(clash.doc, web.Tag("a"), web.Has("href", "/g/fell-end/anchors/"+a.ID.String())) {
		links = append(links, web.Text(n.Parent))
	}
	if len(links) != 2 || !strings.Contains(strings.Join(links, "\n"), "the register says “1.4401 (A4 by the stamp)”") {
		t.Errorf("linked to its anchor: %q, want the change of its size and the clash of its metal", links)
	}
}

// A trace names the anchors that may have been set with the batch.
func TestTraceNamesWhatMayHaveBeen(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(glued)
	b.enter(strings.ReplaceAll(gutter, "Gutter Edge", "Gutter End"))
	traced := b.get(b.get(b.get("/g/fell-end/stock").link(t, "L17-A")).link(t, "Where it went"))
	may := web.One(t, traced.doc, "what may have been", web.Has("aria-labelledby", "may-be"))
	_, rest, _ := strings.Cut(traced.text(), "set with it on record; ")
	n, err := strconv.Atoi(strings.Fields(rest)[0])
	if rows := web.All(may, web.Class("anchor-row")); err != nil || n == 0 || len(rows) != n {
		t.Errorf("%d anchors listed, want the %d counted in %q", len(rows), n, traced.text())
	}
}

// Where a card was glued is found among many places without script, and not all
// of them are listed.
func TestPlaceOfAGluingCardIsFound(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	ctx, who := t.Context(), s.actor(registry.RoleSteward)
	for n := range 14 {
		_, _, err := s.service.AddSite(ctx, who, registry.Site{ID: newID(t), Kind: registry.Crag, Name: "Invented Crag " + string(rune('A'+n))})
		check(t, err)
	}
	b := s.member(t, registry.RoleRecorder)
	p := b.get("/g/fell-end/gluing/new")
	if n := strings.Count(p.body, "/gluing/new?site="); n == 0 || n >= 14 {
		t.Errorf("%d places listed at first, want some of 14", n)
	}
	search := web.One(t, p.doc, "search", web.Has("role", "search"))
	name, _ := web.Attr(web.One(t, search, "field", web.Tag("input")), "name")
	found := b.get("/g/fell-end/gluing/new?" + url.Values{name: {"crag n"}}.Encode())
	if form := b.get(found.link(t, "Invented Crag N")); form.status != http.StatusOK || !strings.Contains(form.text(), "Gluing: Invented Crag N") {
		t.Errorf("the place found leads to %d %.80q", form.status, form.text())
	}
}

// People are told by their names; the number stands folded up.
func TestPeopleAreListedByName(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	who := s.actor(registry.RoleSteward)
	person, _, err := s.service.AddPerson(t.Context(), who, registry.Person{ID: newID(t), Name: "C. Example"})
	check(t, err)
	p := s.member(t, registry.RoleOwner).get("/g/fell-end/people")
	for _, d := range web.All(p.doc, web.Tag("details")) {
		if strings.Contains(web.Text(d), person.ID.String()) {
			d.Parent.RemoveChild(d)
		}
	}
	if strings.Contains(p.text(), person.ID.String()) || !strings.Contains(p.text(), "C. Example") {
		t.Errorf("people read %q, want names and no numbers", p.text())
	}
}

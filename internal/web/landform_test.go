package web_test

import (
	"net/http"
	"net/url"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

const landAt = "/g/fell-end/land"

// adds fills in the form at a path and returns the page that its answer leads
// to, or the form once more.
func (b *browser) adds(t *testing.T, at string, fields ...string) page {
	t.Helper()
	path, _, _ := strings.Cut(at, "?")
	form := b.get(at).form(t, path)
	for i := 0; i+1 < len(fields); i += 2 {
		form.Set(fields[i], fields[i+1])
	}
	answer := b.post(path, form)
	if answer.status == http.StatusSeeOther {
		return b.led(t, answer)
	}
	return answer
}

// holds fails unless a page says all of it.
func (p page) holds(t *testing.T, wants ...string) {
	t.Helper()
	for _, want := range wants {
		if !strings.Contains(p.text(), want) {
			t.Errorf("the page says %s, want %q in it", p.text(), want)
		}
	}
}

// option is the value of a choice by its text.
func (p page) option(t *testing.T, name, text string) string {
	t.Helper()
	for _, o := range web.All(web.One(t, p.doc, "choice "+name, web.Tag("select"), web.Has("name", name)), web.Tag("option")) {
		if web.Text(o) == text {
			value, _ := web.Attr(o, "value")
			return value
		}
	}
	t.Fatalf("%s has no choice %q", name, text)
	return ""
}

func TestLandIsEnteredAndChangedByPages(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleOwner)
	b.enter(gutter)
	list := b.get(b.get("/g/fell-end/reports/land").link(t, "Landowners, agreements, restrictions"))
	list.holds(t, "Invented Estate", wording.NoneRestrictions, wording.Caution)

	b.adds(t, list.link(t, "Add a landowner"), "owner_name", "Hollin Farm (invented)", "contact", "gate code 0000").
		holds(t, wording.RecordedOwner, "Hollin Farm (invented)", "gate code 0000")
	form := b.get(list.link(t, "Add a parcel"))
	farm := form.option(t, "landowner_id", "Hollin Farm (invented)")
	square := `{"type":"Feature","geometry":{"type":"Polygon","coordinates":[[[0,50],[0.01,50],[0.01,50.01],[0,50.01],[0,50]]]}}`
	bad := b.adds(t, "/g/fell-end/parcels/new", "landowner_id", farm, "parcel_name", "North Field", "outline", "a circle")
	if bad.status != http.StatusUnprocessableEntity || bad.form(t, "/g/fell-end/parcels/new").Get("outline") != "a circle" || len(web.All(bad.doc, web.Has("id", "outline-wrong"))) != 1 {
		t.Errorf("an outline that is none = %d %s", bad.status, bad.text())
	}
	values := form.form(t, "/g/fell-end/parcels/new")
	made := b.uploadWith("/g/fell-end/parcels/new", map[string]string{"outline_file": square}, url.Values{
		"id": {values.Get("id")}, "landowner_id": {farm}, "parcel_name": {"North Field"},
	})
	b.led(t, made).holds(t, "North Field", "79.", "Land of Hollin Farm (invented).")

	b.adds(t, list.link(t, "Add a permission or consent"), "agreement", "permission", "landowner_id", farm, "issuer", "Hollin Farm (invented)", "conditions", "No dogs.", "holds_from", "2026-01-01").
		holds(t, wording.RecordedAgree, "No dogs.", "About land of Hollin Farm (invented).")
	b.get(landAt).holds(t, "Parcels: North Field.")
}

func TestARestrictionIsEnteredFromItsPlace(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	site := b.get("/g/fell-end/places").link(t, "Gutter Edge")
	at := b.get(site).link(t, "Add a restriction")
	half := b.adds(t, at, "barred", "climbing", "why", "nesting birds", "weight", "agreement", "yearly_from_day", "31", "yearly_from_month", "2", "yearly_to_day", "30")
	if half.status != http.StatusUnprocessableEntity {
		t.Fatalf("half a window = %d", half.status)
	}
	for _, name := range []string{"yearly_to_month"} {
		if len(web.All(half.doc, web.Has("id", name+"-wrong"))) != 1 {
			t.Errorf("nothing is said at %s: %s", name, half.text())
		}
	}
	form := half.form(t, "/g/fell-end/restrictions/new")
	if form.Get("why") != "nesting birds" || form.Get("yearly_from_day") != "31" || !strings.HasPrefix(form.Get("barred_at"), "site:") {
		t.Errorf("it came back as %v", form)
	}
	form.Set("yearly_to_month", "6")
	if again := b.post("/g/fell-end/restrictions/new", form); len(web.All(again.doc, web.Has("id", "yearly_from_day-wrong"))) != 1 {
		t.Errorf("31 February: %s", again.text())
	}
	form.Set("yearly_from_day", "1")
	form.Set("confirmed_on", "2026-05-01")
	b.led(t, b.post("/g/fell-end/restrictions/new", form)).
		holds(t, wording.RecordedRestrict, "No climbing from 1 February to 30 June every year, by agreement: nesting birds; confirmed 1 May 2026.")

	change := b.get(landAt).linkWith(t, "Change Site Gutter Edge")
	old := b.get(change).form(t, change)
	if old.Get("yearly_to_month") != "6" || old.Get("weight") != "agreement" {
		t.Errorf("the form is filled in with %v", old)
	}
	b.adds(t, change, "weight", "law").holds(t, "every year, by law: nesting birds")
	old.Set("why", "owls")
	told := b.post(change, old)
	if told.status != http.StatusConflict {
		t.Errorf("an older form = %d, want 409", told.status)
	}
	told.holds(t, wording.LandStale, "kept now is “law”")
	now := told.form(t, change)
	if now.Get("why") != "owls" || now.Get("weight") != "agreement" {
		t.Errorf("what was typed came back as %v", now)
	}
	b.led(t, b.post(change, now)).holds(t, "every year, by agreement: owls")
}

// A contact is the owners' alone, and a steward who changes the name leaves it.
func TestContactsAreTheOwners(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	owner, steward, reader := s.member(t, registry.RoleOwner), s.member(t, registry.RoleSteward), s.member(t, registry.RoleReader)
	owner.adds(t, "/g/fell-end/landowners/new", "owner_name", "Hollin Farm (invented)", "contact", "gate code 0000")
	change := steward.get(landAt).linkWith(t, "Change Hollin Farm")
	shown := steward.get(change)
	if strings.Contains(shown.text(), "0000") || shown.form(t, change).Has("contact") || strings.Contains(steward.get(landAt).text(), "0000") {
		t.Errorf("a steward is shown %s", shown.text())
	}
	steward.adds(t, change, "owner_name", "Hollin Farm and Sons (invented)")
	owner.get(landAt).holds(t, "Hollin Farm and Sons (invented)", "gate code 0000")
	for _, text := range reader.get(landAt).linkTexts() {
		if strings.HasPrefix(text, "Add") || strings.HasPrefix(text, "Change") {
			t.Errorf("a reader is offered %q", text)
		}
	}
	for _, path := range []string{change, "/g/fell-end/restrictions/new", "/g/fell-end/agreements/new", "/g/fell-end/parcels/new"} {
		if p := reader.get(path); p.status != http.StatusForbidden {
			t.Errorf("%s = %d to a reader, want 403", path, p.status)
		}
	}
}

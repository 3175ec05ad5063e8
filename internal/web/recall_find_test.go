package web_test

import (
	"fmt"
	"net/url"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// shelved adds so many batches "F-nn" of an invented resin and returns their ids.
func (s *stack) shelved(t *testing.T, n int) []string {
	t.Helper()
	ctx, who := t.Context(), s.actor(registry.RoleSteward)
	resin, _, err := s.service.AddProduct(ctx, who, registry.Product{Kind: registry.Adhesive, Name: "Invented Long-shelf Resin"})
	check(t, err)
	ids := make([]string, n)
	for i := range ids {
		b, _, err := s.service.AddBatch(ctx, who, registry.Batch{ProductID: &resin.ID, Text: fmt.Sprintf("F-%02d", i)})
		check(t, err)
		ids[i] = b.ID.String()
	}
	return ids
}

// offered are the batches of a notice's form that can be ticked or are.
func offered(t *testing.T, p page) (chosen, found []string) {
	t.Helper()
	field := web.One(t, p.doc, "batches", web.Has("id", "batch_ids"))
	for part, list := range map[string]*[]string{"finder-chosen": &chosen, "finder-found": &found} {
		for _, n := range web.All(web.One(t, field, part, web.Class(part)), web.Tag("input")) {
			value, _ := web.Attr(n, "value")
			*list = append(*list, value)
		}
	}
	return chosen, found
}

// Without script a search brings the form back as it was typed, with what was
// found, and what was chosen stays chosen up to the notice.
func TestANoticeFindsItsBatchesAmongMany(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	ids := s.shelved(t, 40)
	at := "/g/fell-end/notices/new"
	blank := b.get(at)
	if _, found := offered(t, blank); len(found) >= len(ids) {
		t.Errorf("all %d batches stand in the form at once", len(found))
	}
	form := blank.form(t, at)
	form.Set("title", "Invented recall")
	search := func(form url.Values, text string) page {
		form.Set("find.batch_ids", text)
		form.Set("step", "find:batch_ids")
		return b.post(at, form)
	}
	p := search(form, "f 31")
	if _, found := offered(t, p); !slices.Equal(found, []string{ids[31]}) || p.status != 200 {
		t.Fatalf("search for F-31 = %d, found %v, want %s alone", p.status, found, ids[31])
	}
	form = p.form(t, at)
	if form.Get("title") != "Invented recall" {
		t.Errorf("the title came back as %q", form.Get("title"))
	}
	form.Add("batch_ids", ids[31])
	form = search(form, "f 05").form(t, at)
	form.Add("batch_ids", ids[5])
	p = search(form, "nowhere")
	if chosen, found := offered(t, p); len(found) != 0 || !slices.Contains(chosen, ids[31]) || !slices.Contains(chosen, ids[5]) {
		t.Errorf("chosen %v, found %v; want both that were ticked", chosen, found)
	}
	form = p.form(t, at)
	form.Del("step") // the key that sends a form
	p = b.post(at, form)
	if !strings.Contains(p.text(), wording.PreviewHelp) {
		t.Fatalf("the form sent by key shows no preview: %s", p.text())
	}
	form = p.form(t, at)
	form.Set("step", "issue")
	if made := b.led(t, b.post(at, form)); !strings.Contains(made.text(), wording.RecordedNotice) {
		t.Errorf("the notice was not issued: %s", made.text())
	}
}

// The first button of the form is the one that a key sends it by: it must not be
// the one that issues a notice.
func TestAKeyIssuesNoNotice(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	ids := s.shelved(t, 2)
	at := "/g/fell-end/notices/new"
	form := b.get(at).form(t, at)
	form.Set("title", "Invented recall")
	form.Set("batch_ids", ids[0])
	p := b.post(at, form)
	f := web.One(t, p.doc, "form", web.Tag("form"), web.Has("action", at))
	if step, named := web.Attr(web.All(f, web.Tag("button"))[0], "name"); named {
		t.Errorf("the first button of the form does %q", step)
	}
}

// In a browser it finds while one types, by keys alone, and keeps what was
// ticked.
func TestANoticeFindsWhileOneTypes(t *testing.T) {
	t.Parallel()
	findChromium(t)
	s := newStack(t)
	s.member(t, registry.RoleSteward)
	ids := s.shelved(t, 40)
	dir := pictures(t)
	ctx := startBrowser(t)
	box := func(part, id, state string) chromedp.Action[chromedp.Void] {
		return chromedp.WaitVisible(chromedp.CSS(`#batch_ids .` + part + ` input[value="` + id + `"]` + state))
	}
	signIn(t, ctx, s, 360)
	visit(t, ctx, "notice new", dir, 360,
		chromedp.Navigate(s.url+"/g/fell-end/notices/new"), chromedp.WaitVisible(chromedp.CSS("#batch_ids")))
	search := chromedp.CSS(`[id="find.batch_ids"]`)
	visit(t, ctx, "notice found", dir, 360,
		chromedp.SendKeys(search, "f31\r"), box("finder-found", ids[31], ":not(:checked)"),
		chromedp.KeyEvent("\t\t "), // over the button to the box
		box("finder-found", ids[31], ":checked"))
	visit(t, ctx, "notice chosen", dir, 360,
		chromedp.SendKeys(search, kb.End+"\b\b05"), box("finder-chosen", ids[31], ":checked"), box("finder-found", ids[5], ""))
	where, err := chromedp.Run(ctx, chromedp.Evaluate[string]("document.activeElement.id + location.pathname"))
	if err != nil || where != "find.batch_ids/g/fell-end/notices/new" {
		t.Errorf("after a search the keys go to %q (%v), want the search", where, err)
	}
}

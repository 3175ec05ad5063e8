package web_test

import (
	"net/http"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// From the page of a batch a notice is written; what it would hit is shown,
// sure and possible apart, before it can be issued; then its page shows how far
// it has come, and it is not closed without a reason while anchors are left.
func TestARecallFromTheBatchToItsClosing(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(glued)
	batch := b.get(b.get("/g/fell-end/stock").link(t, "L17-A"))

	traced := b.get(batch.link(t, "Where it went"))
	if strings.Contains(traced.text(), "Land of") {
		t.Errorf("trace calls land what was done: %s", traced.text())
	}
	if n := len(web.All(traced.doc, web.Class("anchor-row"))); n != 1 || !strings.Contains(traced.text(), wording.Caution) {
		t.Errorf("trace shows %d anchors: %s", n, traced.text())
	}

	at := batch.link(t, "Write a notice about it")
	written := b.get(at)
	at = strings.Split(at, "?")[0]
	form := written.form(t, at)
	form.Set("step", "issue")
	form.Set("title", "Invented recall")
	unseen := b.post(at, form)
	if unseen.status != http.StatusOK || !strings.Contains(unseen.text(), wording.PreviewHelp) {
		t.Errorf("issued without a look = %d, want the preview: %s", unseen.status, unseen.text())
	}
	hits := web.Text(web.One(t, unseen.doc, "sure hits", web.Tag("section"), web.Has("aria-labelledby", "hit-sure")))
	if !strings.Contains(hits, "Slate Rib") {
		t.Errorf("preview shows %q, want the anchor set with it", hits)
	}
	if list := b.get("/g/fell-end/notices"); !strings.Contains(list.text(), wording.NoneNotices) {
		t.Errorf("after a preview there are notices: %s", list.text())
	}
	form = unseen.form(t, at)
	form.Set("step", "issue")
	notice := b.led(t, b.post(at, form))
	for _, want := range []string{wording.RecordedNotice, "1 anchor left to do", "Hit for sure", wording.Caution} {
		if !strings.Contains(notice.text(), want) {
			t.Errorf("page of the notice lacks %q: %s", want, notice.text())
		}
	}

	href := b.get("/g/fell-end/notices").link(t, "Invented recall")
	closing := b.get(href).form(t, href)
	refused := b.post(href, closing)
	if refused.status != http.StatusUnprocessableEntity || len(web.All(refused.doc, web.Has("id", "ended_reason-wrong"))) != 1 {
		t.Errorf("closed while an anchor is left = %d: %s", refused.status, refused.text())
	}
	closing.Set("ended_reason", "the maker took it back")
	if closed := b.led(t, b.post(href, closing)); !strings.Contains(closed.text(), wording.NoticeClosed) {
		t.Errorf("closed notice: %s", closed.text())
	}
}

func TestANoticeAboutNothingIsRefused(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(glued)
	at := b.get("/g/fell-end/notices").link(t, "Write a notice")
	form := b.get(at).form(t, at)
	form.Set("title", "Invented recall")
	form.Set("set_from", "2020-05-02")
	form.Set("set_to", "2020-05-01")
	wrong := b.post(at, form)
	if wrong.status != http.StatusUnprocessableEntity || len(web.All(wrong.doc, web.Has("id", "set_to-wrong"))) != 1 {
		t.Errorf("a period that ends before it begins = %d: %s", wrong.status, wrong.text())
	}
	form.Del("set_from")
	form.Del("set_to")
	wrong = b.post(at, form)
	if wrong.status != http.StatusUnprocessableEntity || len(web.All(wrong.doc, web.Has("id", "batch_ids-wrong"))) != 1 {
		t.Errorf("a notice about nothing = %d: %s", wrong.status, wrong.text())
	}
	reader := s.member(t, registry.RoleReader)
	if list := reader.get("/g/fell-end/notices"); strings.Contains(list.body, "/notices/new") {
		t.Error("a reader is offered to write a notice")
	}
	if p := reader.get("/g/fell-end/notices/new"); p.status != http.StatusForbidden {
		t.Errorf("a reader's form = %d, want 403", p.status)
	}
}

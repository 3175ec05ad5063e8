package web_test

import (
	"net/http"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

func TestEvidencePage(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	steward := s.member(t, registry.RoleSteward)
	steward.enter(gutter)
	anchor := suspectAnchor(t, steward)
	page := steward.get(anchor)
	link := web.One(t, page.doc, "link to the evidence", web.Has("href", anchor+"/evidence"))
	if web.Text(link) == "" {
		t.Error("the link to the evidence says nothing")
	}

	p := steward.get(anchor + "/evidence?as_known_on=2026-05-03")
	has(t, "evidence of today", p, "What was known at the end of 3 May 2026 (Europe/London)", "Gutter Edge, Left Wall",
		"Suspect", "Shown as: suspect", "The anchor: ", "The position on a route: position: 2; route: Slate Rib.",
		"Recorded by An Example (import)", wording.EvidenceNothingAfter, wording.Caution)
	if len(web.All(p.doc, web.Has("id", "seal"))) != 0 {
		t.Error("a seal is printed that nobody made")
	}

	p = steward.get(anchor + "/evidence?as_known_on=2026-05-02")
	has(t, "evidence of the day before", p, wording.EvidenceKnewNothing, "The anchor entered: ", "From then on shown as: suspect")
	if strings.Contains(p.text(), "What was on record of the anchor") {
		t.Error("something is known before the anchor was entered")
	}

	p = steward.get(anchor + "/evidence?as_known_on=2026-05-04")
	if got := web.Text(web.One(t, p.doc, "what is wrong", web.Has("id", "as-known-on-wrong"))); p.status != http.StatusUnprocessableEntity || got == "" {
		t.Errorf("evidence of tomorrow = %d, %q, want 422 with the reason", p.status, got)
	}
	p = steward.get(anchor + "/evidence")
	has(t, "evidence without a day", p, "What was known at the end of 3 May 2026")
}

func TestEvidenceIsForStewards(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	s.member(t, registry.RoleSteward).enter(gutter)
	b := s.member(t, registry.RoleRecorder)
	anchor := suspectAnchor(t, b)
	if len(web.All(b.get(anchor).doc, web.Has("href", anchor+"/evidence"))) != 0 {
		t.Error("a recorder is offered the evidence")
	}
	if p := b.get(anchor + "/evidence?as_known_on=2026-05-03"); p.status != http.StatusForbidden || strings.Contains(p.text(), "Gutter Edge") {
		t.Errorf("a recorder asks = %d, want 403 without a place: %s", p.status, p.text())
	}
}

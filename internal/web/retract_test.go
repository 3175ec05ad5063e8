package web_test

import (
	"net/http"
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// condemned enters a list and takes one of its anchors out of use; it returns
// the anchor's page and the link that takes the record back.
func condemned(t *testing.T, b *browser) (anchor, retract string) {
	t.Helper()
	b.enter(gutter)
	anchor = b.get("/g/fell-end/reports/suspect").link(t, "Slate Rib, 2")
	form := b.get(anchor).form(t, anchor+"/inspections")
	form.Set("level", "hands-on")
	form.Set("verdict", "take-out-of-use")
	form.Set("person_name", "A. Example")
	b.led(t, b.post(anchor+"/inspections", form))
	link := b.get(anchor).linkWith(t, wording.RetractRecord+" : Inspected hands-on on 3 May 2026")
	return anchor, link
}

// linkWith is the first link whose text begins so.
func (p page) linkWith(t *testing.T, begin string) string {
	t.Helper()
	for _, text := range p.linkTexts() {
		if strings.HasPrefix(text, begin) {
			return p.link(t, text)
		}
	}
	t.Fatalf("no link %q… among %q", begin, p.linkTexts())
	return ""
}

func TestARecordIsTakenBackByAPage(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	anchor, at := condemned(t, b)
	shown := b.get(at)
	for _, want := range []string{"now it stands as “out of use”", wording.RetractionBetter, "an inspector took it out of use", wording.Caution} {
		if !strings.Contains(shown.text(), want) {
			t.Errorf("the form says %s, want %q in it", shown.text(), want)
		}
	}
	form := shown.form(t, anchor+"/retract")
	form.Set("person_name", "B. Example")
	refused := b.post(anchor+"/retract", form)
	if got := refused.form(t, anchor+"/retract"); refused.status != http.StatusUnprocessableEntity || got.Get("person_name") != "B. Example" {
		t.Errorf("without a reason = %d with %v, want 422 and what was typed", refused.status, got)
	}
	form.Set("reason", "The wrong anchor was looked at.")
	done := b.led(t, b.post(anchor+"/retract", form))
	if text := done.text(); !strings.Contains(text, wording.RecordedRetract) || !strings.Contains(text, "The wrong anchor was looked at.") ||
		!strings.Contains(text, wording.RecordGone) {
		t.Errorf("after it the anchor's page says %s", text)
	}
	if again := b.get(at); again.status != http.StatusUnprocessableEntity || !strings.Contains(again.text(), wording.RetractionRefused) {
		t.Errorf("what was taken back already = %d %s, want why it is refused", again.status, again.text())
	}
	form.Set("reason", "Another.")
	if other := b.led(t, b.post(anchor+"/retract", form)); !strings.Contains(other.text(), wording.RetractedBefore) {
		t.Errorf("the same form with another reason: %s", other.text())
	}
}

// What is taken back may itself be: then the record counts again, and the page
// says so before.
func TestARetractionIsTakenBackToo(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	anchor, at := condemned(t, b)
	form := b.get(at).form(t, anchor+"/retract")
	form.Set("person_name", "A. Example")
	form.Set("reason", "Another anchor was meant.")
	b.led(t, b.post(anchor+"/retract", form))
	back := b.get(b.get(anchor).linkWith(t, wording.RetractRecord+" : Record taken back"))
	if text := back.text(); !strings.Contains(text, wording.CountsAgain("Inspected hands-on")) || strings.Contains(text, wording.RetractionBetter) {
		t.Errorf("before it is taken back: %s", text)
	}
}

func TestOnlyStewardsTakeBack(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	anchor, at := condemned(t, s.member(t, registry.RoleSteward))
	b := s.member(t, registry.RoleRecorder)
	for _, text := range b.get(anchor).linkTexts() {
		if strings.HasPrefix(text, wording.RetractRecord) {
			t.Errorf("a recorder is offered %q", text)
		}
	}
	if p := b.get(at); p.status != http.StatusForbidden || !strings.Contains(p.text(), "steward") {
		t.Errorf("a recorder's form = %d %s, want 403 and who may", p.status, p.text())
	}
}

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

const rulesAt, rulesChange = "/g/fell-end/house-rules", "/g/fell-end/house-rules/change"

// bolt is a row of the house rules that the anchors of the list rest on.
const bolt = "longest_interval_months.form.through-bolt"

// look changes rows and asks what that would do.
func (b *browser) look(t *testing.T, form url.Values, changes ...string) page {
	t.Helper()
	for i := 0; i+1 < len(changes); i += 2 {
		form.Set(changes[i], changes[i+1])
	}
	form.Set("step", "preview")
	return b.post(rulesChange, form)
}

func TestHouseRulesAreChangedAfterALook(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	b.enter(gutter)
	form := b.get(b.get(rulesAt).link(t, "Change the house rules")).form(t, rulesChange)
	if form.Get(bolt) != "36" || form.Get("kept_sample") != "stated" {
		t.Fatalf("the form is filled in with %q and %q, want the rules in force", form.Get(bolt), form.Get("kept_sample"))
	}
	looked := b.look(t, form, bolt, "7", "finding_severities.rust", "note")
	for _, want := range []string{
		"Longest interval, form, through bolt: 7 months in place of 36 months.", "Finding severities, rust: note in place of",
		wording.RulesPreviewHelp, wording.RuleInForce("36 months"), wording.RuleDefault("36 months", "default of this project"), wording.Caution,
	} {
		if !strings.Contains(looked.text(), want) {
			t.Errorf("looked at: %s, want %q in it", looked.text(), want)
		}
	}
	form = looked.form(t, rulesChange)
	form.Set("step", "adopt")
	if p := b.post(rulesChange, form); p.status != http.StatusUnprocessableEntity || p.form(t, rulesChange).Get(bolt) != "7" {
		t.Errorf("without a reason = %d, want 422 with what was typed", p.status)
	}
	form.Set("reason", "Salt got at ours.")
	form.Set(bolt, "8") // after the look
	again := b.post(rulesChange, form)
	if again.status != http.StatusOK || !strings.Contains(again.text(), "8 months in place of") {
		t.Errorf("changed after the look = %d, want another look", again.status)
	}
	form = again.form(t, rulesChange)
	form.Set("step", "adopt")
	done := b.led(t, b.post(rulesChange, form))
	for _, want := range []string{
		wording.RecordedRules, "Version 2", wording.RulesDiffer, wording.RuleDefault("36 months", "default of this project"),
		"Salt got at ours.", "by An Example.", wording.RulesFirstVersion, "through bolt: 8 months in place of 36 months.",
	} {
		if !strings.Contains(done.text(), want) {
			t.Errorf("the house rules say %s, want %q in it", done.text(), want)
		}
	}
}

// What would move is named, and counted.
func TestALookNamesTheAnchors(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	b.enter(gutter)
	form := b.get(rulesChange).form(t, rulesChange)
	looked := b.look(t, form, "imported_severities.imported-spins", "watch")
	spins := web.Texts(web.All(web.One(t, looked.doc, "what would change", web.Class("preview")), web.Tag("li")))
	if all := strings.Join(spins, "\n"); !strings.Contains(all, "Slate Rib, 2") || !strings.Contains(all, "1 anchor: from “suspect” to “watch”.") {
		t.Errorf("what would change: %s", all)
	}
	nothing := b.look(t, b.get(rulesChange).form(t, rulesChange))
	if nothing.status != http.StatusUnprocessableEntity || !strings.Contains(nothing.text(), wording.RulesNothing) {
		t.Errorf("nothing changed = %d %s", nothing.status, nothing.text())
	}
}

func TestHouseRulesOutOfRangeNameTheField(t *testing.T) {
	t.Parallel()
	b := newStack(t).member(t, registry.RoleSteward)
	for typed, want := range map[string]string{"0": "more than zero", "five": "whole number", "5000": "at most 1200", "": "whole number"} {
		p := b.look(t, b.get(rulesChange).form(t, rulesChange), bolt, typed)
		wrong := web.All(p.doc, web.Has("id", bolt+"-wrong"))
		if p.status != http.StatusUnprocessableEntity || len(wrong) != 1 || !strings.Contains(web.Text(wrong[0]), want) {
			t.Errorf("%q = %d, want 422 and %q at its field", typed, p.status, want)
		}
		if got := p.form(t, rulesChange).Get(bolt); got != typed {
			t.Errorf("%q came back as %q", typed, got)
		}
		if summary := web.Text(web.One(t, p.doc, "summary", web.Has("id", "summary-wrong"))); !strings.Contains(summary, "Longest interval, form, through bolt") {
			t.Errorf("the summary says %s", summary)
		}
	}
}

// Of a form filled in from an older version only what it changed is taken over,
// and nothing is adopted before another look.
func TestAFormOfOlderHouseRulesIsTold(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	old := b.get(rulesChange).form(t, rulesChange)
	first := b.look(t, b.get(rulesChange).form(t, rulesChange), "event_days", "25", bolt, "30", "reason", "first").form(t, rulesChange)
	first.Set("step", "adopt")
	b.led(t, b.post(rulesChange, first))

	old.Set(bolt, "24")
	old.Set("reason", "second")
	old.Set("step", "adopt")
	told := b.post(rulesChange, old)
	form := told.form(t, rulesChange)
	if told.status != http.StatusConflict || !strings.Contains(told.text(), wording.RulesStale(1, 2)) || !strings.Contains(told.text(), wording.RuleInForce("30 months")) {
		t.Errorf("an older form = %d %s", told.status, told.text())
	}
	if form.Get(bolt) != "24" || form.Get("event_days") != "25" || form.Get("reason") != "second" || form.Get("version") != "2" {
		t.Errorf("it came back with %q, %q, %q, %q", form.Get(bolt), form.Get("event_days"), form.Get("reason"), form.Get("version"))
	}
	form = b.look(t, form).form(t, rulesChange)
	form.Set("step", "adopt")
	if done := b.led(t, b.post(rulesChange, form)); !strings.Contains(done.text(), "Version 3") || !strings.Contains(done.text(), "24 months in place of 30 months") {
		t.Errorf("after another look: %s", done.text())
	}
}

func TestOnlyStewardsChangeHouseRules(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	b := s.member(t, registry.RoleRecorder)
	if text := b.get(rulesAt).text(); strings.Contains(text, "Versions so far") || strings.Contains(text, "Change the house rules") {
		t.Errorf("a recorder is shown %s", text)
	}
	if p := b.get(rulesChange); p.status != http.StatusForbidden {
		t.Errorf("a recorder's form = %d, want 403", p.status)
	}
	if p := b.post(rulesChange, url.Values{}); p.status != http.StatusForbidden {
		t.Errorf("a recorder's answer = %d, want 403", p.status)
	}
}

package web_test

import (
	"strings"
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// A hole that was not cleaned puts the anchor in doubt: every page with its
// cure time says so before that, and beside "not in use yet" it is suspect. Only
// the line that is in doubt says so. The times of the sheet are invented.
func TestDoubtStandsBeforeTheCureTime(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	w := s.addTraverse(t, 3)
	_, _, err := s.service.AddProductVersion(t.Context(), s.actor(registry.RoleSteward), registry.ProductVersion{
		ID: newID(t), ProductID: w.adhesive, From: calendar.NewDate(2024, time.January, 1), Source: "invented sheet",
		CureRows: []registry.CureRow{{FromC: 0, ToC: 19, WorkMinutes: 10, CureMinutes: 100}},
	})
	if err != nil {
		t.Fatal(err)
	}
	none := 0
	g := s.glue(t, w, func(g *registry.Gluing) { g.Installations[0].CleaningCycles = &none })
	session := "/g/fell-end/gluing/" + g.Session.ID.String()
	anchor, sound := "/g/fell-end/anchors/"+g.Anchors[0].ID.String(), "/g/fell-end/anchors/"+g.Anchors[1].ID.String()
	b := s.member(t, registry.RoleRecorder)
	doubt, cure := wording.Finding(registry.Finding{Rule: "hole-not-cleaned"}), "Do not load before"
	for _, path := range []string{session, session + "/cure-card", anchor + "/first-use", anchor + "/cure"} {
		text := b.get(path).text()
		at, until := strings.Index(text, doubt), strings.LastIndex(text, cure)
		if path == session { // its second anchor is in no doubt
			until = strings.Index(text, cure)
		}
		if at < 0 || path != session+"/cure-card" && at > until || !strings.Contains(text, "In doubt") {
			t.Errorf("%s does not say %q before the cure time: %s", path, doubt, text)
		}
		if strings.Count(text, doubt) > 2 { // a way on names it once more, unseen
			t.Errorf("%s says %q of more than one anchor: %s", path, doubt, text)
		}
	}
	if text, want := b.get(session+"/cure-card").text(), wording.CureCardInDoubt([]string{"Low Traverse, T1"}); !strings.Contains(text, want) {
		t.Errorf("the cure card lacks %q: %s", want, text)
	}
	for path, want := range map[string]bool{anchor: true, sound: false} {
		got := web.Text(web.One(t, b.get(path).doc, "standing", web.Class("verdict-standing")))
		if strings.Contains(got, wording.Standing(registry.StandingSuspect)) != want || !strings.Contains(got, wording.Standing(registry.NotInUseYet)) {
			t.Errorf("%s: standing reads %q, suspect %t wanted", path, got, want)
		}
	}
	if text := b.get(sound + "/first-use").text(); strings.Contains(text, "In doubt") {
		t.Errorf("first use of an anchor that is in no doubt reads %s", text)
	}
}

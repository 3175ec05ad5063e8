package web_test

import (
	"context"
	"fmt"
	"os"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// traverse is a route of an invented crag with six positions and no anchor yet.
type traverse struct {
	site, route, adhesive, hardware, person uuid.UUID
	positions                               []uuid.UUID
}

// addTraverse adds a route with n free positions, and what a gluing card can
// name: a person, an adhesive with a batch and an anchor to glue in.
func (s *stack) addTraverse(t *testing.T, n int) traverse {
	t.Helper()
	who, ctx := s.actor(registry.RoleSteward), t.Context()
	w := traverse{site: newID(t), route: newID(t), adhesive: newID(t), hardware: newID(t), person: newID(t)}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, _, err := s.service.AddSite(ctx, who, registry.Site{ID: w.site, Name: "Fell End Crag (invented)", Kind: registry.Crag})
	must(err)
	_, _, err = s.service.AddRoute(ctx, who, registry.Route{ID: w.route, SiteID: w.site, Name: "Low Traverse", Kind: registry.Crossing})
	must(err)
	for k := range n {
		at := newID(t)
		_, _, err = s.service.AddPosition(ctx, who, registry.Position{ID: at, SiteID: w.site, Label: fmt.Sprintf("T%d", k+1)},
			[]registry.Stop{{RouteID: w.route, PositionID: at, Rank: k + 1}})
		must(err)
		w.positions = append(w.positions, at)
	}
	_, _, err = s.service.AddPerson(ctx, who, registry.Person{ID: w.person, Name: "A. Example"})
	must(err)
	_, _, err = s.service.AddProduct(ctx, who, registry.Product{ID: w.adhesive, Kind: registry.Adhesive, Name: "Slow resin (invented)"})
	must(err)
	_, _, err = s.service.AddProduct(ctx, who, registry.Product{
		ID: w.hardware, Kind: registry.Hardware, Name: "Twist 80 (invented)", Form: registry.TwistedLeg, Metal: metal.NewSet("1.4404"),
	})
	must(err)
	_, _, err = s.service.AddBatch(ctx, who, registry.Batch{ID: newID(t), ProductID: &w.adhesive, Text: "L1709-A"})
	must(err)
	return w
}

// pictures is where pictures go: the folder ROCKLEDGER_PICTURES names, otherwise
// they are thrown away.
func pictures(t *testing.T) string {
	t.Helper()
	if dir := os.Getenv("ROCKLEDGER_PICTURES"); dir != "" {
		return dir
	}
	return t.TempDir()
}

// signIn signs a steward in.
func signIn(t *testing.T, ctx context.Context, s *stack, width int64) {
	t.Helper()
	err := chromedp.Do(ctx,
		chromedp.EmulateViewport(width, 800), chromedp.Navigate(s.url+"/g/fell-end/"), chromedp.WaitVisible(chromedp.CSS("#email")),
		chromedp.SendKeys(chromedp.CSS("#email"), "steward@example.org"), chromedp.SendKeys(chromedp.CSS("#password"), password),
		chromedp.Click(chromedp.CSS("main button")), chromedp.WaitVisible(chromedp.CSS(".sign-out")))
	if err != nil {
		t.Fatalf("sign in: %v", err)
	}
}

// glue records a session with an anchor at each position but the last, and
// returns it.
func (s *stack) glue(t *testing.T, w traverse, change ...func(*registry.Gluing)) registry.Gluing {
	t.Helper()
	yes, on := true, calendar.Exactly(calendar.NewDate(2026, time.May, 2))
	at := on.From.Time().Add(13 * time.Hour)
	g := registry.Gluing{
		BatchText: "L1709-A",
		Session: registry.GluingSession{
			ID: newID(t), SiteID: w.site, DoneOn: on, AdhesiveID: &w.adhesive, NozzleNew: &yes, SetByID: &w.person,
			RockC: &registry.Reading{C: 11, How: registry.Measured},
		},
	}
	for _, position := range w.positions[:len(w.positions)-1] {
		a := registry.Anchor{ID: newID(t), SiteID: w.site, PositionID: position, Form: registry.TwistedLeg, ProductID: &w.hardware, SetOn: on}
		g.Anchors = append(g.Anchors, a)
		g.Installations = append(g.Installations, registry.Installation{
			Record: registry.Record{ID: newID(t), AnchorID: a.ID, DoneOn: on}, SessionID: &g.Session.ID, Form: registry.TwistedLeg, Moisture: registry.HoleDry,
			SetAt: calendar.Moment{From: at, To: at},
		})
	}
	for _, c := range change {
		c(&g)
	}
	if _, _, err := s.service.RecordGluing(t.Context(), s.actor(registry.RoleRecorder), g); err != nil {
		t.Fatal(err)
	}
	return g
}

// The pages of a gluing session, on a phone and on a desk, and its cure card on
// paper.
func TestGluingPagesInABrowser(t *testing.T) {
	t.Parallel()
	findChromium(t)
	s := newStack(t)
	w := s.addTraverse(t, 6)
	g := s.glue(t, w)
	dir, at := pictures(t), s.url+"/g/fell-end/"
	anchor := at + "anchors/" + g.Anchors[0].ID.String()
	for _, width := range []int64{360, 1280} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			ctx := startBrowser(t)
			signIn(t, ctx, s, width)
			for _, p := range [][2]string{
				{"gluing", at + "gluing"},
				{"gluing place", at + "gluing/new"},
				{"gluing session", at + "gluing/" + g.Session.ID.String()},
				{"gluing correct", at + "gluing/" + g.Session.ID.String() + "/correct"},
				{"gluing anchor", anchor},
				{"first use", anchor + "/first-use"},
				{"cure", anchor + "/cure"},
				{"gluing form", at + "gluing/new?site=" + w.site.String()},
			} {
				visit(t, ctx, p[0], dir, width, chromedp.Navigate(p[1]), chromedp.WaitVisible(chromedp.CSS("h1")))
			}
			visit(t, ctx, "gluing wrong", dir, width,
				chromedp.Click(labelOf("all.hole_depth_mm")), chromedp.KeyEvent("5000"), chromedp.Click(labelOf("installations[1].set_at")), chromedp.KeyEvent("never\r"),
				chromedp.WaitVisible(chromedp.CSS("#summary-wrong")))
			if got := printed(t, ctx, at+"gluing/"+g.Session.ID.String()+"/cure-card", dir, "cure card"); got != 1 {
				t.Errorf("the cure card prints %d pages, want 1", got)
			}
			if over, err := chromedp.Run(ctx, chromedp.Evaluate[string](cut)); err != nil || over != "" {
				t.Errorf("the cure card is cut off (%v):\n%s", err, over)
			}
		})
	}
}

// counting counts, from now on, the moves of the focus into another field and
// the keys pressed. What counts is the page's own events, whoever makes them.
const counting = `window.moves = 0; window.keys = 0; window.last = null;
	document.addEventListener("focusin", e => { if (e.target !== window.last) { window.moves++; window.last = e.target; } }, true);
	document.addEventListener("keydown", () => { window.keys++; }, true);`

// fieldOf is the field of that name in a form.
func fieldOf(name string) chromedp.CSS { return chromedp.CSS(`[name="` + name + `"]`) }

// labelOf is the label of the field with that id. To tap it is to tap the field,
// without a list opening.
func labelOf(id string) chromedp.CSS { return chromedp.CSS(`label[for="` + id + `"]`) }

// Six anchors from one filled card: at most 25 moves of the focus and 140 keys
// (the project's own aim), counted by the page itself. What is typed is all that
// the invented card says; its day of expiry reads the same with the month first,
// as some browsers take it.
func TestSixAnchorsAreEnteredWithFewKeys(t *testing.T) {
	t.Parallel()
	findChromium(t)
	s := newStack(t)
	w := s.addTraverse(t, 6)
	dir := pictures(t)
	ctx := startBrowser(t)
	signIn(t, ctx, s, 1280)
	err := chromedp.Do(ctx, chromedp.Navigate(s.url+"/g/fell-end/gluing/new?route="+w.route.String()), chromedp.WaitVisible(chromedp.CSS("#done_on")))
	if err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Run(ctx, chromedp.Evaluate[chromedp.Void](counting)); err != nil {
		t.Fatal(err)
	}
	typing := func(name, keys string) {
		t.Helper()
		steps := []chromedp.Action[chromedp.Void]{chromedp.Click(labelOf(name))}
		if keys != "" {
			steps = append(steps, chromedp.KeyEvent(keys))
		}
		if err := chromedp.Do(ctx, steps...); err != nil {
			t.Fatalf("type %q into %s: %v", keys, name, err)
		}
	}
	for _, f := range [][2]string{
		{"adhesive_id", "sl"},
		{"batch_id", "L1709-A"},
		{"expires_on", "12122027"},
		{"nozzle_new-yes", ""},
		{"opened_at", "13:50"},
		{"first_mix_discarded-yes", ""},
		{"rock_c", "11\tm"},
		{"night_c", "4"},
		{"set_by_id", "a"},
		{"sample_kept-yes", ""},
		{"all.hardware_id", "t"},
		{"all.hole_diameter_mm", "14"},
		{"all.hole_depth_mm", "90"},
		{"all.cleaning_cycles", "4"},
		{"all.moisture", "da"},
		{"installations[0].set_at", "about 14:00"},
		{"installations[1].set_at", "14:05"},
		{"installations[2].set_at", "14:10"},
		{"installations[2].hole_depth_mm", "95"},
		{"installations[3].set_at", "14:20"},
		{"installations[4].set_at", "14:25"},
		{"installations[5].set_at", "14:35"},
	} {
		typing(f[0], f[1])
	}
	moves, err := chromedp.Run(ctx, chromedp.Evaluate[int]("window.moves"))
	if err != nil {
		t.Fatal(err)
	}
	keys, err := chromedp.Run(ctx, chromedp.Evaluate[int]("window.keys"))
	if err != nil {
		t.Fatal(err)
	}
	keys++ // Enter, below, which sends the form
	t.Logf("six anchors: %d moves of the focus, %d keys", moves, keys)
	if moves > 25 || keys > 140 {
		t.Errorf("six anchors took %d moves of the focus and %d keys, want at most 25 and 140", moves, keys)
	}
	if moves != 23 || keys < 70 {
		t.Errorf("%d moves of the focus and %d keys counted, want each of the 23 and every key", moves, keys)
	}
	screen(t, ctx, dir, "gluing filled", 1280)
	if err := chromedp.Do(ctx, chromedp.KeyEvent("\r"), chromedp.WaitVisible(chromedp.CSS(".notice, #summary-wrong"))); err != nil {
		t.Fatalf("send: %v", err)
	}
	if wrong, err := chromedp.Run(ctx, chromedp.Evaluate[string](`(document.querySelector("#summary-wrong") || {}).innerText || ""`)); err != nil || wrong != "" {
		t.Fatalf("the form was not taken (%v): %s", err, wrong)
	}
	screen(t, ctx, dir, "gluing session", 1280)
	s.checkTraverse(t, w)
}

// checkTraverse wants the six anchors that the card above says.
func (s *stack) checkTraverse(t *testing.T, w traverse) {
	t.Helper()
	who := s.actor(registry.RoleReader)
	sessions, err := s.service.GluingSessions(t.Context(), who, &w.site, registry.Page{})
	if err != nil || len(sessions) != 1 {
		t.Fatalf("sessions = %v, %v, want one", sessions, err)
	}
	got, err := s.service.GluingSession(t.Context(), who, sessions[0].ID)
	if err != nil || len(got.Installations) != 6 {
		t.Fatalf("installations = %v, %v, want six", got.Installations, err)
	}
	g := got.Session
	if g.RockC == nil || g.RockC.C != 11 || g.RockC.How != registry.Measured || g.AirC != nil || g.NozzleNew == nil || !*g.NozzleNew ||
		g.SampleKept == nil || !*g.SampleKept || g.SampleAtRock != nil || g.SetByID == nil || *g.SetByID != w.person ||
		g.AdhesiveID == nil || *g.AdhesiveID != w.adhesive || g.BatchID == nil || g.ExpiresOn.String() != "2027-12-12" {
		t.Errorf("session = %+v, want what the card says and nothing else", g)
	}
	at := make(map[uuid.UUID]uuid.UUID)
	for _, l := range got.Anchors {
		at[l.Anchor.ID] = l.Anchor.PositionID
	}
	times := map[uuid.UUID]string{}
	for _, i := range got.Installations {
		times[at[i.AnchorID]] = i.SetAt.Words
		depth := 90.0
		if at[i.AnchorID] == w.positions[2] {
			depth = 95
		}
		if i.HoleDepth == nil || i.HoleDepth.Millimetres() != depth || i.CleaningCycles == nil || *i.CleaningCycles != 4 ||
			i.Moisture != registry.HoleDamp || i.HardwareID == nil || *i.HardwareID != w.hardware || i.Turned != nil {
			t.Errorf("installation at %v = %+v, want what the card says", at[i.AnchorID], i)
		}
	}
	for k, want := range []string{"about 14:00", "14:05", "14:10", "14:20", "14:25", "14:35"} {
		if times[w.positions[k]] != want {
			t.Errorf("anchor %d set at %q, want %q", k+1, times[w.positions[k]], want)
		}
	}
}

package app_test

import (
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// notedList is an invented list: of Low Tor every anchor of First and the only
// one of Third carry the ban, of Second one of two.
const notedList = `Crag,Sector,Route,Bolt,Steel,Last checked,Landowner,Notes
Low Tor,West,First,B1,316L,2025-05-02,Overmoor Estate,bird ban Mar-Jul
Low Tor,West,First,B2,316L,2025-05-02,Overmoor Estate,bird ban Mar-Jul; check next year
Low Tor,West,Second,B3,316L,2025-05-02,Overmoor Estate,Bird ban Mar-Jul; hollow sounding
Low Tor,West,Second,B4,316L,,Overmoor Estate,ask farmer first; low off only
Low Tor,East,Third,B5,316L,2025-05-02,,bird ban Mar-Jul; ask farmer first
Low Tor,East,Third,B6,316L,2025-05-02,Overmoor Estate,drips onto bolt; left of ivy; ask farmer first
`

func (h *house) proposals(t *testing.T, f registry.ProposalFilter) []registry.Proposal {
	t.Helper()
	list, err := h.Proposals(t.Context(), h.who, f, registry.Page{})
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// open counts the open proposals by kind.
func (h *house) open(t *testing.T) string {
	t.Helper()
	n := make(map[registry.ProposalKind]int)
	for _, p := range h.proposals(t, registry.ProposalFilter{State: registry.ProposalOpen}) {
		n[p.Kind]++
	}
	parts := []string{}
	for _, k := range registry.ProposalKinds() {
		if n[k] > 0 {
			parts = append(parts, fmt.Sprintf("%s %d", k, n[k]))
		}
	}
	return strings.Join(parts, ", ")
}

// idsOf lists the open proposals of a kind about the anchors of some labels, of
// all if none are given.
func (h *house) idsOf(t *testing.T, kind registry.ProposalKind, labels ...string) []uuid.UUID {
	t.Helper()
	var about, out []uuid.UUID
	for _, l := range labels {
		about = append(about, h.anchor(t, l).ID)
	}
	for _, p := range h.proposals(t, registry.ProposalFilter{State: registry.ProposalOpen, Kind: kind}) {
		if len(about) == 0 || slices.Contains(about, p.AnchorID) {
			out = append(out, p.ID)
		}
	}
	return out
}

func (h *house) decide(t *testing.T, d registry.Decision, ids []uuid.UUID) report.Decided {
	t.Helper()
	done, err := h.DecideProposals(t.Context(), h.who, registry.ProposalDecision{Decision: d, IDs: ids})
	if err != nil {
		t.Fatalf("%s: %v", d, err)
	}
	return done
}

func TestNotesPropose(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	list := parse(t, "noted.csv", []byte(notedList))
	const all = "restriction 4, agreement 3, observation 1, date 1, environment 1, role 1"
	for _, want := range []int{11, 0} {
		r, err := h.Import(t.Context(), h.who, list, false)
		if err != nil || r.Proposals != want {
			t.Fatalf("import proposes %d, %v; want %d", r.Proposals, err, want)
		}
		if got := h.open(t); got != all {
			t.Errorf("open: %s, want %s", got, all)
		}
	}
	groups, err := h.ProposalGroups(t.Context(), h.who, registry.ProposalFilter{Kind: registry.ProposesRestriction})
	if err != nil || len(groups) != 1 || groups[0].Anchors() != 4 || groups[0].Site != "Low Tor" {
		t.Errorf("groups %+v, %v; want the four anchors of the ban as one", groups, err)
	}
	if _, err := h.Proposals(t.Context(), h.as(registry.RoleRecorder), registry.ProposalFilter{}, registry.Page{}); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a recorder lists proposals: %v, want forbidden", err)
	}
	_, err = h.DecideProposals(t.Context(), h.as(registry.RoleRecorder), registry.ProposalDecision{Decision: registry.Decline, IDs: h.idsOf(t, "")})
	if fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a recorder declines: %v, want forbidden", err)
	}
	today, err := h.Today(t.Context(), h.who)
	if err != nil || today.Proposals != 11 {
		t.Errorf("today counts %d, %v; want 11", today.Proposals, err)
	}
	if today, err = h.Today(t.Context(), h.as(registry.RoleReader)); err != nil || today.Proposals != 0 {
		t.Errorf("a reader's today counts %d, %v; want none", today.Proposals, err)
	}
}

// A restriction is one of the nearest place that carries the note as a whole.
func TestAcceptRestrictions(t *testing.T) {
	t.Parallel()
	const ban = "bird ban Mar-Jul"
	list := func(notes ...string) string {
		rows := []string{"Crag,Sector,Route,Bolt,Steel,Notes"}
		for i, place := range []string{"West,First", "West,First", "West,Second", "West,Second", "East,Third", "East,Third"} {
			rows = append(rows, fmt.Sprintf("Low Tor,%s,B%d,316L,%s", place, i, notes[i]))
		}
		return strings.Join(rows, "\n")
	}
	for _, c := range []struct {
		name  string
		notes []string
		want  string
	}{
		{"the whole site", []string{ban, ban, ban, ban, ban, ban}, "site"},
		{"one sector", []string{ban, ban, ban, ban, "", ""}, "sector"},
		{"one route", []string{ban, ban, "", "", "", ""}, "route"},
		{"one position", []string{ban, "", "", "", "", ""}, "position"},
		{"part of a route", []string{"", "", ban, "", "", ""}, "position"},
		{"a sector and a position", []string{ban, ban, ban, ban, ban, ""}, "position sector"},
		{"a route and a position", []string{ban, ban, ban, "", "", ""}, "position route"},
		{"positions only", []string{ban, "", ban, "", ban, ""}, "position position position"},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			h := newHouse(t)
			h.enter(t, list(c.notes...))
			h.decide(t, registry.Accept, h.idsOf(t, registry.ProposesRestriction))
			found, err := h.Restrictions(t.Context(), h.who, registry.Page{})
			if err != nil {
				t.Fatal(err)
			}
			var kinds []string
			for _, r := range found {
				kinds = append(kinds, string(r.Place.Kind))
				if r.Why != ban || r.Weight != registry.ByRequest || *r.Yearly != (calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 7, ToDay: 31}) {
					t.Errorf("restriction %+v", r)
				}
			}
			slices.Sort(kinds)
			if got := strings.Join(kinds, " "); got != c.want {
				t.Errorf("restrictions of %s, want %s", got, c.want)
			}
			if left := h.open(t); left != "" {
				t.Errorf("left open: %s", left)
			}
		})
	}
}

func TestAcceptTheRest(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, notedList)

	b4, b6 := h.idsOf(t, registry.ProposesAgreement, "B4"), h.idsOf(t, registry.ProposesAgreement, "B6")
	done := h.decide(t, registry.Accept, append(b4, b6...))
	agreements, err := h.Agreements(ctx, h.who, nil, registry.Page{})
	if err != nil || len(agreements) != 1 || agreements[0].Conditions != "ask farmer first" || agreements[0].Issuer != "Overmoor Estate" || len(done.Made) != 1 {
		t.Errorf("agreements %+v, made %+v, %v; want one of the estate", agreements, done.Made, err)
	}
	_, err = h.DecideProposals(ctx, h.who, registry.ProposalDecision{Decision: registry.Accept, IDs: h.idsOf(t, registry.ProposesAgreement, "B5")})
	violated(t, "a condition of nobody", err, "ids", fault.Mismatch)

	h.decide(t, registry.Accept, slices.Concat(h.idsOf(t, registry.ProposesObservation), h.idsOf(t, registry.ProposesDate),
		h.idsOf(t, registry.ProposesRole), h.idsOf(t, registry.ProposesEnvironment)))
	hollow, err := h.AnchorStory(ctx, h.who, h.anchor(t, "B3").ID)
	if err != nil {
		t.Fatal(err)
	}
	seen := hollow.Facts.Inspections[len(hollow.Facts.Inspections)-1]
	if !slices.Equal(seen.Observations, []registry.Observation{registry.HollowSound}) || seen.Origin != registry.Imported ||
		seen.Level != registry.Glance || seen.Ticked || seen.Words != "hollow sounding" || seen.OfNote == nil || seen.DoneOn.From != calendar.NewDate(2025, 5, 2) {
		t.Errorf("seen %+v, want a glance of the list on the day of its check", seen)
	}
	if !slices.ContainsFunc(hollow.Assessment.Findings, func(f registry.Finding) bool { return f.Rule == "hollow-sound" }) {
		t.Errorf("findings %+v, want the hollow sound at once", hollow.Assessment.Findings)
	}
	dated, err := h.AnchorStory(ctx, h.who, h.anchor(t, "B2").ID)
	due := slices.ContainsFunc(dated.Assessment.Candidates, func(c registry.Candidate) bool { return c.On == calendar.NewDate(2026, 12, 31) })
	if err != nil || !due {
		t.Errorf("candidates %+v, %v; want one by the end of the year after the check", dated.Assessment.Candidates, err)
	}
	role, err := h.AnchorStory(ctx, h.who, h.anchor(t, "B4").ID)
	if err != nil || role.Facts.Position.Role != registry.LowerOff || role.Facts.Position.Version != 2 {
		t.Errorf("position %+v, %v; want a lower-off", role.Facts.Position, err)
	}
	wet, err := h.AnchorStory(ctx, h.who, h.anchor(t, "B6").ID)
	if err != nil || len(wet.Facts.Environments) != 1 || wet.Facts.Environments[0].Wetness != registry.Dripping || wet.Facts.Environments[0].Place.Kind != registry.AtPosition {
		t.Errorf("environments %+v, %v; want the position dripping", wet.Facts.Environments, err)
	}
	if got, want := h.open(t), "restriction 4, agreement 1"; got != want {
		t.Errorf("left open: %s, want %s", got, want)
	}
}

// What a list's note says lifts nothing that a person decided.
func TestAcceptedNotesLiftNothing(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, notedList)
	anchor := h.anchor(t, "B2").ID
	bad := inspected(anchor, firstDay-30, func(i *registry.Inspection) { i.Verdict = registry.TakeOutOfUse })
	if _, _, err := h.RecordInspection(t.Context(), h.who, bad); err != nil {
		t.Fatal(err)
	}
	h.decide(t, registry.Accept, h.idsOf(t, registry.ProposesDate))
	story, err := h.AnchorStory(t.Context(), h.who, anchor)
	if err != nil || story.Assessment.Standing != registry.StandingOutOfUse {
		t.Errorf("standing %s, %v; want out of use still", story.Assessment.Standing, err)
	}
}

func TestDecideAllOrNothing(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, notedList)
	person := add(t, h, registry.Person{Name: "Invented Person"}, h.AddPerson)
	bans := h.idsOf(t, registry.ProposesRestriction)
	done, err := h.DecideProposals(ctx, h.who, registry.ProposalDecision{Decision: registry.Decline, IDs: bans[:1], PersonID: &person.ID})
	if err != nil {
		t.Fatal(err)
	}
	p := done.Proposals[0]
	if p.State != registry.ProposalDeclined || p.DecidedBy != h.who.Who || !sameID(p.PersonID, person.ID) || p.DecidedAt.IsZero() || p.Version != 2 {
		t.Errorf("declined: %+v, want who and when", p)
	}
	_, err = h.DecideProposals(ctx, h.who, registry.ProposalDecision{Decision: registry.Accept, IDs: bans})
	e, _ := fault.As(err)
	if fault.KindOf(err) != fault.Conflict || len(e.Violations) != 1 || e.Violations[0].Values["id"] != bans[0].String() {
		t.Errorf("one is declined: %v, want a conflict that names it", err)
	}
	_, err = h.DecideProposals(ctx, h.who, registry.ProposalDecision{Decision: registry.Accept, IDs: append(bans[1:], uuid.Must(uuid.NewV7()))})
	violated(t, "one that is not there", err, "ids", fault.NoSuchReference)
	_, err = h.DecideProposals(ctx, h.who, registry.ProposalDecision{Decision: "perhaps", IDs: bans[1:]})
	violated(t, "no decision", err, "decision", fault.Unknown)
	if got := len(h.idsOf(t, registry.ProposesRestriction)); got != 3 {
		t.Errorf("%d bans are open, want 3: nothing was decided by what failed", got)
	}
	other := h.addGroup(t, "other-anchors")
	if list, err := h.Proposals(ctx, other, registry.ProposalFilter{}, registry.Page{}); err != nil || len(list) > 0 {
		t.Errorf("another group sees %+v, %v", list, err)
	}
	_, err = h.DecideProposals(ctx, other, registry.ProposalDecision{Decision: registry.Decline, IDs: bans[1:2]})
	violated(t, "of another group", err, "ids", fault.NoSuchReference)
}

// Two stewards who accept the same notes at once make one restriction.
func TestDecideAtOnce(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, notedList)
	bans := h.idsOf(t, registry.ProposesRestriction)
	errs := make([]error, 4)
	var all sync.WaitGroup
	for i := range errs {
		all.Go(func() {
			_, errs[i] = h.DecideProposals(t.Context(), h.who, registry.ProposalDecision{Decision: registry.Accept, IDs: bans})
		})
	}
	all.Wait()
	done := 0
	for _, err := range errs {
		switch {
		case err == nil:
			done++
		case fault.KindOf(err) != fault.Conflict:
			t.Errorf("one of several at once: %v, want conflict", err)
		}
	}
	made, err := h.Restrictions(t.Context(), h.who, registry.Page{})
	if err != nil || done != 1 || len(made) != 3 { // the route First, and a position each of Second and Third
		t.Errorf("%d accepted, %d restrictions, %v; want one, and 3", done, len(made), err)
	}
}

func sameID(a *uuid.UUID, b uuid.UUID) bool { return a != nil && *a == b }

// A corrected list ends what it no longer says, adds what it says anew, and
// leaves alone what was decided.
func TestCorrectedNotes(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, notedList)
	h.decide(t, registry.Decline, h.idsOf(t, registry.ProposesRestriction, "B1"))
	h.enter(t, strings.NewReplacer(
		"hollow sounding", "drips", "Estate,bird ban Mar-Jul\n", "Estate,bird ban Mar-Jul; ask farmer first\n", "; check next year", "",
	).Replace(notedList))
	want := "restriction 3, agreement 4, environment 2, role 1"
	if got := h.open(t); got != want {
		t.Errorf("open: %s, want %s", got, want)
	}
	if n := len(h.proposals(t, registry.ProposalFilter{State: registry.ProposalEnded})); n != 2 {
		t.Errorf("%d ended, want the hollow sound and the date", n)
	}
}

func TestUndoneImportEndsItsProposals(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	r, err := h.Import(t.Context(), h.who, parse(t, "noted.csv", []byte(notedList)), false)
	if err != nil {
		t.Fatal(err)
	}
	h.decide(t, registry.Decline, h.idsOf(t, registry.ProposesRole))
	if _, _, err := h.UndoImport(t.Context(), h.who, uuid.MustParse(r.ID)); err != nil {
		t.Fatal(err)
	}
	if got := h.open(t); got != "" {
		t.Errorf("open after the undo: %s", got)
	}
	if n := len(h.proposals(t, registry.ProposalFilter{State: registry.ProposalDeclined})); n != 1 {
		t.Errorf("%d declined, want the decision kept", n)
	}
	h.enter(t, notedList)
	if n := len(h.proposals(t, registry.ProposalFilter{State: registry.ProposalOpen})); n != 11 {
		t.Errorf("%d open after entering again, want 11", n)
	}
}

// The list given back says the same after its notes were accepted.
func TestAcceptedNotesAreNoCorrection(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, notedList)
	h.decide(t, registry.Accept, slices.Concat(h.idsOf(t, registry.ProposesObservation), h.idsOf(t, registry.ProposesDate)))
	story, err := h.AnchorStory(t.Context(), h.who, h.anchor(t, "B3").ID)
	if err != nil {
		t.Fatal(err)
	}
	if seen := story.Facts.LastSeen(); seen == nil || seen.OfNote != nil {
		t.Errorf("last seen %+v, want the list's own sight", seen)
	}
	r, err := h.Import(t.Context(), h.who, parse(t, "noted.csv", []byte(strings.ReplaceAll(notedList, "B3,316L,2025-05-02", "B3,316L,2025-05-03"))), false)
	if err != nil || r.Changed != 1 || r.Clashes != 0 {
		t.Errorf("a later check: %d changed, %d clashes, %v; want one taken over", r.Changed, r.Clashes, err)
	}
}

// The numbers are those of the sample's notes, each row once, counted in the
// file apart from the program: 39 bans, 30 farmers, 24 drips, 31 lower-offs; of
// 28 hollow sounds and 25 next years those of anchors in the rock, 27 and 23.
func TestSampleProposes(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	r, err := h.Import(t.Context(), h.who, h.read(t, "anchor-list.csv"), false)
	if err != nil {
		t.Fatal(err)
	}
	groups, err := h.ProposalGroups(t.Context(), h.who, registry.ProposalFilter{State: registry.ProposalOpen})
	if err != nil {
		t.Fatal(err)
	}
	n := make(map[registry.ProposalKind]int)
	for _, g := range groups {
		n[g.Noted.Kind] += len(g.Proposals)
	}
	want := map[registry.ProposalKind]int{
		registry.ProposesRestriction: 39, registry.ProposesAgreement: 30, registry.ProposesEnvironment: 24,
		registry.ProposesRole: 31, registry.ProposesObservation: 27, registry.ProposesDate: 23,
	}
	if diff := cmp.Diff(want, n); diff != "" || r.Proposals != 174 {
		t.Errorf("%d proposals, want 174; by kind (-want +got):\n%s", r.Proposals, diff)
	}
}

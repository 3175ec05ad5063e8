package wording_test

import (
	"strings"
	"testing"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestProposal(t *testing.T) {
	t.Parallel()
	yes := true
	window := calendar.Window{FromMonth: time.March, FromDay: 1, ToMonth: time.July, ToDay: 31}
	for _, c := range []struct {
		noted registry.Noted
		want  string
	}{
		{
			registry.Noted{Kind: registry.ProposesRestriction, Bars: registry.NoClimbing, Weight: registry.ByRequest, Yearly: &window},
			"No climbing from 1 March to 31 July every year. It counts as one on request: the note does not say what stands behind it.",
		},
		{
			registry.Noted{Kind: registry.ProposesDate, InspectBy: calendar.NewDate(2026, time.December, 31), CountedFrom: registry.FromCheck},
			"To be inspected by 31 December 2026, counted from the last check on the list.",
		},
		{registry.Noted{Kind: registry.ProposesRole, Role: registry.LowerOff}, "The position is for: lower-off."},
		{registry.Noted{Kind: registry.ProposesObservation, Observation: registry.HollowSound}, "Seen at the anchor: hollow sound."},
		{registry.Noted{Kind: registry.ProposesEnvironment, Wetness: registry.Dripping, Washed: &yes}, "The rock is dripping wet; rain washes the rock."},
	} {
		if got := wording.Proposal(c.noted); got != c.want {
			t.Errorf("Proposal(%+v) = %q, want %q", c.noted, got, c.want)
		}
	}
}

// Every kind has a heading and says what accepting it does, every basis of a
// date its words.
func TestProposalsAreSaid(t *testing.T) {
	t.Parallel()
	for _, k := range registry.ProposalKinds() {
		if wording.AcceptingMakes(k) == "" || wording.ProposalKindName(k) == wording.Label(k) {
			t.Errorf("kind %s has no words", k)
		}
	}
	for _, from := range registry.CountedFroms() {
		text := wording.Proposal(registry.Noted{Kind: registry.ProposesDate, InspectBy: calendar.NewDate(2026, 1, 1), CountedFrom: from})
		if strings.HasSuffix(text, ", .") {
			t.Errorf("a date counted %s reads %q", from, text)
		}
	}
	for n, want := range map[int]string{0: "", 1: "1 note waits to be accepted or declined.", 3: "3 notes wait to be accepted or declined."} {
		if got := wording.ProposalsOfList(false, n); got != want {
			t.Errorf("ProposalsOfList(%d) = %q, want %q", n, got, want)
		}
	}
	for what, want := range map[string]string{
		wording.Made("restriction", registry.AtSite, false):     "A new restriction, of the site.",
		wording.Made("agreement", "", true):                     "An agreement with the landowner that was on record already.",
		wording.Made("environment", registry.AtPosition, false): "A new statement about the climate, of the position.",
	} {
		if what != want {
			t.Errorf("Made says %q, want %q", what, want)
		}
	}
}

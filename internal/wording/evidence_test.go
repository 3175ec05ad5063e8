package wording_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestEvidence(t *testing.T) {
	t.Parallel()
	at := time.Date(2026, time.May, 3, 9, 0, 0, 0, time.UTC)
	anchor, person, route, inspection := uuid.New(), uuid.New(), uuid.New(), uuid.New()
	then := registry.AnchorStory{
		Facts:   registry.Facts{Anchor: registry.Anchor{ID: anchor}},
		Routes:  []registry.Route{{ID: route, Name: "Plum Line"}},
		History: []registry.HistoryRow{{At: at, Standing: registry.StandingWatch}},
	}
	now := then
	now.Persons = map[uuid.UUID]string{person: "Invented Person"}
	now.Facts.Inspections = []registry.Inspection{{
		Record: registry.Record{ID: inspection, DoneOn: calendar.Exactly(calendar.NewDate(2026, time.May, 1)), PersonID: &person},
		Level:  registry.Glance, Ticked: true,
	}}
	now.History = []registry.HistoryRow{{At: at.Add(48 * time.Hour), Standing: registry.StandingSuspect}, then.History[0]}
	entered := `{"entered_on":"2026-05-03","form":"wedge-anchor","id":"` + anchor.String() + `","metal":["1.4401","1.4404"],"notes":"","shank_diameter_mm":10,"version":1}`
	changed := `{"entered_on":"2026-05-03","form":"wedge-anchor","id":"` + anchor.String() + `","metal":["1.4401","1.4404"],"notes":"by the bush","shank_diameter_mm":null,"version":2}`
	stop := `{"position_id":"` + uuid.NewString() + `","rank":0,"route_id":"` + route.String() + `"}`
	member := "account:" + uuid.NewString()
	e := registry.Evidence{
		ShownLater: now.History[:1], Known: true, Then: then, Now: now, Actors: map[string]string{member: "An Example", "token:1": "phone"},
		Lines: []registry.LedgerLine{
			{At: at, Who: "token:1", What: "import", Noun: "anchor", RowID: anchor, After: entered, Known: true},
			{At: at, Who: "token:1", What: "import", Noun: "route_position", After: stop, Known: true},
			{At: at.Add(24 * time.Hour), Who: member, What: "anchor changed", Noun: "anchor", RowID: anchor, Before: entered, After: changed},
			{At: at.Add(25 * time.Hour), Who: "account:gone", Noun: "route_position", Before: stop},
			{At: at.Add(72 * time.Hour), Who: "command line: invented", Noun: "inspection", RowID: inspection, After: `{}`},
		},
	}
	said := func(lines []wording.EvidenceLine) []string {
		var out []string
		for _, l := range lines {
			out = append(out, l.At.Format("02 15:04")+" "+l.Who+": "+l.Words)
		}
		return out
	}
	known := []string{
		"03 09:00 the token “phone”: The anchor: entered on: 3 May 2026; form: wedge anchor; metal: 1.4401 or 1.4404; shank diameter in mm: 10.",
		"03 09:00 the token “phone”: The position on a route: route: Plum Line.",
	}
	if diff := cmp.Diff(known, said(wording.EvidenceKnown(e))); diff != "" {
		t.Errorf("known (-want +got):\n%s", diff)
	}
	after := []string{
		"04 09:00 An Example: The anchor changed: notes: “by the bush”, before not recorded; shank diameter in mm: not recorded, before 10.",
		"04 10:00 somebody who is no longer a member (account:gone): The position on a route taken away: route: Plum Line.",
		"05 09:00 : From then on shown as: suspect.",
		"06 09:00 command line: invented: Looked at in passing on 1 May 2026 by Invented Person.",
	}
	if diff := cmp.Diff(after, said(wording.EvidenceAfter(e))); diff != "" {
		t.Errorf("after (-want +got):\n%s", diff)
	}
}

func TestEvidenceShown(t *testing.T) {
	t.Parallel()
	h := registry.HistoryRow{Standing: registry.StandingWatch, DueOn: calendar.NewDate(2026, time.May, 2), DueState: registry.NotDue}
	for overdue, want := range map[bool]string{
		false: "Shown as: watch; inspect by 2 May 2026.",
		true:  "Shown as: watch; inspect by 2 May 2026: overdue.",
	} {
		if got := wording.EvidenceShown(h, overdue); got != want {
			t.Errorf("EvidenceShown(overdue %v) = %q, want %q", overdue, got, want)
		}
	}
}

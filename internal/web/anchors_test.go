package web

import (
	"strings"
	"testing"

	"rockledger/internal/registry"
)

// Every count on Today leads to the list of what it counts.
func TestTodayCountsLead(t *testing.T) {
	t.Parallel()
	r := todayReport(2)
	r.Counts = registry.Counts{
		ByStanding: map[registry.Standing]int{registry.StandingWatch: 7, registry.StandingNotLocated: 2},
		ByDueState: map[registry.DueState]int{registry.Overdue: 3, registry.DueSoon: 4, registry.AwaitingFirstRound: 1, registry.NotDue: 5},
	}
	doc := draw(t, todayView(newTodayPage(frameOf("Today"), r)))
	want := []string{
		"7 to watch /g/fell-end/anchors?standing=watch", "2 not located /g/fell-end/anchors?standing=not-located",
		"3 overdue /g/fell-end/reports/overdue", "4 due soon /g/fell-end/anchors?due_state=due-soon",
		"1 awaiting the first round /g/fell-end/anchors?due_state=awaiting-first-round", "5 not due /g/fell-end/anchors?due_state=not-due",
	}
	var got []string
	for _, list := range all(doc, class("counts")) {
		for _, a := range all(list, tag("a")) {
			href, _ := attr(a, "href")
			got = append(got, text(a)+" "+href)
		}
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("counts lead to\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

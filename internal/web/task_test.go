package web

import (
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// What is to be found out, and what is about to be barred, come before the long
// lists.
func TestTodayOrder(t *testing.T) {
	t.Parallel()
	page := newTodayPage(frameOf("Today"), todayReport(12))
	page.Tasks, page.Upcoming = tasksOf(), aroundOf().Restrictions
	var b strings.Builder
	if err := todayView(page).Render(t.Context(), &b); err != nil {
		t.Fatal(err)
	}
	at := -1
	for _, id := range []string{`id="upcoming"`, `id="tasks"`, `id="out-of-use"`, `id="overdue"`} {
		next := strings.Index(b.String(), id)
		if next < at || next < 0 {
			t.Errorf("%s stands at %d, want it after %d", id, next, at)
		}
		at = next
	}
}

func TestSiteTasks(t *testing.T) {
	t.Parallel()
	around := surroundings{Environment: []environmentLine{{wording.EnvironmentName("road_km"), "0.1 km", ""}}}
	for kind, want := range map[registry.SiteKind]int{registry.Crag: 1, registry.Cave: 1, registry.SeaCliff: 0} {
		tasks := siteTasks("/g/fell-end", registry.Site{Kind: kind}, around, true)
		if len(tasks) != want {
			t.Errorf("siteTasks(%s, sea not known) = %+v, want %d", kind, tasks, want)
		}
		if want == 1 && tasks[0].Text != wording.SeaTask {
			t.Errorf("siteTasks(%s) says %q, want %q", kind, tasks[0].Text, wording.SeaTask)
		}
	}
}

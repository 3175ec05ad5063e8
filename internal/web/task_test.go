package web

import (
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

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

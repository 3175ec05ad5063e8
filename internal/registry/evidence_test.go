package registry_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

func TestState(t *testing.T) {
	t.Parallel()
	a, b := uuid.New(), uuid.New()
	line := func(noun string, id uuid.UUID, before, after string) registry.LedgerLine {
		return registry.LedgerLine{Noun: noun, RowID: id, Before: before, After: after}
	}
	for _, c := range []struct {
		name  string
		lines []registry.LedgerLine
		want  []string // rows that stand
	}{
		{"nothing", nil, nil},
		{"the last text counts, in the order of entry", []registry.LedgerLine{line("site", a, "", "1"), line("site", b, "", "2"), line("site", a, "1", "3")}, []string{"3", "2"}},
		{"one id in two tables is two rows", []registry.LedgerLine{line("position", a, "", "1"), line("site", a, "", "2")}, []string{"1", "2"}},
		{"a position on two routes", []registry.LedgerLine{line("route_position", a, "", "1"), line("route_position", a, "", "2")}, []string{"1", "2"}},
		{"taken off one of them", []registry.LedgerLine{line("route_position", a, "", "1"), line("route_position", a, "", "2"), line("route_position", a, "1", "")}, []string{"2"}},
		{"and put on it again", []registry.LedgerLine{line("route_position", a, "", "1"), line("route_position", a, "1", ""), line("route_position", a, "", "1")}, []string{"1"}},
	} {
		var got []string
		for _, l := range registry.State(c.lines) {
			got = append(got, l.After)
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

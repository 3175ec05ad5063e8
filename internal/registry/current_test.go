package registry_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

func TestFactsCurrent(t *testing.T) {
	t.Parallel()
	first, second, third := uuid.New(), uuid.New(), uuid.New()
	inspection := func(id uuid.UUID, replaces *uuid.UUID) registry.Inspection {
		return registry.Inspection{Record: registry.Record{ID: id, Replaces: replaces}}
	}
	for _, c := range []struct {
		name string
		list []registry.Inspection
		want []uuid.UUID
	}{
		{"nothing replaced", []registry.Inspection{inspection(first, nil), inspection(second, nil)}, []uuid.UUID{first, second}},
		{"one replaced", []registry.Inspection{inspection(second, &first), inspection(first, nil)}, []uuid.UUID{second}},
		{
			"a correction corrected",
			[]registry.Inspection{inspection(first, nil), inspection(second, &first), inspection(third, &second)},
			[]uuid.UUID{third},
		},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			f := registry.Facts{Inspections: c.list}
			var got []uuid.UUID
			for _, i := range f.Current().Inspections {
				got = append(got, i.ID)
			}
			if diff := cmp.Diff(c.want, got); diff != "" {
				t.Errorf("Current() (-want +got):\n%s", diff)
			}
			if len(f.Inspections) != len(c.list) {
				t.Errorf("Current() changed the facts it was asked of")
			}
		})
	}
}

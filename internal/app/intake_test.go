package app

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// What a list says of its anchors is judged at once only where the register knows
// nothing more: of a place that it had, or of an adhesive with a sheet, be it
// named by the row or by its batch, the facts are read once they are written.
// That is held here, since by the rules of today the same most often comes out
// either way.
func TestAllAtHand(t *testing.T) {
	t.Parallel()
	sheeted, plain := uuid.UUID{1}, uuid.UUID{2}
	in := &intake{sheeted: map[uuid.UUID]bool{sheeted: true}}
	set := func(adhesive *uuid.UUID) registry.Facts {
		return registry.Facts{Installations: []registry.Installation{{}, {AdhesiveID: adhesive}}}
	}
	batch := func(product *uuid.UUID) registry.Facts {
		return registry.Facts{Batches: []registry.Batch{{ProductID: product}}}
	}
	for _, tt := range []struct {
		name  string
		site  registry.Site
		facts registry.Facts
		want  bool
	}{
		{"nothing known", registry.Site{}, registry.Facts{}, true},
		{"a site that was there", registry.Site{Version: 1}, registry.Facts{}, false},
		{"an adhesive with a sheet", registry.Site{}, set(&sheeted), false},
		{"an adhesive without one", registry.Site{}, set(&plain), true},
		{"an adhesive not known", registry.Site{}, set(nil), true},
		{"a batch of an adhesive with a sheet", registry.Site{}, batch(&sheeted), false},
		{"a batch of one without", registry.Site{}, batch(&plain), true},
		{"a batch of an adhesive not known", registry.Site{}, batch(nil), true},
	} {
		if got := in.allAtHand(&entry{site: &tt.site, facts: tt.facts}); got != tt.want {
			t.Errorf("%s: allAtHand = %v, want %v", tt.name, got, tt.want)
		}
	}
}

package postgres_test

import (
	"slices"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// An anchor's facts hold the session it was set in and all that correct it, with
// the batches and sheets that any of these name, and nothing of other anchors.
func TestFactsOfAGluedAnchor(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	resin := sample.Adhesive()
	sheet := sample.ProductVersion(resin)
	batch := sample.Batch(resin, func(b *registry.Batch) { b.Text = "X2" })
	second := sample.GluingSession(s.site, func(g *registry.GluingSession) { g.Replaces = &s.session.ID })
	third := sample.GluingSession(s.site, func(g *registry.GluingSession) { g.Replaces, g.BatchID = &second.ID, &batch.ID })
	lone := sample.Anchor(s.position)
	apart := sample.GluingSession(s.site)
	glued := sample.Anchor(s.position)
	setApart := sample.Installation(glued, func(i *registry.Installation) { i.SessionID = &apart.ID })
	ch := s.change()
	ch.Products, ch.ProductVersions, ch.Batches = append(ch.Products, resin), append(ch.ProductVersions, sheet), append(ch.Batches, batch)
	ch.Sessions = append(ch.Sessions, second, third, apart)
	ch.Anchors, ch.Installations = append(ch.Anchors, lone, glued), append(ch.Installations, setApart)
	r.enter(t, ch)

	err := r.store.Change(t.Context(), r.who, []uuid.UUID{s.anchor.ID, lone.ID, glued.ID}, func(all []registry.Facts, _ houserules.Rules) (registry.Change, error) {
		f := &all[0]
		if d := diff([]registry.GluingSession{s.session, second, third}, f.Sessions); d != "" {
			t.Errorf("sessions differ (-want +got):\n%s", d)
		}
		if got := f.SessionOf(&f.Installations[0]); got == nil || got.ID != third.ID {
			t.Errorf("SessionOf = %+v, want the last correction", got)
		}
		sheets := ids(f.Sheets, func(v registry.ProductVersion) uuid.UUID { return v.ID })
		batches := ids(f.Batches, func(b registry.Batch) uuid.UUID { return b.ID })
		if !slices.Equal(sheets, sorted(s.version.ID, sheet.ID)) || !slices.Equal(batches, sorted(s.batch.ID, batch.ID)) {
			t.Errorf("sheets %v, batches %v, want those of hardware and both batches", sheets, batches)
		}
		if f := &all[1]; len(f.Sessions)+len(f.Sheets)+len(f.Batches) > 0 {
			t.Errorf("of an anchor that names nothing: %v, %v, %v", f.Sessions, f.Sheets, f.Batches)
		}
		if d := diff([]registry.GluingSession{apart}, all[2].Sessions); d != "" || len(all[2].Sheets)+len(all[2].Batches) > 0 {
			t.Errorf("another anchor's sheets %v, batches %v, sessions differ (-want +got):\n%s", all[2].Sheets, all[2].Batches, d)
		}
		return registry.Change{}, nil
	})
	check(t, err)

	story, err := r.store.AnchorStory(t.Context(), r.group.ID, s.anchor.ID)
	if err != nil || story.Batches[batch.ID].Text != "X2" || story.Products[resin.ID].Name == "" || story.Products[s.hardware.ID].Name == "" {
		t.Errorf("story names batches %v, products %v, %v, want those of the correction too", story.Batches, story.Products, err)
	}
	gluing, err := r.store.GluingSession(t.Context(), r.group.ID, third.ID)
	if err != nil || len(gluing.Installations) != 1 || gluing.Batches[batch.ID].Text != "X2" || len(gluing.Anchors) != 1 {
		t.Errorf("the last correction's story = %+v, %v, want the installation of the first session", gluing, err)
	}
}

func ids[T any](list []T, id func(T) uuid.UUID) []uuid.UUID {
	out := make([]uuid.UUID, len(list))
	for i, v := range list {
		out[i] = id(v)
	}
	return sorted(out...)
}

func sorted(list ...uuid.UUID) []uuid.UUID {
	slices.SortFunc(list, func(a, b uuid.UUID) int { return slices.Compare(a[:], b[:]) })
	return list
}

package app

import (
	"reflect"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// again returns what is stored under the session's id if the same was sent once
// more, fault.Conflict otherwise. What was recorded of the session later, and
// what became of its anchors since, does not matter.
func (t *gluing) again(story *registry.GluingStory) (registry.Gluing, error) {
	have := entered(story)
	sent := t.g
	if b := have.Session.BatchID; b != nil && sent.Session.BatchID == nil && sent.BatchText != "" {
		if stored := story.Batches[*b]; stored.Key() == registry.FoldBatch(sent.BatchText) {
			sent.Session.BatchID = b
		}
	}
	sent.Session.RecordedAt = have.Session.RecordedAt
	for k := range sent.Installations {
		sent.Installations[k].RecordedAt = have.Session.RecordedAt
	}
	same := reflect.DeepEqual(have.Session, sent.Session) &&
		reflect.DeepEqual(byID(have.Installations), byID(sent.Installations)) && sameAnchors(story, sent.Anchors)
	if !same {
		return registry.Gluing{}, fault.New(fault.Conflict, "gluing session %v is stored with other content", have.Session.ID)
	}
	for k := range story.Anchors {
		a := &story.Anchors[k].Anchor
		if t.fresh[a.ID] != nil {
			have.Anchors = append(have.Anchors, *a)
		}
	}
	return have, nil
}

// entered returns the session with the installations that came in with it: those
// recorded at the same instant.
func entered(story *registry.GluingStory) registry.Gluing {
	g := registry.Gluing{Session: story.Session}
	for _, i := range story.Installations {
		if i.SessionID != nil && *i.SessionID == g.Session.ID && i.RecordedAt.Equal(g.Session.RecordedAt) {
			g.Installations = append(g.Installations, i)
		}
	}
	return g
}

func byID(list []registry.Installation) []registry.Installation {
	out := cloned(list)
	slices.SortFunc(out, func(a, b registry.Installation) int { return compareIDs(a.ID, b.ID) })
	return out
}

// sameAnchors says whether anchors sent as new are those stored: each at its
// position, and with the same content if it was not changed since.
func sameAnchors(story *registry.GluingStory, sent []registry.Anchor) bool {
	have := make(map[uuid.UUID]registry.Anchor, len(story.Anchors))
	for k := range story.Anchors {
		have[story.Anchors[k].Anchor.ID] = story.Anchors[k].Anchor
	}
	for _, a := range sent {
		stored, ok := have[a.ID]
		if !ok || stored.PositionID != a.PositionID {
			return false
		}
		a.SiteID, a.EnteredOn, a.Version = stored.SiteID, stored.EnteredOn, stored.Version
		// What is not said was taken from the product.
		if a.Form == "" && a.FormWords == "" {
			a.Form = stored.Form
		}
		if !a.Metal.Known() && a.MetalWords == "" {
			a.Metal = stored.Metal
		}
		if stored.Version == 1 && !reflect.DeepEqual(stored, a) {
			return false
		}
	}
	return true
}

package httpapi

import (
	"cmp"
	"maps"
	"slices"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// storyOut tells a story with what bars its due date. It lists persons, products and batches in the order of their ids.
func storyOut(s registry.AnchorStory, due registry.ReportLine) api.AnchorStory {
	f := s.Facts
	return api.AnchorStory{
		Place:         placeOut(s),
		Anchor:        anchorOut(f.Anchor),
		Fittings:      each(f.Fittings, fittingOut),
		Sessions:      each(f.Sessions, sessionOut),
		Installations: each(f.Installations, installationOut),
		Cures:         each(f.Cures, cureOut),
		Inspections:   each(f.Inspections, inspectionOut),
		FirstUses:     each(f.FirstUses, firstUseOut),
		Maintenance:   each(f.Maintenance, maintenanceOut),
		Removals:      each(f.Removals, removalOut),
		Markings:      each(f.Markings, markingOut),
		Marked:        marked(f),
		Settlements:   each(f.Settlements, settlementOut),
		Retractions:   each(f.Retractions, retractionOut),
		Persons:       personsOut(s.Persons),
		Products:      each(byID(s.Products, productID), productOut),
		Batches:       each(byID(s.Batches, batchID), batchOut),
		Assessment:    summaryOut(due, f.Inspections),
		History:       each(s.History, historyOut),
		Others:        each(s.Others, anchorOut),
		Caution:       wording.Caution,
	}
}

func placeOut(s registry.AnchorStory) api.Place {
	p, site := s.Facts.Position, s.Facts.Site
	return api.Place{
		SiteId: site.ID, Site: site.Name, SiteKind: api.SiteKind(site.Kind),
		Sector: s.Sector, Routes: each(s.Routes, routeOut),
		PositionId: p.ID, Position: p.Label, Role: api.PositionRole(p.Role), Face: api.Face(p.Face),
		BackedUp: p.BackedUp, HowToFind: p.HowTo, Landowner: s.Landowner,
	}
}

func personsOut(names map[uuid.UUID]string) []api.Person {
	out := make([]api.Person, 0, len(names))
	for id, name := range names {
		out = append(out, api.Person{Id: id, Name: name})
	}
	slices.SortFunc(out, func(x, y api.Person) int { return cmp.Compare(x.Id.String(), y.Id.String()) })
	return out
}

// byID returns the values of m in the order of their ids.
func byID[K interface {
	comparable
	String() string
}, V any](m map[K]V, id func(V) K) []V {
	return slices.SortedFunc(maps.Values(m), func(x, y V) int {
		return cmp.Compare(id(x).String(), id(y).String())
	})
}

func historyOut(h registry.HistoryRow) api.HistoryRow {
	return api.HistoryRow{
		At: h.At.UTC(), Standing: api.Standing(h.Standing), DueOn: dateOut(h.DueOn), DueState: api.DueState(h.DueState),
		Rules: each(h.Rules, func(rule string) string { return rule }), Settled: h.Settled,
	}
}

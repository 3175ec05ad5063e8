package demo

import (
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// flood invents that the cave filled three weeks ago.
func (s *scene) flood() {
	s.change.Events = append(s.change.Events, registry.Event{
		ID: s.id(), SiteID: s.siteOf(plan[2]).ID, Kind: registry.Flood, HappenedOn: s.asOf.AddDays(-25), InspectBy: s.asOf.AddDays(45),
		Words: "Water to the roof of the entrance series; stones and a gate post wedged in Doorstep Pitch.",
	})
}

// warned is how many anchors the warning names.
const warned = 3

// warning invents a maker's word about three through bolts at the crag.
func (s *scene) warning() {
	site := s.siteOf(plan[0])
	var ids []uuid.UUID
	for _, a := range s.change.Anchors {
		if a.SiteID == site.ID && !a.Removed && a.Form == registry.ThroughBolt && len(ids) < warned {
			ids = append(ids, a.ID)
		}
	}
	s.change.Notices = append(s.change.Notices, registry.Notice{
		ID: s.id(), Title: "Nuts of 304 through bolts (invented)",
		Words:    "The maker found nuts of the wrong steel in one carton. Check that each nut is marked A2 and turns freely.",
		IssuedOn: s.asOf.AddDays(-20), InspectBy: s.asOf.AddDays(30), AnchorIDs: ids,
	})
}

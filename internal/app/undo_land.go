package app

import (
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// endLand ends the parcels and landowners that the import made, that nobody
// changed since and that nothing else uses.
func (d *undoing) endLand(left registry.PlacesLeft) {
	holding := make(map[uuid.UUID]bool) // landowners
	for _, p := range left.Parcels {
		switch {
		case !p.EndedOn.IsZero():
		case d.made[p.ID] && p.Version == 1 && !left.LandUsed[p.ID]:
			p.EndedOn = d.asOf
			d.change.Parcels = append(d.change.Parcels, p)
		default:
			holding[p.LandownerID] = true
		}
	}
	for _, l := range left.Landowners {
		if l.EndedOn.IsZero() && l.Version == 1 && !holding[l.ID] && !left.LandUsed[l.ID] {
			l.EndedOn = d.asOf
			d.change.Landowners = append(d.change.Landowners, l)
		}
	}
}

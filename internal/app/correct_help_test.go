package app

import (
	"encoding/json"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// columnsIn reads from an import's report which heading was taken for what.
func columnsIn(text []byte) map[string]string {
	var r report.Import
	if err := json.Unmarshal(text, &r); err != nil {
		panic(err)
	}
	out := make(map[string]string)
	for _, c := range r.Columns {
		if c.Field != "" {
			out[c.Field] = c.Heading
		}
	}
	return out
}

// factsAfter returns the facts of every anchor once a change is written.
func factsAfter(before map[uuid.UUID]registry.Facts, c registry.Change, sites []registry.Site) map[uuid.UUID]registry.Facts {
	out := make(map[uuid.UUID]registry.Facts)
	for id, f := range before {
		out[id] = f
	}
	places := make(map[uuid.UUID]registry.Position)
	for _, p := range c.Positions {
		places[p.ID] = p
	}
	for _, a := range c.Anchors {
		f := out[a.ID]
		a.Version++
		f.Anchor = a
		out[a.ID] = f
	}
	kinds := make(map[uuid.UUID]registry.Site)
	for _, s := range append(sites, c.Sites...) {
		kinds[s.ID] = s
	}
	for id, f := range out {
		if p, ok := places[f.Anchor.PositionID]; ok {
			p.Version++
			f.Position = p
		}
		f.Site = kinds[f.Anchor.SiteID]
		for _, r := range c.Installations {
			if r.AnchorID == id {
				f.Installations = append(f.Installations, r)
			}
		}
		for _, r := range c.Inspections {
			if r.AnchorID == id {
				f.Inspections = append(f.Inspections, r)
			}
		}
		for _, r := range c.Removals {
			if r.AnchorID == id {
				f.Removals = append(f.Removals, r)
			}
		}
		for _, r := range c.Retractions {
			if r.AnchorID == id {
				f.Retractions = append(f.Retractions, r)
			}
		}
		for _, t := range c.Fittings {
			if t.AnchorID == id {
				f.Fittings = append(f.Fittings, t)
			}
		}
		out[id] = f
	}
	return out
}

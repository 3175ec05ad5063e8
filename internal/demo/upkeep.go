package demo

import (
	"context"
	"fmt"
	"slices"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// maintain invents what was made of the finds: the first anchor that turned was
// marked at the rock, the second was not yet, and the first loose nut was
// tightened.
func (r *round) maintain(ctx context.Context, service *app.Service, who registry.Actor, found []registry.Inspection) error {
	if i := firstThatSaw(found, registry.AnchorTurns); i != nil {
		_, _, err := service.RecordMarking(ctx, who, registry.Marking{
			Record: r.upkept(i, 1, "Red tape round the eye, tag with the date."),
			How:    []registry.MarkingHow{registry.MarkedTape, registry.MarkedTag},
		})
		if err != nil {
			return fmt.Errorf("mark an anchor: %w", err)
		}
	}
	i := firstThatSaw(found, registry.LooseNut)
	if i == nil {
		return nil
	}
	torque := 25.0
	_, _, err := service.RecordMaintenance(ctx, who, registry.Maintenance{
		Record: r.upkept(i, 2, "Went back with a spanner."), Done: []registry.Upkeep{registry.Tightened},
		TorqueNM: &torque, TorqueTool: "click wrench",
	}, nil)
	if err != nil {
		return fmt.Errorf("tighten a nut: %w", err)
	}
	return nil
}

func firstThatSaw(found []registry.Inspection, o registry.Observation) *registry.Inspection {
	i := slices.IndexFunc(found, func(i registry.Inspection) bool { return slices.Contains(i.Observations, o) })
	if i < 0 {
		return nil
	}
	return &found[i]
}

// upkept is a record made some days after an inspection by whoever made that.
func (r *round) upkept(i *registry.Inspection, days int, words string) registry.Record {
	return registry.Record{
		ID: r.id(), AnchorID: i.AnchorID, DoneOn: calendar.Exactly(min(i.DoneOn.To.AddDays(days), r.asOf)), PersonID: i.PersonID,
		Words: words, Origin: registry.Recorded,
	}
}

// removal invents how an anchor came out; the metal of the first was kept.
func (s *scene) removal(a registry.Anchor, on calendar.Date) registry.Removal {
	r := registry.Removal{Record: s.record(a, on, "Replaced."), How: registry.Unscrewed, OldHole: registry.HoleFilled}
	if a.Form.Bonded() {
		r.How = registry.CoredOut
	}
	if kept := len(s.change.Removals) == 0; kept {
		r.MetalKept, r.MetalWhere = &kept, "Box 3 in the gear shed, in a bag with its tag"
	}
	return r
}

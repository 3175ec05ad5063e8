package demo

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// drawn is a parcel's outline that is still to be drawn.
type drawn struct {
	parcel  uuid.UUID
	outline string
}

// takeOutlines takes the outlines out of new parcels.
func takeOutlines(parcels []registry.Parcel) []drawn {
	var out []drawn
	for i := range parcels {
		if p := &parcels[i]; p.Outline != "" {
			out = append(out, drawn{p.ID, p.Outline})
			p.Outline = ""
		}
	}
	return out
}

// draw enters outlines as a member does, so that they are checked, their area
// is worked out and positions get the parcel they lie on.
func draw(ctx context.Context, service *app.Service, who registry.Actor, list []drawn) error {
	for _, d := range list {
		_, err := service.ChangeParcel(ctx, who, d.parcel, 1, func(p *registry.Parcel) error {
			p.Outline = d.outline
			return nil
		})
		if err != nil {
			return fmt.Errorf("draw a parcel: %w", err)
		}
	}
	return nil
}

// settled is the finding that a named person answers.
const settled = "tea-staining-by-the-sea"

// settle answers the stain seen at the first anchor by the sea.
func (r *round) settle(ctx context.Context, service *app.Service, who registry.Actor, found []registry.Inspection) error {
	for _, i := range found {
		if !slices.Contains(i.Observations, registry.TeaStaining) {
			continue
		}
		story, err := service.AnchorStory(ctx, who, i.AnchorID)
		if err != nil {
			return fmt.Errorf("read what is to be settled: %w", err)
		}
		for _, f := range story.Assessment.Findings {
			if f.Rule == settled {
				return r.answer(ctx, service, who, i.AnchorID, f)
			}
		}
	}
	return nil
}

func (r *round) answer(ctx context.Context, service *app.Service, who registry.Actor, anchor uuid.UUID, f registry.Finding) error {
	person := pick(r.maker, r.persons).ID
	_, _, err := service.RecordSettlement(ctx, who, registry.Settlement{
		Record: registry.Record{ID: r.id(), AnchorID: anchor, DoneOn: calendar.Exactly(r.asOf), PersonID: &person},
		Rule:   f.Rule, Values: f.Values,
		Reason: "Scrubbed bright: the stain ran down from an old stud above. The eye beneath has no pit under a lens.",
		Until:  r.asOf.AddYears(1),
	})
	if err != nil {
		return fmt.Errorf("settle a finding: %w", err)
	}
	return nil
}

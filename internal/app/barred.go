package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// DueLine returns an anchor's place and assessment with what bars its due date,
// as the line of a report has it.
func (s *Service) DueLine(ctx context.Context, who registry.Actor, story registry.AnchorStory) (registry.ReportLine, error) {
	if err := may(who, GetAnchor); err != nil {
		return registry.ReportLine{}, err
	}
	line := registry.ReportLine{
		Place:      registry.AnchorLine{Anchor: story.Facts.Anchor, Site: story.Facts.Site.Name, Sector: story.Sector, Label: story.Facts.Position.Label},
		Assessment: story.Assessment,
	}
	position := story.Facts.Position.ID
	list, err := s.store.RestrictionsAt(ctx, who.GroupID, position)
	if err != nil {
		return line, err
	}
	here := reach{byID: make(map[uuid.UUID]*registry.Restriction, len(list)), at: make(map[uuid.UUID][]uuid.UUID, 1)}
	for i := range list {
		here.byID[list[i].ID] = &list[i]
		here.at[position] = append(here.at[position], list[i].ID)
	}
	here.fill(&line, barInspection)
	return line, nil
}

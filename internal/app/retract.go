package app

import (
	"context"
	"fmt"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// PreviewRetraction says what would follow if a record of an anchor were taken
// back today, and stores nothing. What RecordRetraction would refuse, whoever
// gives whatever reason, it refuses with the same violation of retracts_id. An
// anchor that is not there is fault.NotFound.
func (s *Service) PreviewRetraction(ctx context.Context, who registry.Actor, anchor, record uuid.UUID) (report.Retraction, error) {
	if err := mayLook(who, RecordRetraction); err != nil {
		return report.Retraction{}, err
	}
	story, err := s.store.AnchorStory(ctx, who.GroupID, anchor)
	if err != nil {
		return report.Retraction{}, fmt.Errorf("preview retraction of %v: %w", record, err)
	}
	rules, err := s.store.Rules(ctx, who.GroupID)
	if err != nil {
		return report.Retraction{}, fmt.Errorf("preview retraction of %v: %w", record, err)
	}
	r := registry.Retraction{Record: registry.Record{ID: newID(), AnchorID: anchor}, RetractsID: record}
	r.Origin, r.RecordedAt = registry.Recorded, s.instant()
	d := s.newDesk(ctx, who)
	checkReturn(d, &r)
	p, err := d.previewRetraction(&story.Facts, rules, r)
	if err != nil {
		return p, fmt.Errorf("preview retraction of %v: %w", record, err)
	}
	return p, nil
}

// previewRetraction goes the way of storeRecord as far as the new assessment.
func (d *desk) previewRetraction(before *registry.Facts, rules houserules.Rules, r registry.Retraction) (report.Retraction, error) {
	d.Nest("", admitRetraction(&scene{who: d.who, facts: before, rules: rules, asOf: d.asOf, now: d.s.instant(), zone: d.s.location(d.who.TimeZone)}, &r))
	hands := retractions.hands(&r)
	hands.hold(before, &rules)
	after := *before
	after.Retractions = append(slices.Clone(before.Retractions), r)
	var c registry.Change
	removeOrReturn(before, &after, &c)
	swapFittings(before, &after, nil, &c)
	d.Nest("", hands.admit(&after, &rules))
	if err := d.Err(); err != nil {
		return report.Retraction{}, err
	}
	p := report.Retraction{
		Now: assess.Anchor(before.Current(), rules, d.asOf), Then: assess.Anchor(after.Current(), rules, d.asOf),
		Revived: without(countingIDs(&after), countingIDs(before), r.ID, r.RetractsID),
		Lost:    without(countingIDs(before), countingIDs(&after), r.ID, r.RetractsID),
	}
	return p, nil
}

// countingIDs lists the records of an anchor that count.
func countingIDs(f *registry.Facts) []uuid.UUID {
	now := f.Current()
	now.Retractions = standing(f.Retractions)
	return recordIDs(&now)
}

// without lists the ids of list that are neither in other nor among these.
func without(list, other []uuid.UUID, these ...uuid.UUID) []uuid.UUID {
	return slices.DeleteFunc(list, func(id uuid.UUID) bool { return slices.Contains(other, id) || slices.Contains(these, id) })
}

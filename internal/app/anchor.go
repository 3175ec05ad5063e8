package app

import (
	"context"
	"fmt"
	"reflect"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// AnchorStory returns everything on record about one anchor, or fault.NotFound.
// Its assessment is made from those very facts as of today; where that differs
// from what was stored, it is stored first, so that the history tells what was
// shown.
func (s *Service) AnchorStory(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.AnchorStory, error) {
	if err := may(who, GetAnchor); err != nil {
		return registry.AnchorStory{}, err
	}
	asOf := s.AsOf(who)
	story, fresh, err := s.story(ctx, who, id, asOf)
	if err == nil && !sameShown(story.Assessment, fresh) {
		if err = s.reassess(ctx, who, []uuid.UUID{id}, asOf); err == nil {
			story, fresh, err = s.story(ctx, who, id, asOf)
		}
	}
	if err != nil {
		return registry.AnchorStory{}, fmt.Errorf("story of anchor %v: %w", id, err)
	}
	story.Assessment = fresh
	return story, nil
}

// History returns what a history of an anchor is told from, or fault.NotFound:
// its records, what the register showed of it, and the names of those who made
// them. wording.History tells it.
func (s *Service) History(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.AnchorStory, error) {
	if err := may(who, ListHistory); err != nil {
		return registry.AnchorStory{}, err
	}
	return s.AnchorStory(ctx, who, id)
}

// story reads an anchor's story and assesses its facts as of asOf.
func (s *Service) story(ctx context.Context, who registry.Actor, id uuid.UUID, asOf calendar.Date) (registry.AnchorStory, registry.Assessment, error) {
	story, err := s.store.AnchorStory(ctx, who.GroupID, id)
	if err != nil {
		return story, registry.Assessment{}, err
	}
	rules, err := s.store.Rules(ctx, who.GroupID)
	if err != nil {
		return story, registry.Assessment{}, err
	}
	return story, assess.Anchor(story.Facts.Current(), rules, asOf), nil
}

// sameShown says whether two assessments of an anchor, perhaps of different
// days, show the same. Their candidates follow from the same facts and are not
// compared.
func sameShown(a, b registry.Assessment) bool {
	return a.Standing == b.Standing && a.DueOn == b.DueOn && a.SoonestOn == b.SoonestOn &&
		a.DueState == b.DueState && a.Band == b.Band && a.BandReason == b.BandReason &&
		a.Reason.Rule == b.Reason.Rule && a.Reason.Factor == b.Reason.Factor &&
		a.Engine == b.Engine && a.RulesVersion == b.RulesVersion &&
		slices.Equal(found(a), found(b))
}

// shownFinding is what a history tells of a finding.
type shownFinding struct {
	rule    string
	settled bool
}

// found lists an assessment's findings as a history tells them.
func found(a registry.Assessment) []shownFinding {
	out := make([]shownFinding, len(a.Findings))
	for i, f := range a.Findings {
		out[i] = shownFinding{f.Rule, f.SettledBy != nil}
	}
	return out
}

// ChangeAnchor lets edit change an anchor whose version the caller has read,
// and returns it as stored, with its next version. Where it is, its product,
// whether it was removed, and how and when it came into the register are not
// edit's to change. edit must be pure: it may be called more than once. Its
// error aborts the change and is returned, wrapped.
//
// A version that is no longer the stored one is fault.Stale; a value that
// cannot be right is fault.Invalid with every violation. Nothing changed:
// nothing is written, and the version stays.
func (s *Service) ChangeAnchor(ctx context.Context, who registry.Actor, id uuid.UUID, version int,
	edit func(*registry.Anchor) error,
) (registry.Anchor, error) {
	if err := may(who, ChangeAnchor); err != nil {
		return registry.Anchor{}, err
	}
	asOf, at := s.AsOf(who), s.instant()
	var stored registry.Anchor
	err := s.store.Change(ctx, who, []uuid.UUID{id}, func(all []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		facts := all[0]
		edited, err := editAnchor(facts.Anchor, version, asOf, edit)
		if err != nil {
			return registry.Change{}, err
		}
		if stored = facts.Anchor; reflect.DeepEqual(edited, facts.Anchor) {
			return registry.Change{}, nil
		}
		stored, facts.Anchor = edited, edited
		stored.Version++
		return registry.Change{
			What: "anchor changed", At: at,
			Anchors:     []registry.Anchor{edited},
			Assessments: []registry.Assessment{assess.Anchor(facts.Current(), rules, asOf)},
		}, nil
	})
	if err != nil {
		return registry.Anchor{}, fmt.Errorf("change anchor %v: %w", id, err)
	}
	return stored, nil
}

// editAnchor returns a with what edit changed, if that can be right as of asOf.
func editAnchor(a registry.Anchor, version int, asOf calendar.Date, edit func(*registry.Anchor) error) (registry.Anchor, error) {
	if a.Version != version {
		return a, fault.New(fault.Stale, "version %d was read, %d is stored", version, a.Version)
	}
	b := a
	b.Metal = slices.Clone(a.Metal)
	if err := edit(&b); err != nil {
		return a, err
	}
	b.ID, b.Version, b.SiteID, b.PositionID, b.ProductID = a.ID, a.Version, a.SiteID, a.PositionID, a.ProductID
	b.Removed, b.RemovedOn, b.Origin, b.EnteredOn = a.Removed, a.RemovedOn, a.Origin, a.EnteredOn
	var c fault.Checks
	c.Nest("", b.Validate())
	c.Nest("set_on", b.SetOn.Validate())
	c.Require(b.SetOn.To <= asOf, "set_on", fault.DateAhead, "today", asOf.String())
	return b, c.Err()
}

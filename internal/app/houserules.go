package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"rockledger/internal/assess"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// HouseRules returns the house rules in force as JSON, every table of them, and
// their version.
func (s *Service) HouseRules(ctx context.Context, who registry.Actor) (text []byte, version int, err error) {
	if err := may(who, GetHouseRules); err != nil {
		return nil, 0, err
	}
	rules, err := s.store.Rules(ctx, who.GroupID)
	if err != nil {
		return nil, 0, fmt.Errorf("read house rules: %w", err)
	}
	text, err = rules.JSON()
	return text, rules.Version, err
}

// DefaultHouseRules returns the shipped house rules as JSON.
func DefaultHouseRules() ([]byte, error) { return houserules.Default().JSON() }

// RuleChoices lists the words that a row of the house rules may hold one of; nil
// for one that holds a number or several words.
func RuleChoices(path string) []string { return houserules.Choices(path) }

// mostRulesVersions is how many versions of the house rules are listed.
const mostRulesVersions = 50

// RulesVersions lists the versions of the house rules, with who put each in
// force and when; the one in force first, at most 50. They name people, so that
// only those see them who may change the rules.
func (s *Service) RulesVersions(ctx context.Context, who registry.Actor) ([]registry.RulesVersion, error) {
	if err := mayLook(who, SetHouseRules); err != nil {
		return nil, err
	}
	list, err := s.store.RulesVersions(ctx, who.GroupID, mostRulesVersions)
	if err != nil {
		return nil, fmt.Errorf("list house rules: %w", err)
	}
	return list, nil
}

// SetHouseRules puts other house rules in force and returns their version,
// whatever version the text itself names. What is left out takes its default.
// Rules that cannot be right are fault.Invalid naming every number; a version
// that is no longer the one in force is fault.Stale. Every anchor of the group
// is then stale. The very rules in force: nothing is written, and the version
// stays.
func (s *Service) SetHouseRules(ctx context.Context, who registry.Actor, text []byte, version int) (int, error) {
	if err := may(who, SetHouseRules); err != nil {
		return 0, err
	}
	rules, err := houserules.Parse(text)
	if err != nil {
		return 0, fmt.Errorf("set house rules: %w", err)
	}
	old, err := s.store.Rules(ctx, who.GroupID)
	if err != nil {
		return 0, fmt.Errorf("set house rules: %w", err)
	}
	if old.Version != version {
		return 0, fault.New(fault.Stale, "house rules %d were read, %d are in force", version, old.Version)
	}
	kept, same, err := keptAs(rules, old)
	if err != nil || same {
		return version, err
	}
	c := registry.Change{What: "house rules changed", At: s.instant(), Rules: kept, RulesVersion: version + 1}
	if err := s.store.Write(ctx, who, c); err != nil {
		return 0, fmt.Errorf("set house rules: %w", err)
	}
	s.freshen(ctx, who)
	return version + 1, nil
}

// keptAs returns rules as they are kept after the old ones, and whether they
// say the same.
func keptAs(rules, old houserules.Rules) (text []byte, same bool, err error) {
	rules.Version = old.Version
	text, err = rules.JSON()
	if err != nil {
		return nil, false, err
	}
	before, err := old.JSON()
	if err != nil {
		return nil, false, err
	}
	if string(before) == string(text) {
		return text, true, nil
	}
	rules.Version++
	text, err = rules.JSON()
	return text, false, err
}

// PreviewHouseRules says what other house rules would change today, and stores
// nothing: it assesses every anchor under the rules in force and under those.
// Rules that cannot be right are fault.Invalid naming every number.
func (s *Service) PreviewHouseRules(ctx context.Context, who registry.Actor, text []byte) (report.RulesPreview, error) {
	var p report.RulesPreview
	if err := may(who, PreviewHouseRules); err != nil {
		return p, err
	}
	rules, err := houserules.Parse(text)
	if err != nil {
		return p, fmt.Errorf("preview house rules: %w", err)
	}
	old, err := s.store.Rules(ctx, who.GroupID)
	if err != nil {
		return p, fmt.Errorf("preview house rules: %w", err)
	}
	asOf := s.AsOf(who)
	p.Heading = report.Heading{Group: who.Group, AsOf: asOf, MadeAt: s.instant(), RulesVersion: old.Version}
	moves := make(map[report.Move]int)
	err = s.store.EachFacts(ctx, who.GroupID, func(line registry.ReportLine, facts registry.Facts) error {
		if !facts.Anchor.Removed {
			facts = facts.Current()
			now, then := assess.Anchor(facts, old, asOf), assess.Anchor(facts, rules, asOf)
			compare(&p, moves, now, then)
			if now.Standing != then.Standing || now.DueOn != then.DueOn {
				p.Moving++
				p.First = amongFirst(p.First, report.RulesMove{Line: withAssessment(line, facts.Anchor, now), Then: then})
			}
		}
		return nil
	})
	p.StandingMoves = sortedMoves(moves)
	return p, err
}

// amongFirst puts a move in its place among the first, if it is one.
func amongFirst(list []report.RulesMove, m report.RulesMove) []report.RulesMove {
	at, _ := slices.BinarySearchFunc(list, m, compareMoves)
	if at == report.MostRulesMoves {
		return list
	}
	list = slices.Insert(list, at, m)
	return list[:min(len(list), report.MostRulesMoves)]
}

// compareMoves orders what would become of anchors, by how grave it is.
func compareMoves(a, b report.RulesMove) int {
	now, other := &a.Line.Assessment, &b.Line.Assessment
	stays := func(same bool) int {
		if same {
			return 1
		}
		return 0
	}
	return cmp.Or(
		stays(now.Standing == a.Then.Standing)-stays(other.Standing == b.Then.Standing),
		cmp.Compare(b.Then.Standing.Rank(), a.Then.Standing.Rank()),
		cmp.Compare(a.Then.DueOn-now.DueOn, b.Then.DueOn-other.DueOn),
		compareIDs(now.AnchorID, other.AnchorID),
	)
}

// compare counts what becomes of one anchor.
func compare(p *report.RulesPreview, moves map[report.Move]int, now, then registry.Assessment) {
	p.Anchors++
	switch {
	case then.DueOn < now.DueOn:
		p.DueEarlier++
	case then.DueOn > now.DueOn:
		p.DueLater++
	default:
		p.Unchanged++
	}
	if now.DueState == registry.Overdue {
		p.OverdueNow++
	}
	if then.DueState == registry.Overdue {
		p.OverdueThen++
	}
	if now.Standing != then.Standing {
		moves[report.Move{From: now.Standing, To: then.Standing}]++
	}
}

func sortedMoves(moves map[report.Move]int) []report.Move {
	out := make([]report.Move, 0, len(moves))
	for m, n := range moves {
		m.Count = n
		out = append(out, m)
	}
	slices.SortFunc(out, func(a, b report.Move) int {
		return cmp.Or(cmp.Compare(b.To.Rank(), a.To.Rank()), cmp.Compare(b.From.Rank(), a.From.Rank()))
	})
	return out
}

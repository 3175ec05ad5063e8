package web

import (
	"slices"

	"github.com/labstack/echo/v4"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// rulesVersion is one version of the house rules in their list.
type rulesVersion struct {
	Version int
	Made    string   // when and by whom
	Reasons []string // why
	Changes []string // row by row
}

// rulesVersions tells the versions of the house rules, the one in force first.
// What the last one listed changed is known of the first version alone.
func (p *Pages) rulesVersions(c echo.Context, who registry.Actor) ([]rulesVersion, error) {
	list, err := p.service.RulesVersions(c.Request().Context(), who)
	if err != nil {
		return nil, err
	}
	var (
		out   []rulesVersion
		after []rulesPart // those of the version that followed
	)
	for i, v := range list {
		var w rulesWalk
		if err := w.walk(nil, nil, "", v.Text); err != nil {
			return nil, err
		}
		if i > 0 {
			out[i-1].tell(w.parts, after)
		}
		out, after = append(out, rulesVersion{Version: v.Version, Made: wording.RulesMade(v, zoneOf(who))}), w.parts
	}
	if n := len(out); n > 0 && out[n-1].Version == 1 {
		out[n-1].Reasons = []string{wording.RulesFirstVersion}
	}
	return out, nil
}

// tell says what a version changed, and why: the sources of what it changed.
func (v *rulesVersion) tell(before, after []rulesPart) {
	was, is := byPath(before), byPath(after)
	for _, r := range rowsIn(after) {
		old := was[r.Path]
		switch {
		case old == nil:
			v.Changes = append(v.Changes, wording.RuleChanged(wording.RulePath(r.Path), "", r.Value))
			continue
		case old.Value != r.Value:
			v.Changes = append(v.Changes, wording.RuleChanged(wording.RulePath(r.Path), old.Value, r.Value))
		case old.Source == r.Source:
			continue
		}
		if !slices.Contains(v.Reasons, r.Source) {
			v.Reasons = append(v.Reasons, r.Source)
		}
	}
	for _, r := range rowsIn(before) {
		if is[r.Path] == nil {
			v.Changes = append(v.Changes, wording.RuleChanged(wording.RulePath(r.Path), r.Value, ""))
		}
	}
	if v.Changes == nil && v.Reasons == nil {
		v.Reasons = []string{wording.RulesSaidTheSame}
	}
}

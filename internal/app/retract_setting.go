package app

import (
	"slices"

	"rockledger/internal/assess"
	"rockledger/internal/registry"
)

// frees says whether a retraction would take away the only record of how an
// anchor was set whose first use nobody has allowed. With the record would go
// what keeps people off it, though the anchor stands as it stood.
//
// It frees nothing where the anchor was there before that setting, set on an
// earlier day or taken over from a list: then the record may well be of another
// anchor, and without it this one stands as it did.
func (at *scene) frees(r *registry.Retraction) bool {
	now := at.facts.Current()
	after := *at.facts
	after.Retractions = append(slices.Clone(after.Retractions), *r)
	then := after.Current()
	return !now.Anchor.Removed && awaitsFirstUse(at, now) && settingsHere(&then) == nil && settingsHere(&now) != nil &&
		!slices.ContainsFunc(settingsHere(&now), func(i registry.Installation) bool { return stoodBefore(&now.Anchor, &i) })
}

// awaitsFirstUse says whether nobody has allowed an anchor's first use.
func awaitsFirstUse(at *scene, f registry.Facts) bool {
	return slices.ContainsFunc(assess.Anchor(f, at.rules, at.asOf).Findings, func(found registry.Finding) bool { return found.Rule == firstUseRule })
}

// firstUseRule is the rule that holds an anchor back until its first use.
const firstUseRule = "first-use-not-allowed"

// settingsHere lists the installations that were recorded here; nil: none.
func settingsHere(f *registry.Facts) []registry.Installation {
	var out []registry.Installation
	for _, i := range f.Installations {
		if i.Origin == registry.Recorded {
			out = append(out, i)
		}
	}
	return out
}

// stoodBefore says whether an anchor surely stood before a setting.
func stoodBefore(a *registry.Anchor, i *registry.Installation) bool {
	return a.Origin == registry.Imported || a.SetOn.Known() && a.SetOn.To < i.DoneOn.From
}

package app

import (
	"slices"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// frees says whether a retraction would leave a bonded anchor that was set here
// without any record of how, by taking away the last such record, or the word
// that allowed first use where no such record counts. With the setting would go
// what keeps people off it until its first use is allowed, and all that is in
// doubt about it, though the anchor stands as it stood. Whether it is in use, or
// out of the rock, does not matter: the first use, and the removal, may be taken
// back after.
//
// It frees nothing where the anchor was there before every setting on record, set
// on an earlier day or taken over from a list: then those may well be of another
// anchor, and without them this one stands as it did.
func (at *scene) frees(r *registry.Retraction) bool {
	now := at.facts.Current()
	after := *at.facts
	after.Retractions = append(slices.Clone(after.Retractions), *r)
	then := after.Current()
	if settingsHere(&then) != nil || !wasSetHere(at.facts) {
		return false
	}
	loses := settingsHere(&now) != nil || len(then.FirstUses) < len(now.FirstUses)
	ever := *at.facts
	ever.Retractions = nil
	return loses && (at.wantsFirstUse(now) || at.wantsFirstUse(ever.Current()))
}

// wantsFirstUse says whether an anchor would be held back until its first use if
// nobody had allowed it and it stood in the rock.
func (at *scene) wantsFirstUse(f registry.Facts) bool {
	f.FirstUses, f.Removals = nil, nil
	f.Anchor.Removed, f.Anchor.RemovedOn = false, calendar.Span{}
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

// wasSetHere says whether any installation that was ever recorded here, taken
// back or not, may be of the anchor itself.
func wasSetHere(f *registry.Facts) bool {
	return slices.ContainsFunc(settingsHere(f), func(i registry.Installation) bool { return !stoodBefore(&f.Anchor, &i) })
}

// stoodBefore says whether an anchor surely stood before a setting.
func stoodBefore(a *registry.Anchor, i *registry.Installation) bool {
	return a.Origin == registry.Imported || a.SetOn.Known() && a.SetOn.To < i.DoneOn.From
}

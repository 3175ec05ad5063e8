// Package worklist answers what an anchor asks for, going by what is held
// against it, and what to bring: which metal, form and hardware. It decides
// neither standing nor urgency, and it replaces no look at the rock.
//
// What goes with what is judgement of this project where no source is named.
package worklist

import (
	"cmp"
	"slices"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// Suiting is what may be set at a place as far as corrosion goes.
type Suiting struct {
	Metal metal.Set // any of them; empty with Open: not known
	// Open says that the place's environment must be known first.
	Open bool
}

// Item returns the work that a line's anchor asks for, with what to bring, and
// false if it asks for none: if no finding that counts weighs watch or more or
// says to plan its replacement. suits is asked only for what takes new metal.
// Neither line nor facts are modified.
func Item(line registry.ReportLine, f *registry.Facts, suits func() Suiting) (registry.WorkItem, bool) {
	item := registry.WorkItem{Line: line}
	for _, found := range line.Assessment.Findings {
		if !asks(&found) {
			continue
		}
		item.For = append(item.For, found)
		if k := kindOf(&found); item.Do == "" || k.Rank() < item.Do.Rank() {
			item.Do = k
		}
	}
	if item.Do == "" {
		return item, false
	}
	item.Bring = bring(&item, f, suits)
	return item, true
}

// planReplacement is the one rule whose notes ask for work too.
const planReplacement = "plan-replacement"

// asks says whether a finding asks for work.
func asks(f *registry.Finding) bool {
	weighs := f.Weighs()
	return weighs.Rank() >= registry.Watch.Rank() || weighs != "" && f.Rule == planReplacement
}

// kinds says what the findings of a rule ask for. One that only a replacement
// settles asks for that, and others for a close look.
var kinds = map[string]registry.WorkKind{
	planReplacement:                    registry.WorkReplace,
	"plan-replacement-place-not-known": registry.WorkReplace,
	"bond-lost":                        registry.WorkReplace,
	"anchor-turns":                     registry.WorkReplace,
	"cracked-metal":                    registry.WorkReplace,
	"verdict-take-out-of-use":          registry.WorkReplace,
	"stress-corrosion-high":            registry.WorkReplace,
	"stress-corrosion-medium":          registry.WorkReplace,
	"two-classes-short":                registry.WorkReplace,
	"coating-used-up":                  registry.WorkReplace,
	"section-lost-far":                 registry.WorkReplace,
	"kept-sample-soft":                 registry.WorkReplace,
	"loaded-before-cure":               registry.WorkReplace,
	"loaded-without-cure-time":         registry.WorkReplace,
	"hole-not-cleaned":                 registry.WorkReplace,
	"hole-flooded":                     registry.WorkReplace,
	"rock-colder-than-sheet":           registry.WorkReplace,
	"adhesive-expired":                 registry.WorkReplace,
	"verdict-repair":                   registry.WorkRepair,
	"loose-nut":                        registry.WorkRepair,
	"hanger-turns":                     registry.WorkRepair,
	"hanger-bent":                      registry.WorkRepair,
	"imported-loose-nut":               registry.WorkRepair,
	"imported-hanger-bent":             registry.WorkRepair,
	"fitting-missing":                  registry.WorkRepair,
	"mixed-metals":                     registry.WorkRepair,
	"mixed-metals-far-apart":           registry.WorkRepair,
	"worn-far":                         registry.WorkRepair,
	"worn-out":                         registry.WorkRepair,
}

func kindOf(f *registry.Finding) registry.WorkKind {
	k, ok := kinds[f.Rule]
	switch {
	case k == registry.WorkRepair && f.Values.Text("point") == "eye":
		return registry.WorkReplace // nothing else renews the anchor's own eye
	case ok:
		return k
	case f.Settles == "replacement":
		return registry.WorkReplace
	}
	return registry.WorkInspect
}

// bring lists what the work on one anchor takes.
func bring(item *registry.WorkItem, f *registry.Facts, suits func() Suiting) []registry.KitLine {
	var kit []registry.KitLine
	switch item.Do {
	case registry.WorkReplace:
		kit = replacement(f, suits())
	case registry.WorkRepair:
		for i := range item.For {
			kit = append(kit, repair(&item.For[i], f, suits)...)
		}
		if len(kit) == 0 {
			kit = []registry.KitLine{{Kind: registry.KitMending, Count: 1}}
		}
	default:
		kit = []registry.KitLine{{Kind: registry.KitTools, Count: 1}}
	}
	if item.Line.Assessment.Standing == registry.StandingOutOfUse && !f.Marked() {
		kit = append(kit, registry.KitLine{Kind: registry.KitMarking, Count: 1})
	}
	return Kit(kit)
}

// replacement is what a new anchor takes: itself, a hole, adhesive if it is
// bonded, and what hangs on it.
func replacement(f *registry.Facts, suit Suiting) []registry.KitLine {
	form := formFor(f, suit.Metal)
	kit := []registry.KitLine{
		{Kind: registry.KitAnchor, Form: form, Metal: suit.Metal, MetalOpen: suit.Open, Shank: f.Anchor.Shank, Count: 1},
		{Kind: registry.KitHole, Count: 1},
	}
	if form.Bonded() {
		kit = append(kit, registry.KitLine{Kind: registry.KitAdhesive, Count: 1})
	}
	hangs := hanging(f)
	if (form.Expansion() || form == registry.BondedStud) && !slices.Contains(hangs, registry.Hanger) {
		hangs = append(hangs, registry.Hanger)
	}
	for _, k := range hangs {
		if k == registry.Hanger && form.Bonded() && form != registry.BondedStud {
			continue // it has an eye of its own
		}
		kit = append(kit, registry.KitLine{Kind: registry.KitFitting, Fitting: k, Metal: suit.Metal, MetalOpen: suit.Open, Count: 1})
	}
	return kit
}

// hanging lists the kinds of fitting that hang on an anchor or are missing.
func hanging(f *registry.Facts) []registry.FittingKind {
	var out []registry.FittingKind
	for _, k := range f.Fittings {
		if k.EndedOn.IsZero() && (k.Presence == registry.Present || k.Presence == registry.Missing) {
			out = append(out, k.Kind)
		}
	}
	return out
}

// formFor picks the form of a new anchor: bonded like for like, expansion like
// for like in rock that is not soft and where plain stainless steel will do,
// and a single-shank glue-in for all others but one whose form is not known,
// which is chosen at the rock.
func formFor(f *registry.Facts, suits metal.Set) registry.Form {
	switch form := f.Anchor.Form; {
	case form == "" || form == registry.ExpansionBolt:
		return ""
	case form == registry.GlueIn:
		return registry.SingleShank
	case form.Bonded():
		return form
	case form.Expansion() && f.Site.Rock != registry.RockSoft && suits.Contains("1.4404"):
		return form
	}
	return registry.SingleShank
}

// repair is what putting one finding right takes.
func repair(found *registry.Finding, f *registry.Facts, suits func() Suiting) []registry.KitLine {
	switch found.Rule {
	case "loose-nut", "hanger-turns", "imported-loose-nut":
		return []registry.KitLine{{Kind: registry.KitNut, Count: 1}}
	case "hanger-bent", "imported-hanger-bent":
		return []registry.KitLine{fitting(registry.Hanger, f, suits), {Kind: registry.KitNut, Count: 1}}
	}
	part := cmp.Or(found.Values.Text("fitting"), found.Values.Text("point"))
	if k := registry.FittingKind(part); slices.Contains(registry.FittingKinds(), k) {
		return []registry.KitLine{fitting(k, f, suits)}
	}
	return nil
}

// fitting is one of the anchor's own metal, so that the two get on, where that
// is one grade that suits the place; otherwise of one that does.
func fitting(k registry.FittingKind, f *registry.Facts, suits func() Suiting) registry.KitLine {
	suit := suits()
	if g, ok := f.Anchor.Metal.Single(); ok && suit.Metal.Contains(g) {
		suit.Metal = f.Anchor.Metal
	}
	return registry.KitLine{Kind: registry.KitFitting, Fitting: k, Metal: suit.Metal, MetalOpen: suit.Open, Count: 1}
}

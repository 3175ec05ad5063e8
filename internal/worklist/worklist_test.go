package worklist_test

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/worklist"
)

var (
	plain    = worklist.Suiting{Metal: metal.NewSet("1.4404")}
	titanium = worklist.Suiting{Metal: metal.NewSet(metal.Titanium2)}
	open     = worklist.Suiting{Open: true}
)

func finding(rule string, s registry.Severity, edit ...func(*registry.Finding)) registry.Finding {
	f := registry.Finding{Rule: rule, Severity: s}
	for _, e := range edit {
		e(&f)
	}
	return f
}

func settled(f *registry.Finding) { id := uuid.New(); f.SettledBy = &id }

func of(name, text string) func(*registry.Finding) {
	return func(f *registry.Finding) { f.Values = append(f.Values, registry.Value{Name: name, Text: text}) }
}

func item(f registry.Facts, suit worklist.Suiting, found ...registry.Finding) (registry.WorkItem, bool) {
	line := registry.ReportLine{Assessment: registry.Assessment{Findings: found}}
	return worklist.Item(line, &f, func() worklist.Suiting { return suit })
}

// What asks for what is judgement of this project.
func TestItemKind(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name  string
		found []registry.Finding
		want  registry.WorkKind
		asks  bool
	}{
		{"nothing", nil, "", false},
		{"a note", []registry.Finding{finding("hole-not-recorded", registry.Note)}, "", false},
		{"a note to plan its replacement", []registry.Finding{finding("plan-replacement", registry.Note)}, registry.WorkReplace, true},
		{"that note, settled", []registry.Finding{finding("plan-replacement", registry.Note, settled)}, "", false},
		{"a loose nut", []registry.Finding{finding("loose-nut", registry.Watch)}, registry.WorkRepair, true},
		{"a loose nut, settled", []registry.Finding{finding("loose-nut", registry.Watch, settled)}, "", false},
		{"rust", []registry.Finding{finding("rust", registry.Watch)}, registry.WorkInspect, true},
		{"what only a replacement settles", []registry.Finding{finding("anything", registry.Watch, func(f *registry.Finding) { f.Settles = "replacement" })}, registry.WorkReplace, true},
		{"a ring worn far", []registry.Finding{finding("worn-far", registry.Suspect, of("point", "ring"))}, registry.WorkRepair, true},
		{"its own eye worn far", []registry.Finding{finding("worn-far", registry.Suspect, of("point", "eye"))}, registry.WorkReplace, true},
		{"the heaviest counts", []registry.Finding{finding("loose-nut", registry.Watch), finding("bond-lost", registry.OutOfUse)}, registry.WorkReplace, true},
	} {
		got, asks := item(registry.Facts{}, plain, c.found...)
		if asks != c.asks || got.Do != c.want {
			t.Errorf("%s: %q, %v; want %q, %v", c.name, got.Do, asks, c.want, c.asks)
		}
	}
}

func TestItemBrings(t *testing.T) {
	t.Parallel()
	shank := 12 * quantity.Millimetre
	anchor := func(form registry.Form, edit ...func(*registry.Facts)) registry.Facts {
		f := registry.Facts{Anchor: registry.Anchor{Form: form, Shank: &shank}}
		for _, e := range edit {
			e(&f)
		}
		return f
	}
	hangs := func(k registry.FittingKind, edit ...func(*registry.Fitting)) func(*registry.Facts) {
		return func(f *registry.Facts) {
			n := registry.Fitting{Kind: k, Presence: registry.Present}
			for _, e := range edit {
				e(&n)
			}
			f.Fittings = append(f.Fittings, n)
		}
	}
	lost, bent := finding("bond-lost", registry.OutOfUse), finding("hanger-bent", registry.Watch)
	newAnchor := func(form registry.Form, s worklist.Suiting) registry.KitLine {
		return registry.KitLine{Kind: registry.KitAnchor, Form: form, Metal: s.Metal, MetalOpen: s.Open, Shank: &shank, Count: 1}
	}
	newFitting := func(k registry.FittingKind, s worklist.Suiting) registry.KitLine {
		return registry.KitLine{Kind: registry.KitFitting, Fitting: k, Metal: s.Metal, MetalOpen: s.Open, Count: 1}
	}
	hole, glue := registry.KitLine{Kind: registry.KitHole, Count: 1}, registry.KitLine{Kind: registry.KitAdhesive, Count: 1}
	for _, c := range []struct {
		name  string
		facts registry.Facts
		suit  worklist.Suiting
		found registry.Finding
		want  []registry.KitLine
	}{
		{"a glue-in", anchor(registry.GlueIn), plain, lost, []registry.KitLine{newAnchor(registry.SingleShank, plain), glue, hole}},
		{"a glue-in with a ring", anchor(registry.SingleShank, hangs(registry.Ring)), plain, lost, []registry.KitLine{newAnchor(registry.SingleShank, plain), newFitting(registry.Ring, plain), glue, hole}},
		{"a ring taken off", anchor(registry.SingleShank, hangs(registry.Ring, func(f *registry.Fitting) { f.EndedOn = calendar.NewDate(2020, 1, 1) })), plain, lost, []registry.KitLine{newAnchor(registry.SingleShank, plain), glue, hole}},
		{"a through bolt", anchor(registry.ThroughBolt), plain, lost, []registry.KitLine{newAnchor(registry.ThroughBolt, plain), newFitting(registry.Hanger, plain), hole}},
		{"a through bolt in soft rock", anchor(registry.ThroughBolt, func(f *registry.Facts) { f.Site.Rock = registry.RockSoft }), plain, lost, []registry.KitLine{newAnchor(registry.SingleShank, plain), glue, hole}},
		{"a through bolt where only titanium will do", anchor(registry.ThroughBolt), titanium, lost, []registry.KitLine{newAnchor(registry.SingleShank, titanium), glue, hole}},
		{"a drive-in with its hanger", anchor(registry.DriveIn, hangs(registry.Hanger)), plain, lost, []registry.KitLine{newAnchor(registry.SingleShank, plain), glue, hole}},
		{"form not known, environment not known", anchor(""), open, lost, []registry.KitLine{newAnchor("", open), hole}},
		{"a bent hanger", anchor(registry.ThroughBolt), plain, bent, []registry.KitLine{newFitting(registry.Hanger, plain), {Kind: registry.KitNut, Count: 1}}},
		{"a bent hanger on a bolt of its own metal", anchor(registry.ThroughBolt, func(f *registry.Facts) { f.Anchor.Metal = metal.NewSet("1.4529") }), worklist.Suiting{Metal: metal.NewSet(metal.Titanium2, "1.4529")}, bent, []registry.KitLine{newFitting(registry.Hanger, worklist.Suiting{Metal: metal.NewSet("1.4529")}), {Kind: registry.KitNut, Count: 1}}},
		{"to be repaired, how is not said", anchor(registry.ThroughBolt), plain, finding("verdict-repair", registry.Watch), []registry.KitLine{{Kind: registry.KitMending, Count: 1}}},
		{"a worn ring", anchor(registry.SingleShank), plain, finding("worn-out", registry.OutOfUse, of("point", "ring")), []registry.KitLine{newFitting(registry.Ring, plain)}},
		{"a missing hook", anchor(registry.SingleShank), plain, finding("fitting-missing", registry.Watch, of("fitting", "lower-off-hook")), []registry.KitLine{newFitting(registry.Hook, plain)}},
		{"rust", anchor(registry.ThroughBolt), plain, finding("rust", registry.Watch), []registry.KitLine{{Kind: registry.KitTools, Count: 1}}},
	} {
		got, _ := item(c.facts, c.suit, c.found)
		if diff := cmp.Diff(c.want, got.Bring); diff != "" {
			t.Errorf("%s (-want +got):\n%s", c.name, diff)
		}
	}
}

// Something to mark it with is brought to an anchor that is out of use and not
// marked: judgement of this project.
func TestBringAMarking(t *testing.T) {
	t.Parallel()
	id := uuid.New()
	tape := registry.Marking{How: []registry.MarkingHow{registry.MarkedTape}}
	tape.ID = id
	for _, c := range []struct {
		name     string
		standing registry.Standing
		markings []registry.Marking
		want     int
	}{
		{"out of use", registry.StandingOutOfUse, nil, 1},
		{"marked", registry.StandingOutOfUse, []registry.Marking{tape}, 0},
		{"no longer marked", registry.StandingOutOfUse, []registry.Marking{tape, {Lifts: &id}}, 1},
		{"suspect", registry.StandingSuspect, nil, 0},
	} {
		line := registry.ReportLine{Assessment: registry.Assessment{
			Standing: c.standing, Findings: []registry.Finding{finding("cracked-metal", registry.OutOfUse)},
		}}
		got, _ := worklist.Item(line, &registry.Facts{Markings: c.markings}, func() worklist.Suiting { return plain })
		n := 0
		for _, k := range got.Bring {
			if k.Kind == registry.KitMarking {
				n += k.Count
			}
		}
		if n != c.want {
			t.Errorf("%s: %d to mark it with, want %d", c.name, n, c.want)
		}
	}
}

// Summing loses nothing, and each thing stands once.
func TestKit(t *testing.T) {
	t.Parallel()
	line := rapid.Custom(func(t *rapid.T) registry.KitLine {
		return registry.KitLine{
			Kind:    rapid.SampledFrom(registry.KitKinds()).Draw(t, "kind"),
			Fitting: rapid.SampledFrom([]registry.FittingKind{"", registry.Ring, registry.Hanger}).Draw(t, "fitting"),
			Metal:   rapid.SampledFrom([]metal.Set{nil, plain.Metal, titanium.Metal}).Draw(t, "metal"),
			Count:   rapid.IntRange(1, 5).Draw(t, "count"),
		}
	})
	rapid.Check(t, func(t *rapid.T) {
		lines := rapid.SliceOf(line).Draw(t, "lines")
		total := func(list []registry.KitLine) (n int) {
			for _, l := range list {
				n += l.Count
			}
			return n
		}
		kit := worklist.Kit(lines)
		if total(kit) != total(lines) {
			t.Fatalf("%d things of %d", total(kit), total(lines))
		}
		for i := range kit {
			for j := range kit[:i] {
				a, b := kit[i], kit[j]
				if a.Count, b.Count = 0, 0; cmp.Equal(a, b) {
					t.Fatalf("%+v stands twice", a)
				}
			}
		}
	})
}

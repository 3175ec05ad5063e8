package suspicion_test

import (
	"maps"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/suspicion"
)

// testCase holds one rule against facts at a place; see cases.
type testCase struct {
	rule, name string
	facts      registry.Facts
	place      registry.Exposure
	severity   registry.Severity
}

func allCases() []testCase {
	all := placeCases
	for _, c := range cases {
		all = append(all, testCase{c.rule, c.name, c.facts, inland, c.severity})
	}
	return all
}

func number(n float64) *float64 { return &n }

func mm(n quantity.Length) *quantity.Length { return &n }

func roof(form registry.Form, role registry.PositionRole) registry.Facts {
	f := recorded()
	f.Anchor.Form, f.Position.Face, f.Position.Role = form, registry.Roof, role
	if !form.Bonded() {
		f.Installations[0].BatchID = nil
	}
	return f
}

func cracking(risk, concern string) registry.Exposure {
	return registry.Exposure{Cracking: risk, Concerns: []string{"not-concerned", concern}}
}

func short(classes *float64) registry.Exposure {
	return registry.Exposure{RequiredClass: "IV", ClassesShort: classes}
}

func wastes(kind string, known bool) registry.Exposure {
	return registry.Exposure{Kinds: []string{registry.KindStainless, kind}, EnvironmentKnown: known}
}

// ring returns facts with a ring hung on the anchor.
func ring(edit ...func(*registry.Fitting)) registry.Facts {
	fitting := registry.Fitting{ID: id("ring"), Kind: registry.Ring, Presence: registry.Present, Metal: metal.NewSet("1.4404")}
	for _, e := range edit {
		e(&fitting)
	}
	return recorded(func(f *registry.Facts) { f.Fittings = append(f.Fittings, fitting) })
}

func is(p registry.Presence) func(*registry.Fitting) {
	return func(f *registry.Fitting) { f.Presence = p }
}

// salty is a place by what is said of it.
func salty(say ...func(*registry.Environment)) registry.Exposure {
	e := inland
	for _, s := range say {
		s(&e.Environment)
	}
	return e
}

func seaKm(km float64) func(*registry.Environment) {
	return func(e *registry.Environment) { e.SeaKm = &km }
}

func chloride(mg float64) func(*registry.Environment) {
	return func(e *registry.Environment) { e.Chloride = &mg }
}

func minerals(b bool) func(*registry.Environment) {
	return func(e *registry.Environment) { e.MineralSalts = &b }
}

func couple(c registry.Couple) registry.Exposure {
	return registry.Exposure{Couples: []registry.Couple{c}}
}

// worn returns facts with a ring of 10 mm of which that much was left on 2 May
// 2025.
func worn(left quantity.Length, edit ...func(*registry.Facts)) registry.Facts {
	of := id("ring")
	f := ring()
	f.Fittings[0].New = mm(10)
	here("")(&f)
	f.Inspections[0].Observations = nil
	f.Inspections[0].Measured = []registry.Measurement{{FittingID: &of, Left: left}}
	for _, e := range edit {
		e(&f)
	}
	return f
}

// again adds a full inspection that keeps the anchor and measured that much of
// the ring.
func again(on string, left quantity.Length) func(*registry.Facts) {
	of := id("ring")
	return inspected(registry.Inspection{
		Record: registry.Record{ID: id(on + "again"), DoneOn: calendar.Exactly(day(on)), Origin: registry.Recorded, RecordedAt: day(on).Time()},
		Level:  registry.Full, Verdict: registry.Keep, Ticked: true, Measured: []registry.Measurement{{FittingID: &of, Left: left}},
	})
}

func newNotKnown(f *registry.Facts) { f.Fittings[0].New = nil }

func byAList(f *registry.Facts) { f.Inspections[0].Origin = registry.Imported }

func rockfall(on string, edit ...func(*registry.Facts)) registry.Facts {
	f := recorded(edit...)
	f.Events = []registry.Event{{ID: id("event"), Kind: registry.Rockfall, HappenedOn: day(on)}}
	return f
}

// recallOf is a recall of one batch of an adhesive.
func recallOf(on string, edit ...func(*registry.Facts)) registry.Facts {
	f := recall(on, edit...)
	resin := id("resin")
	f.Notices[0].Criterion = registry.NoticeCriterion{
		BatchIDs: []uuid.UUID{id("batch")}, Products: []registry.Product{{ID: resin, Kind: registry.Adhesive}},
		Batches: []registry.Batch{{ID: id("batch"), ProductID: &resin, Text: "R1"}},
	}
	return f
}

// setting records that the anchor was set with the resin and a batch; blank: not
// recorded.
func setting(batch string) func(*registry.Facts) {
	return func(f *registry.Facts) {
		resin, delivered := id("resin"), id(batch)
		i := registry.Installation{Record: registry.Record{ID: id("set")}, Form: registry.SingleShank, AdhesiveID: &resin}
		if batch != "" {
			i.BatchID = &delivered
			f.Batches = append(f.Batches, registry.Batch{ID: delivered, ProductID: &resin, Text: batch})
		}
		f.Installations = []registry.Installation{i}
	}
}

func recall(on string, edit ...func(*registry.Facts)) registry.Facts {
	f := recorded(edit...)
	f.Notices = []registry.Notice{{ID: id("notice"), Title: "Invented recall", IssuedOn: day(on), InspectBy: day("2026-09-01")}}
	return f
}

// placeCases are those of the rules about the place, the sizes, the wear and
// the parts of an anchor, as cases. Sources: UIAA Safety Commission, notices of
// 2009 and 2015 (austenitic steels by the sea); EN 1993-1-4:2006+A1:2015, Annex A
// (classes); EN 959:2018, 4.2.7 and 4.2.8 (one material); 2 to 4 mm of room for
// resin and a hole of nominal diameter: common practice, no source; shares and
// weights: house rules.
var placeCases = []testCase{
	{"stress-corrosion-high", "matches", recorded(), cracking("high", "concerned"), registry.Suspect},
	{"stress-corrosion-high", "narrow miss: medium", recorded(), cracking("medium", "concerned"), ""},
	{"stress-corrosion-high", "no inspection lifts it", recorded(clean), cracking("high", "concerned"), registry.Suspect},
	{"stress-corrosion-high", "the sea not on record", recorded(), cracking("", "concerned"), ""},
	{"stress-corrosion-medium", "matches", recorded(), cracking("medium", "concerned"), registry.Watch},
	{"stress-corrosion-medium", "narrow miss: none", recorded(), cracking("none", "concerned"), ""},
	{"stress-corrosion-expert", "matches", recorded(), cracking("medium", "expert-needed"), registry.Watch},
	{"stress-corrosion-expert", "narrow miss: high", recorded(), cracking("high", "expert-needed"), ""},
	{"stress-corrosion-expert-high", "matches", recorded(), cracking("high", "expert-needed"), registry.Suspect},
	{"stress-corrosion-expert-high", "no inspection lifts it", recorded(clean), cracking("high", "expert-needed"), registry.Suspect},
	{"stress-corrosion-expert-high", "narrow miss: medium", recorded(), cracking("medium", "expert-needed"), ""},
	{"stress-corrosion-expert-high", "narrow miss: not concerned", recorded(), cracking("high", "not-concerned"), ""},
	{"stress-corrosion-expert-high", "the sea not on record", recorded(), cracking("", "expert-needed"), ""},

	{"tea-staining-by-the-sea", "the sea at 1 km", recorded(here(registry.TeaStaining)), salty(seaKm(1)), registry.Suspect},
	{"tea-staining-by-the-sea", "narrow miss: farther", recorded(here(registry.TeaStaining)), salty(seaKm(1.01)), ""},
	{"tea-staining-by-the-sea", "salinity of S2", recorded(here(registry.TeaStaining)), salty(chloride(60.1)), registry.Suspect},
	{"tea-staining-by-the-sea", "narrow miss: S1", recorded(here(registry.TeaStaining)), salty(chloride(60)), ""},
	{"tea-staining-by-the-sea", "mineral salts", recorded(here(registry.TeaStaining)), salty(minerals(true)), registry.Suspect},
	{"tea-staining-by-the-sea", "whatever else is not known", recorded(site(""), here(registry.TeaStaining)), salty(minerals(true)), registry.Suspect},
	{"tea-staining-by-the-sea", "narrow miss: none", recorded(here(registry.TeaStaining)), salty(minerals(false)), ""},
	{"tea-staining", "all known, none salty", recorded(here(registry.TeaStaining)), salty(seaKm(1.01), chloride(60), minerals(false)), registry.Note},
	{"tea-staining", "narrow miss: the sea at 1 km", recorded(here(registry.TeaStaining)), salty(seaKm(1)), ""},
	{"tea-staining", "narrow miss: S2", recorded(here(registry.TeaStaining)), salty(chloride(60.1)), ""},
	{"tea-staining", "narrow miss: mineral salts", recorded(here(registry.TeaStaining)), salty(minerals(true)), ""},
	{"stress-corrosion-expert", "narrow miss: none", recorded(), cracking("none", "expert-needed"), ""},
	{"stress-corrosion-expert", "narrow miss: not concerned", recorded(), cracking("high", "not-concerned"), ""},
	{"one-class-short", "matches", recorded(), short(number(1)), registry.Watch},
	{"one-class-short", "narrow miss: of the class", recorded(), short(number(0)), ""},
	{"one-class-short", "narrow miss: two", recorded(), short(number(2)), ""},
	{"two-classes-short", "matches", recorded(), short(number(2)), registry.Suspect},
	{"two-classes-short", "narrow miss: one", recorded(), short(number(1)), ""},
	{"two-classes-short", "class not known", recorded(), short(nil), ""},
	{"plan-replacement", "can be coated steel", recorded(), wastes(registry.KindCoatedSteel, true), registry.Watch},
	{"plan-replacement", "aluminium", recorded(), wastes(registry.KindAluminium, true), registry.Watch},
	{"plan-replacement", "narrow miss: titanium", recorded(), wastes(registry.KindTitanium, true), ""},
	{"plan-replacement", "narrow miss: place not known", recorded(), wastes(registry.KindBareSteel, false), ""},
	{"plan-replacement-place-not-known", "matches", recorded(), wastes(registry.KindBareSteel, false), registry.Note},
	{"plan-replacement-place-not-known", "narrow miss: known", recorded(), wastes(registry.KindBareSteel, true), ""},
	{"coating-used-up", "matches from that day on", recorded(), registry.Exposure{CoatingGoneOn: asOf}, registry.Watch},
	{"coating-used-up", "narrow miss: tomorrow", recorded(), registry.Exposure{CoatingGoneOn: asOf + 1}, ""},
	{"section-lost", "matches", recorded(), registry.Exposure{SectionWatchOn: asOf, SectionSuspectOn: asOf + 1}, registry.Watch},
	{"section-lost", "the rest is centuries away", recorded(), registry.Exposure{SectionWatchOn: asOf}, registry.Watch},
	{"section-lost", "narrow miss: tomorrow", recorded(), registry.Exposure{SectionWatchOn: asOf + 1, SectionSuspectOn: asOf + 2}, ""},
	{"section-lost", "narrow miss: far", recorded(), registry.Exposure{SectionWatchOn: asOf - 1, SectionSuspectOn: asOf}, ""},
	{"section-lost-far", "matches", recorded(), registry.Exposure{SectionWatchOn: asOf - 1, SectionSuspectOn: asOf}, registry.Suspect},
	{"section-lost-far", "narrow miss: tomorrow", recorded(), registry.Exposure{SectionSuspectOn: asOf + 1}, ""},
	{"section-lost-far", "not known", recorded(), registry.Exposure{}, ""},
	{"service-life-passed", "matches", recorded(), registry.Exposure{ServiceEndsOn: asOf}, registry.Note},
	{"service-life-passed", "narrow miss: tomorrow", recorded(), registry.Exposure{ServiceEndsOn: asOf + 1}, ""},

	{"sustained-load", "a runner", roof(registry.Staple, registry.Runner), inland, registry.Note},
	{"sustained-load", "role not known", roof(registry.Staple, ""), inland, registry.Note},
	{"sustained-load", "narrow miss: constant hang", roof(registry.Staple, registry.Rebelay), inland, ""},
	{"sustained-load", "narrow miss: not bonded", roof(registry.ThroughBolt, registry.Runner), inland, ""},
	{"sustained-load", "form not known", roof("", ""), inland, registry.Note},
	{"sustained-load", "face not known", recorded(), inland, ""},
	{"sustained-load-hang", "matches", roof(registry.Staple, registry.Rebelay), inland, registry.Watch},
	{"sustained-load-hang", "form not known", roof("", registry.MainHang), inland, registry.Watch},
	{"sustained-load-hang", "narrow miss: a runner", roof(registry.Staple, registry.Runner), inland, ""},

	{"worn", "a tenth", worn(9), inland, registry.Watch},
	{"worn", "narrow miss", worn(9.01), inland, ""},
	{"worn", "narrow miss: far", worn(8.5), inland, ""},
	{"worn", "how thick it was is not known", worn(1, newNotKnown), inland, ""},
	{"worn-far", "matches", worn(8.5), inland, registry.Suspect},
	{"worn-far", "narrow miss", worn(8.51), inland, ""},
	{"worn-far", "a thicker reading since lifts nothing", worn(8.5, again("2026-05-02", 9.9)), inland, registry.Suspect},
	{"worn-far", "how thick it was is not known", worn(1, newNotKnown), inland, ""},
	{"worn-out", "a quarter", worn(7.5), inland, registry.OutOfUse},
	{"worn-out", "a list never puts out of use", worn(7.5, byAList), inland, registry.Suspect},
	{"worn-out", "no inspection lifts it", worn(7.5, clean), inland, registry.OutOfUse},
	{"worn-out", "nor does a thicker reading", worn(7.5, again("2026-05-02", 9.9)), inland, registry.OutOfUse},
	{"worn-out", "a list's thinner one hides no recorded one", worn(7, byAList, again("2026-05-02", 7.5)), inland, registry.OutOfUse},
	{"worn-out", "narrow miss", worn(7.51), inland, ""},
	{"worn-out", "narrow miss: taken off since", worn(7.5, func(f *registry.Facts) { f.Fittings[0].EndedOn = asOf }), inland, ""},
	{"worn-out", "how thick it was is not known", worn(1, newNotKnown), inland, ""},
	{"new-size-not-recorded", "matches", worn(9, newNotKnown), inland, registry.Note},
	{"new-size-not-recorded", "narrow miss: recorded", worn(9), inland, ""},

	{"fitting-missing", "matches", ring(is(registry.Missing)), inland, registry.Watch},
	{"fitting-missing", "narrow miss: left off on purpose", ring(is(registry.LeftOff)), inland, ""},
	{"mixed-metals", "matches", ring(), couple(registry.MixedMetals), registry.Note},
	{"mixed-metals", "narrow miss: far apart", ring(), couple(registry.FarApart), ""},
	{"mixed-metals", "metal not known", ring(), couple(""), ""},
	{"mixed-metals-far-apart", "matches", ring(), couple(registry.FarApart), registry.Watch},
	{"mixed-metals-far-apart", "narrow miss: mixed", ring(), couple(registry.MixedMetals), ""},

	{"event-outstanding", "matches", rockfall("2026-05-02"), inland, registry.Watch},
	{"event-outstanding", "narrow miss: inspected since", rockfall("2026-05-01", clean), inland, ""},
	{"event-outstanding", "a glance is not enough", rockfall("2026-05-01", glanced), inland, registry.Watch},
	{"event-outstanding", "nothing happened", recorded(), inland, ""},
	{"notice-outstanding", "matches", recall("2026-05-02"), inland, registry.Watch},
	{"notice-outstanding", "narrow miss: inspected since", recall("2026-05-01", clean), inland, ""},
	{"notice-hit-sure", "matches", recallOf("2026-05-02", setting("batch")), inland, registry.Suspect},
	{"notice-hit-sure", "narrow miss: another batch", recallOf("2026-05-02", setting("other")), inland, ""},
	{"notice-hit-sure", "narrow miss: inspected since", recallOf("2026-05-01", setting("batch"), clean), inland, ""},
	{"notice-hit-sure", "batch not recorded", recallOf("2026-05-02", setting("")), inland, ""},
	{"notice-hit-possible", "matches: batch not recorded", recallOf("2026-05-02", setting("")), inland, registry.Watch},
	{"notice-hit-possible", "narrow miss: batch recorded", recallOf("2026-05-02", setting("batch")), inland, ""},
	{"notice-hit-possible", "narrow miss: inspected since", recallOf("2026-05-01", setting(""), clean), inland, ""},
}

func TestEachPartHasItsFinding(t *testing.T) {
	t.Parallel()
	of := id("chain")
	f := worn(9)
	f.Fittings = append(f.Fittings, registry.Fitting{ID: of, Kind: registry.Chain, Presence: registry.Present, New: mm(8)})
	f.Inspections[0].Measured = append(f.Inspections[0].Measured, registry.Measurement{FittingID: &of, Left: 7.2})
	var got []string
	for _, finding := range hold(f).Findings {
		got = append(got, finding.Rule+" "+finding.Values.Text("point"))
	}
	if d := cmp.Diff([]string{"worn chain", "worn ring"}, got); d != "" {
		t.Errorf("findings (-want +got):\n%s", d)
	}
}

func TestAGroupWeighsAFinding(t *testing.T) {
	t.Parallel()
	own := house
	own.Findings = maps.Clone(house.Findings)
	own.Findings["rust"] = houserules.Word{Value: string(registry.Suspect), Source: "our own"}
	f := recorded(here(registry.Rust))
	if got := suspicion.Shipped().Anchor(&f, &inland, &own, asOf).Findings[0].Severity; got != registry.Suspect {
		t.Errorf("severity = %v, want the group's own", got)
	}
}

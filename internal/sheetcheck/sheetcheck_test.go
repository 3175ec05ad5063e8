package sheetcheck_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
)

// cases hold each rule against a setting. "matches" wants the rule with that
// severity, the others want it absent (blank). Sources, beside those that the
// rules name: EN 959:2018, 4.2.6, for 70 mm and five times the hole; the table of
// anchors of the reference for a 10 mm shank in holes of 12.7 and 10 mm and four
// rounds of cleaning: common practice, no source; severities, 150 mm and 100 mm:
// the shipped house rules.
var cases = []struct {
	rule     string
	name     string
	facts    registry.Facts
	severity registry.Severity
}{
	{"hole-too-narrow", "matches: 10 mm in 10 mm", sizes(registry.SingleShank, 10, 10), registry.Note},
	{"hole-too-narrow", "matches", sizes(registry.SingleShank, 11.9, 10), registry.Note},
	{"hole-too-narrow", "narrow miss: 2 mm", sizes(registry.SingleShank, 12, 10), ""},
	{"hole-too-narrow", "narrow miss: 10 mm in half an inch", sizes(registry.SingleShank, 12.7, 10), ""},
	{"hole-too-narrow", "shank not known", sizes(registry.SingleShank, 8, 0), ""},
	{"hole-too-narrow", "the maker's hole goes first", whole(set(func(i *registry.Installation) { i.HoleDiameter = mm(11) }),
		hardware(func(v *registry.ProductVersion) { v.Hole = mm(11) })), ""},
	{"hole-too-wide", "matches", sizes(registry.SingleShank, 14.1, 10), registry.Note},
	{"hole-too-wide", "narrow miss: 4 mm", sizes(registry.SingleShank, 14, 10), ""},
	{"hole-too-wide", "narrow miss: 10 mm in half an inch", sizes(registry.SingleShank, 12.7, 10), ""},
	{"hole-too-wide", "narrow miss: a twisted leg is the maker's", sizes(registry.TwistedLeg, 20, 10), ""},
	{"hole-not-nominal", "too wide", sizes(registry.ThroughBolt, 12.7, 12), registry.Note},
	{"hole-not-nominal", "too narrow", sizes(registry.WedgeAnchor, 9, 10), registry.Note},
	{"hole-not-nominal", "narrow miss: nominal", sizes(registry.ThroughBolt, 12, 12), ""},
	{"hole-not-nominal", "narrow miss: the sleeve's is wider", sizes(registry.SleeveAnchor, 14, 10), ""},
	{"hole-not-nominal", "shank not known", sizes(registry.ThroughBolt, 12, 0), ""},
	{"hole-narrower-than-sheet", "matches", whole(hardware(func(v *registry.ProductVersion) { v.Hole = mm(14) })), registry.Watch},
	{"hole-narrower-than-sheet", "narrow miss", whole(hardware(func(v *registry.ProductVersion) { v.Hole = mm(12.5) })), ""},
	{"hole-narrower-than-sheet", "no sheet", whole(), ""},
	{"hole-narrower-than-sheet", "the sheet came later", whole(hardware(func(v *registry.ProductVersion) {
		v.Hole, v.From = mm(14), day("2025-06-02")
	})), ""},
	{"hole-wider-than-sheet", "matches", whole(hardware(func(v *registry.ProductVersion) { v.Hole = mm(11) })), registry.Note},
	{"hole-wider-than-sheet", "narrow miss", whole(hardware(func(v *registry.ProductVersion) { v.Hole = mm(11.5) })), ""},
	{"hole-no-annulus", "10 mm in 10 mm", sizes(registry.SingleShank, 10, 10), registry.Watch},
	{"hole-no-annulus", "form not known", sizes("", 10, 10), registry.Watch},
	{"hole-no-annulus", "shape not known, 10 mm in 10 mm", sizes(registry.GlueIn, 10, 10), registry.Watch},
	{"hole-no-annulus", "a staple's leg", sizes(registry.Staple, 10, 10), registry.Watch},
	{"hole-no-annulus", "a twisted leg", sizes(registry.TwistedLeg, 10, 10), registry.Watch},
	{"hole-no-annulus", "a stud", sizes(registry.BondedStud, 10, 10), registry.Watch},
	{"hole-no-annulus", "a bolt that was glued in", whole(func(f *registry.Facts) {
		f.Anchor.Form, f.Installations[0].HoleDiameter = registry.ThroughBolt, mm(10)
	}), registry.Watch},
	{"hole-no-annulus", "narrow miss: 10 mm in half an inch, shape not known", sizes(registry.GlueIn, 12.7, 10), ""},
	{"hole-no-annulus", "narrow miss: 10 mm in half an inch, a staple", sizes(registry.Staple, 12.7, 10), ""},
	{"hole-too-narrow", "shape not known", sizes(registry.GlueIn, 11, 10), registry.Note},
	{"hole-narrower-than-sheet", "a staple's", whole(form(registry.Staple), hardware(func(v *registry.ProductVersion) { v.Hole = mm(14) })), registry.Watch},
	{"hole-no-annulus", "narrow miss", sizes(registry.SingleShank, 10.1, 10), ""},
	{"hole-no-annulus", "narrow miss: a bolt fills its hole", sizes(registry.ThroughBolt, 10, 10), ""},

	{"embedded-too-short", "matches", embedded(registry.SingleShank, 69, 12), registry.Watch},
	{"embedded-too-short", "form not known", embedded("", 69, 12), registry.Watch},
	{"embedded-too-short", "narrow miss", embedded(registry.SingleShank, 70, 12), ""},
	{"embedded-too-short", "not known", embedded(registry.SingleShank, 0, 12), ""},
	{"embedded-too-short", "no deeper than its hole", whole(set(func(i *registry.Installation) {
		i.Embedded, i.HoleDepth = nil, mm(65)
	})), registry.Watch},
	{"embedded-too-short", "no deeper than it is long", whole(set(func(i *registry.Installation) { i.Embedded = nil }),
		func(f *registry.Facts) { f.Anchor.Length = mm(60) }), registry.Watch},
	{"embedded-too-short-mechanical", "matches", embedded(registry.ThroughBolt, 49.9, 10), registry.Watch},
	{"embedded-too-short-mechanical", "narrow miss", embedded(registry.ThroughBolt, 50, 10), ""},
	{"embedded-too-short-mechanical", "narrow miss: a self-drilling sleeve is made so", embedded(registry.SelfDrillSleeve, 30, 12), ""},
	{"embedded-too-short-mechanical", "not known", embedded(registry.ThroughBolt, 0, 10), ""},
	{"embedded-short-of-sheet", "matches", whole(hardware(func(v *registry.ProductVersion) { v.Embedded = mm(101) })), registry.Watch},
	{"embedded-short-of-sheet", "narrow miss", whole(hardware(func(v *registry.ProductVersion) { v.Embedded = mm(100) })), ""},
	{"embedded-too-short", "recorded, but the hole is not as deep", whole(set(func(i *registry.Installation) {
		i.Embedded, i.HoleDepth = mm(100), mm(65)
	})), registry.Watch},
	{"embedded-short-of-sheet", "recorded, but the hole is not as deep", whole(set(func(i *registry.Installation) { i.HoleDepth = mm(80) }),
		hardware(func(v *registry.ProductVersion) { v.Embedded = mm(90) })), registry.Watch},
	{"embedded-deeper-than-hole", "matches", whole(set(func(i *registry.Installation) { i.HoleDepth = mm(99) })), registry.Note},
	{"embedded-deeper-than-hole", "narrow miss", whole(set(func(i *registry.Installation) { i.HoleDepth = mm(100) })), ""},
	{"embedded-deeper-than-hole", "not known", whole(set(func(i *registry.Installation) { i.Embedded = nil })), ""},
	{"soft-rock", "recorded, but the hole is not as deep", whole(set(func(i *registry.Installation) {
		i.Rock, i.Embedded, i.HoleDepth = registry.RockSoft, mm(120), mm(90)
	})), registry.Watch},
	{"soft-rock", "matches", whole(set(func(i *registry.Installation) { i.Rock, i.Embedded = registry.RockSoft, mm(99) })), registry.Watch},
	{"soft-rock", "how deep is not known", whole(set(func(i *registry.Installation) { i.Rock, i.Embedded = registry.RockSoft, nil })), registry.Watch},
	{"soft-rock", "the site's rock", whole(set(func(i *registry.Installation) { i.Embedded = mm(90) }),
		func(f *registry.Facts) { f.Site.Rock = registry.RockSoft }), registry.Watch},
	{"soft-rock", "narrow miss", whole(set(func(i *registry.Installation) { i.Rock = registry.RockSoft })), ""},
	{"soft-rock", "rock not known", whole(set(func(i *registry.Installation) { i.Embedded = mm(80) }),
		func(f *registry.Facts) { f.Site.Rock = "" }), ""},

	{"cleaning-short-of-sheet", "matches", whole(set(func(i *registry.Installation) { i.CleaningCycles = ptr(3) })), registry.Watch},
	{"cleaning-short-of-sheet", "narrow miss", whole(), ""},
	{"cleaning-short-of-sheet", "not known", whole(set(func(i *registry.Installation) { i.CleaningCycles = nil })), ""},
	{"cleaning-few", "matches", whole(noSheet, set(func(i *registry.Installation) { i.CleaningCycles = ptr(3) })), registry.Note},
	{"cleaning-few", "narrow miss: four", whole(noSheet), ""},
	{"cleaning-few", "narrow miss: the sheet's goes first", whole(
		sheet(func(v *registry.ProductVersion) { v.CleaningCycles = ptr(2) }),
		set(func(i *registry.Installation) { i.CleaningCycles = ptr(2) })), ""},
	{"cleaning-few", "narrow miss: not bonded", whole(form(registry.ThroughBolt), set(func(i *registry.Installation) { i.CleaningCycles = ptr(1) })), ""},
	{"hole-not-cleaned", "matches", whole(set(func(i *registry.Installation) { i.CleaningCycles = ptr(0) })), registry.Suspect},
	{"hole-not-cleaned", "narrow miss", whole(set(func(i *registry.Installation) { i.CleaningCycles = ptr(1) })), ""},
	{"hole-not-cleaned", "not known", whole(set(func(i *registry.Installation) { i.CleaningCycles = nil })), ""},
	{"hole-flooded", "matches", whole(set(func(i *registry.Installation) { i.Moisture = registry.WaterFilled })), registry.Suspect},
	{"hole-flooded", "running in, no sheet", whole(noSheet, set(func(i *registry.Installation) { i.Moisture = registry.RunningIn })), registry.Suspect},
	{"hole-flooded", "narrow miss: the sheet names it", whole(
		sheet(func(v *registry.ProductVersion) { v.Moistures = []registry.Moisture{registry.WaterFilled} }),
		set(func(i *registry.Installation) { i.Moisture = registry.WaterFilled })), ""},
	{"hole-flooded", "narrow miss: saturated", whole(set(func(i *registry.Installation) { i.Moisture = registry.Saturated })), ""},
	{"hole-flooded", "not known", whole(set(func(i *registry.Installation) { i.Moisture = "" })), ""},
	{"moisture-against-sheet", "matches", whole(
		sheet(func(v *registry.ProductVersion) { v.Moistures = []registry.Moisture{registry.HoleDry} }),
		set(func(i *registry.Installation) { i.Moisture = registry.HoleDamp })), registry.Watch},
	{"moisture-against-sheet", "narrow miss: it is named", whole(
		sheet(func(v *registry.ProductVersion) { v.Moistures = []registry.Moisture{registry.HoleDamp} }),
		set(func(i *registry.Installation) { i.Moisture = registry.HoleDamp })), ""},
	{"moisture-against-sheet", "the sheet names none", whole(set(func(i *registry.Installation) { i.Moisture = registry.HoleDamp })), ""},

	{"rock-colder-than-sheet", "in the night", whole(session(func(s *registry.GluingSession) { s.NightC = measured(4.9) })), registry.Suspect},
	{"rock-colder-than-sheet", "as found later", whole(cured(func(u *registry.Cure) { u.LowestC = measured(2) })), registry.Suspect},
	{"rock-colder-than-sheet", "the sheet's own bound", whole(sheet(func(v *registry.ProductVersion) { v.RockLowC = degrees(9) })), registry.Suspect},
	{"rock-colder-than-sheet", "narrow miss", whole(session(func(s *registry.GluingSession) { s.NightC = measured(5) })), ""},
	{"rock-colder-than-sheet", "not known", whole(session(func(s *registry.GluingSession) { s.NightC, s.RockC = nil, nil })), ""},
	{"rock-warmer-than-sheet", "matches", whole(session(func(s *registry.GluingSession) { s.RockC = measured(19.5) })), registry.Watch},
	{"rock-warmer-than-sheet", "narrow miss", whole(session(func(s *registry.GluingSession) { s.RockC = measured(19) })), ""},
	{"cartridge-temperature", "cold", whole(session(func(s *registry.GluingSession) { s.CartridgeC = measured(4) })), registry.Watch},
	{"cartridge-temperature", "hot", whole(session(func(s *registry.GluingSession) { s.CartridgeC = measured(36) })), registry.Watch},
	{"cartridge-temperature", "narrow miss", whole(session(func(s *registry.GluingSession) { s.CartridgeC = measured(5) })), ""},
	{"cartridge-temperature", "not known", whole(session(func(s *registry.GluingSession) { s.CartridgeC = nil })), ""},

	{"adhesive-expired", "by the cartridge", whole(session(func(s *registry.GluingSession) { s.ExpiresOn = day("2025-05-31") })), registry.Suspect},
	{"adhesive-expired", "by the batch", whole(batch("2025-05-31")), registry.Suspect},
	{"adhesive-expired", "narrow miss: that very day", whole(session(func(s *registry.GluingSession) { s.ExpiresOn = day("2025-06-01") })), ""},
	{"adhesive-expired", "not known", whole(session(func(s *registry.GluingSession) { s.ExpiresOn = 0 })), ""},
	{"adhesive-perhaps-expired", "matches", whole(batch("2025-06-10"), sometimeInJune), registry.Watch},
	{"adhesive-perhaps-expired", "narrow miss: the last day", whole(batch("2025-06-30"), sometimeInJune), ""},
	{"adhesive-perhaps-expired", "narrow miss: surely", whole(batch("2025-05-31"), sometimeInJune), ""},

	{"edge-near", "matches", whole(set(func(i *registry.Installation) { i.EdgeDistance = mm(149) })), registry.Watch},
	{"edge-near", "narrow miss", whole(set(func(i *registry.Installation) { i.EdgeDistance = mm(150) })), ""},
	{"edge-near", "not known", whole(set(func(i *registry.Installation) { i.EdgeDistance = nil })), ""},
	{"neighbour-near", "matches", whole(set(func(i *registry.Installation) { i.NeighbourDistance = mm(149) })), registry.Watch},
	{"neighbour-near", "an old hole", whole(set(func(i *registry.Installation) { i.OldHoleDistance = mm(40) })), registry.Watch},
	{"neighbour-near", "narrow miss", whole(set(func(i *registry.Installation) { i.NeighbourDistance = mm(150) })), ""},
	{"edge-near", "narrow miss: the sheet's goes first", whole(sheetOf(100, 0, 0), set(func(i *registry.Installation) { i.EdgeDistance = mm(120) })), ""},
	{"edge-nearer-than-sheet", "matches", whole(sheetOf(301, 0, 0)), registry.Watch},
	{"edge-nearer-than-sheet", "narrow miss", whole(sheetOf(300, 0, 0)), ""},
	{"neighbour-near", "narrow miss: the sheet's goes first", whole(sheetOf(0, 100, 0), set(func(i *registry.Installation) { i.NeighbourDistance = mm(120) })), ""},
	{"neighbour-near", "the sheet's edge says nothing of it", whole(sheetOf(100, 0, 0), set(func(i *registry.Installation) { i.NeighbourDistance = mm(120) })), registry.Watch},
	{"neighbour-nearer-than-sheet", "matches", whole(sheetOf(0, 301, 0)), registry.Watch},
	{"neighbour-nearer-than-sheet", "an old hole", whole(sheetOf(0, 200, 0), set(func(i *registry.Installation) { i.OldHoleDistance = mm(199) })), registry.Watch},
	{"neighbour-nearer-than-sheet", "narrow miss", whole(sheetOf(0, 300, 0)), ""},
	{"torque-off-sheet", "too little", whole(form(registry.ThroughBolt), sheetOf(0, 0, 25), torque(19.9)), registry.Note},
	{"torque-off-sheet", "too much", whole(form(registry.ThroughBolt), sheetOf(0, 0, 25), torque(30.1)), registry.Note},
	{"torque-off-sheet", "narrow miss: a fifth below", whole(form(registry.ThroughBolt), sheetOf(0, 0, 25), torque(20)), ""},
	{"torque-off-sheet", "narrow miss: a fifth above", whole(form(registry.ThroughBolt), sheetOf(0, 0, 25), torque(30)), ""},
	{"torque-off-sheet", "not known", whole(form(registry.ThroughBolt), sheetOf(0, 0, 25)), ""},
	{"rock-hollow-when-set", "matches", whole(set(func(i *registry.Installation) { i.RockSound = registry.Hollow })), registry.Watch},
	{"rock-hollow-when-set", "narrow miss", whole(set(func(i *registry.Installation) { i.RockSound = registry.Dull })), ""},
	{"kept-sample-soft", "matches", whole(session(func(s *registry.GluingSession) {
		s.SampleFound, s.SampleFoundOn = registry.SampleSoft, day("2025-06-02")
	})), registry.Suspect},
	{"kept-sample-soft", "narrow miss: hard", whole(session(func(s *registry.GluingSession) {
		s.SampleFound, s.SampleFoundOn = registry.SampleHard, day("2025-06-02")
	})), ""},
	{"kept-sample-soft", "not known", whole(), ""},
	{"cracks-when-set", "matches", whole(set(func(i *registry.Installation) { i.CracksSeen = ptr(true) })), registry.Watch},
	{"cracks-when-set", "narrow miss", whole(), ""},

	{"loaded-before-cure", "two hours after 14:00", whole(loaded("2025-06-01 15:59")), registry.Suspect},
	{"loaded-before-cure", "first use allowed too early", whole(allowed("2025-06-01", "15:00")), registry.Suspect},
	{"loaded-before-cure", "by the label", whole(noSheet, label(200, degrees(5)), loaded("2025-06-01 17:00")), registry.Suspect},
	{"loaded-before-cure", "narrow miss", whole(loaded("2025-06-01 16:00")), ""},
	{"loaded-before-cure", "some time of a day that ended before it had cured", whole(damp, london, setLate, allowed("2025-06-01", "")), registry.Suspect},
	{"loaded-before-cure", "narrow miss: some time that day", whole(allowed("2025-06-01", "")), ""},
	{"loaded-before-cure", "no time to go by", whole(noSheet, loaded("2025-06-01 14:01")), ""},
	{"loaded-before-cure", "when is not known", whole(), ""},
	{"loaded-perhaps-before-cure", "some time that day", whole(london, allowed("2025-06-01", "")), registry.Note},
	{"loaded-perhaps-before-cure", "a minute of that day left", whole(london, label(539, nil), allowed("2025-06-01", "")), registry.Note},
	{"loaded-perhaps-before-cure", "the day has just begun", whole(london, label(9*60+1, nil), allowed("2025-06-02", "")), registry.Note},
	{"loaded-perhaps-before-cure", "zone not known", whole(allowed("2025-06-02", "")), registry.Note},
	{"loaded-perhaps-before-cure", "narrow miss: cured as the day begins", whole(london, label(9*60, nil), allowed("2025-06-02", "")), ""},
	{"loaded-perhaps-before-cure", "narrow miss: the next day", whole(london, allowed("2025-06-02", "")), ""},
	{"loaded-perhaps-before-cure", "narrow miss: surely", whole(london, allowed("2025-06-01", "15:59")), ""},
	{"loaded-perhaps-before-cure", "narrow miss: of an earlier setting", whole(london, allowed("2025-05-31", "")), ""},
	{"loaded-perhaps-before-cure", "when is not known", whole(london), ""},
	{"loaded-without-cure-time", "no sheet and no label", whole(noSheet, loaded("2025-06-01 15:00")), registry.Suspect},
	{"loaded-without-cure-time", "form not known", whole(noSheet, loaded("2025-06-01 15:00"), func(f *registry.Facts) { f.Anchor.Form = "" }), registry.Suspect},
	{"loaded-without-cure-time", "the adhesive was corrected away", whole(loaded("2025-06-20 15:00"), set(func(i *registry.Installation) { i.AdhesiveID = nil })), registry.Suspect},
	{"loaded-without-cure-time", "narrow miss: the label gives one", whole(noSheet, label(90, degrees(5)), loaded("2025-06-01 15:00")), ""},
	{"loaded-without-cure-time", "narrow miss: first use, not a load", whole(noSheet, allowed("2025-06-02", "")), ""},
	{"loaded-without-cure-time", "narrow miss: a bolt", whole(form(registry.ThroughBolt), noSheet, loaded("2025-06-01 15:00")), ""},
	{"loaded-without-cure-time", "narrow miss: a list's setting", whole(listed, noSheet, loaded("2025-06-01 15:00")), ""},
	{"loaded-without-cure-time", "when is not known", whole(noSheet), ""},
	{"used-without-cure-time", "no sheet and no label", whole(noSheet, allowed("2025-06-02", "")), registry.Watch},
	{"used-without-cure-time", "a first use without a day", whole(noSheet, allowed("2025-06-02", ""), func(f *registry.Facts) {
		f.FirstUses[0].DoneOn = calendar.Span{}
	}), registry.Watch},
	{"used-without-cure-time", "narrow miss: there is a time", whole(allowed("2025-06-02", "")), ""},
	{"used-without-cure-time", "narrow miss: of an earlier setting", whole(noSheet, allowed("2025-05-31", "")), ""},
	{"used-without-cure-time", "narrow miss: a list's setting", whole(listed, noSheet, allowed("2025-06-02", "")), ""},
	{"used-without-cure-time", "not in use", whole(noSheet), ""},
	{"setting-gaps", "matches", whole(set(func(i *registry.Installation) { i.Moisture = "" })), registry.Note},
	{"setting-gaps", "narrow miss", whole(), ""},
	{"setting-gaps", "narrow miss: a list is not asked", whole(listed, set(func(i *registry.Installation) { i.Moisture = "" })), ""},
}

// batch names a batch with a day of expiry, later than the cartridge's.
func batch(expires string) func(*registry.Facts) {
	return func(f *registry.Facts) {
		b := id("batch")
		f.Installations[0].BatchID = &b
		f.Batches = append(f.Batches, registry.Batch{ID: b, Text: "invented", ExpiresOn: day(expires)})
	}
}

func sometimeInJune(f *registry.Facts) {
	f.Installations[0].DoneOn.To = day("2025-06-30")
}

func severityOf(b *sheetcheck.Book, f registry.Facts, rule string) registry.Severity {
	for _, finding := range b.Check(&f, &house, asOf) {
		if finding.Rule == rule {
			return finding.Severity
		}
	}
	return ""
}

func TestCheck(t *testing.T) {
	t.Parallel()
	for _, c := range cases {
		if got := severityOf(sheetcheck.Shipped(), c.facts, c.rule); got != c.severity {
			t.Errorf("%s, %s: severity = %q, want %q", c.rule, c.name, got, c.severity)
		}
	}
}

func shippedRules(t *testing.T) (ids []string, raw []json.RawMessage) {
	t.Helper()
	if err := json.Unmarshal(sheetcheck.Source(), &raw); err != nil {
		t.Fatal(err)
	}
	for _, r := range raw {
		var named struct{ ID string }
		if err := json.Unmarshal(r, &named); err != nil {
			t.Fatal(err)
		}
		ids = append(ids, named.ID)
	}
	return ids, raw
}

// Each suspect rule has a case that matches, one that narrowly does not and one
// with the fact not known; every rule has the first two; and no rule can be
// dropped without a case that notices.
func TestEveryRuleHasItsCases(t *testing.T) {
	t.Parallel()
	ids, raw := shippedRules(t)
	for k, id := range ids {
		data, err := json.Marshal(slices.Delete(slices.Clone(raw), k, k+1))
		if err != nil {
			t.Fatal(err)
		}
		without, err := sheetcheck.Load(data)
		if err != nil {
			t.Fatalf("Load without %s = %v", id, err)
		}
		matches, misses, severe, noticed := 0, 0, false, false
		for _, c := range cases {
			if c.rule != id {
				continue
			}
			noticed = noticed || severityOf(without, c.facts, c.rule) != c.severity
			if c.severity == "" {
				misses++
				continue
			}
			matches++
			severe = severe || c.severity.Rank() >= registry.Suspect.Rank()
		}
		if matches == 0 || misses == 0 || severe && matches+misses < 3 || !noticed {
			t.Errorf("rule %s has %d matching cases and %d misses; noticed when dropped: %v", id, matches, misses, noticed)
		}
	}
}

func TestNothingAgainstAWholeSetting(t *testing.T) {
	t.Parallel()
	f := whole()
	if got := sheetcheck.Check(&f, &house, asOf); len(got) > 0 {
		t.Errorf("Check = %+v, want nothing", got)
	}
	f.Installations = nil
	if got := sheetcheck.Check(&f, &house, asOf); len(got) > 0 {
		t.Errorf("Check without an installation = %+v, want nothing", got)
	}
}

// What a list says of sizes is a note, whatever the rule (design: findings that
// rest on imported sizes are notes).
func TestAListNeverWeighsMoreThanANote(t *testing.T) {
	t.Parallel()
	for _, c := range cases {
		f := c.facts
		f.Installations = slices.Clone(f.Installations)
		listed(&f)
		for _, finding := range sheetcheck.Check(&f, &house, asOf) {
			if finding.Severity != registry.Note {
				t.Errorf("%s, %s: %s weighs %s on the word of a list", c.rule, c.name, finding.Rule, finding.Severity)
			}
		}
	}
}

func TestAFindingSaysWhatItRestsOn(t *testing.T) {
	t.Parallel()
	f := whole(loaded("2025-06-01 15:59"))
	got := sheetcheck.Check(&f, &house, asOf)
	record := id("installation")
	want := []registry.Finding{{
		Rule: "loaded-before-cure", Severity: registry.Suspect, RecordID: &record, Settles: "set-anew",
		Source: "the product's sheet of that day, or its label as read",
		Values: registry.Values{
			{Name: "loaded_at", Text: "2025-06-01T15:59:00Z"},
			{Name: "not_before", Text: "2025-06-01T16:00:00Z"},
			{Name: "record_id", Text: record.String()},
		},
	}}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("Check (-want +got):\n%s", d)
	}
}

// Gaps are one note, in the order of the card.
func TestGapsAreOneNote(t *testing.T) {
	t.Parallel()
	f := whole(noSheet, func(f *registry.Facts) { f.Sessions = nil }, set(func(i *registry.Installation) {
		*i = registry.Installation{Record: i.Record}
	}))
	got := sheetcheck.Check(&f, &house, asOf)
	want := "hole_depth embedded_length cleaning_cycles moisture set_at adhesive expires_on rock_temperature " +
		"cartridge_temperature sample_kept lowest_temperature cure_time"
	if len(got) != 1 || got[0].Rule != "setting-gaps" || got[0].Values.Text("gaps") != want {
		t.Errorf("Check = %+v, want one note of %q", got, want)
	}
	f = whole(form(registry.ThroughBolt), set(func(i *registry.Installation) { i.Embedded, i.HoleDiameter = nil, mm(10) }))
	if got := sheetcheck.Check(&f, &house, asOf); len(got) != 1 || got[0].Values.Text("gaps") != "embedded_length" {
		t.Errorf("Check of a bolt = %+v, want one note of its length", got)
	}
}

// A settlement answers the finding with its values and no other.
func TestSettlement(t *testing.T) {
	t.Parallel()
	f := whole(loaded("2025-06-01 15:59"))
	found := sheetcheck.Check(&f, &house, asOf)[0]
	s := registry.Settlement{Record: registry.Record{ID: id("settlement")}, Rule: found.Rule, Values: found.Values}
	f.Settlements = []registry.Settlement{s}
	if got := sheetcheck.Check(&f, &house, asOf)[0].SettledBy; got == nil || *got != s.ID {
		t.Errorf("settled by %v, want %v", got, s.ID)
	}
	loaded("2025-06-01 15:30")(&f)
	if got := sheetcheck.Check(&f, &house, asOf)[0].SettledBy; got != nil {
		t.Errorf("loaded earlier still, and settled by %v", got)
	}
}

func TestLoadRejects(t *testing.T) {
	t.Parallel()
	if _, err := sheetcheck.Load([]byte(`[{"id": "x"}]`)); err == nil {
		t.Error("Load of half a rule = nil, want an error")
	}
}

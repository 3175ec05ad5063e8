package wording_test

import (
	"encoding/json"
	"strings"
	"testing"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
	"rockledger/internal/suspicion"
	"rockledger/internal/wording"
)

func kind(k registry.SiteKind) func(*registry.Facts) {
	return func(f *registry.Facts) { f.Site.Kind = k }
}

func grade(g ...metal.Grade) func(*registry.Facts) {
	return func(f *registry.Facts) { f.Anchor.Metal = metal.NewSet(g...) }
}

func place(edit func(*registry.Environment)) func(*registry.Facts) {
	var e registry.Environment
	edit(&e)
	return func(f *registry.Facts) { f.Environments = append(f.Environments, e) }
}

func mm(l quantity.Length) *quantity.Length { return &l }

func coated(f *registry.Facts) {
	f.Anchor.Shank = mm(10)
	place(func(e *registry.Environment) { e.ZincCategory, e.SteelCategory = "C3", "C3" })(f)
	grade(metal.SteelElectroplated)(f)
}

// worn is a ring of which 8.6 mm of 10 mm are left.
func worn(f *registry.Facts) {
	ring := registry.Fitting{ID: [16]byte{1}, Kind: registry.Ring, Presence: registry.Present, New: mm(10), SetOn: calendar.Exactly(day("2020-05-02"))}
	f.Fittings = append(f.Fittings, ring)
	i := registry.Inspection{
		Record: registry.Record{DoneOn: calendar.Exactly(day("2027-05-02")), Origin: registry.Recorded}, Level: registry.HandsOn, Ticked: true,
		Measured: []registry.Measurement{{FittingID: &ring.ID, Left: 8.6}},
	}
	f.Inspections = append(f.Inspections, i)
}

func stained(f *registry.Facts) {
	i := registry.Inspection{
		Record: registry.Record{ID: [16]byte{7}, DoneOn: calendar.Exactly(day("2027-05-02")), Origin: registry.Recorded}, Level: registry.HandsOn,
		Observations: []registry.Observation{registry.TeaStaining}, Ticked: true,
	}
	f.Inspections = append(f.Inspections, i)
}

func TestFindingsOfThePlaceAndTheWear(t *testing.T) {
	t.Parallel()
	near, yes := 0.3, true
	tests := []struct {
		rule  string
		facts registry.Facts
		want  string
	}{
		{
			"stress-corrosion-high", facts(kind(registry.SeaCliff)),
			"High risk of stress-corrosion cracking: it sits on a sea cliff, whether rain washes it is not known, how hot it gets is not known. No inspection can rule cracks out in stainless steel 1.4404 (316L).",
		},
		{
			"stress-corrosion-medium", facts(place(func(e *registry.Environment) { e.SeaKm, e.Washed = &near, &yes })),
			"Some risk of stress-corrosion cracking: the sea is 0.3 km away, rain washes it, how hot it gets is not known. No inspection can rule cracks out in stainless steel 1.4404 (316L).",
		},
		{
			"stress-corrosion-expert-high", facts(kind(registry.SeaCliff), grade("1.4462")),
			"High risk of stress-corrosion cracking: it sits on a sea cliff, whether rain washes it is not known, how hot it gets is not known. Of stainless steel 1.4462 (2205) tests do not agree, or none are known: an expert must say.",
		},
		{
			"stress-corrosion-expert", facts(grade("1.4462"), place(func(e *registry.Environment) { e.SeaKm, e.Washed = &near, &yes })),
			"Some risk of stress-corrosion cracking: the sea is 0.3 km away, rain washes it, how hot it gets is not known. Of stainless steel 1.4462 (2205) tests do not agree, or none are known: an expert must say.",
		},
		{
			"tea-staining-by-the-sea", facts(stained, place(func(e *registry.Environment) { e.MineralSalts = &yes })),
			"Tea staining, seen hands-on on 2 May 2027: corrosion has begun, and chlorides are at work (mineral salts reach it).",
		},
		{
			"two-classes-short", facts(kind(registry.SeaCliff)),
			"Its place asks for stainless steel of corrosion resistance class V; what it is or may be (stainless steel 1.4404 (316L)) is two or more classes short: plan its replacement.",
		},
		{
			"plan-replacement", facts(kind(registry.Cave), grade("1.4404", metal.SteelElectroplated)),
			"It is or may be carbon steel, zinc electroplated, which wastes away outdoors and underground: plan its replacement.",
		},
		{
			"coating-used-up", facts(coated),
			"At the fastest rate of its place (C3, medium) its zinc was used up by 19 October 1999; in the hole it is taken to be gone from the first day.",
		},
		{
			"section-lost-far", facts(coated),
			"At the fastest rate of its place (C3, medium) the exposed part of its shank of 10 mm lost so much by 26 December 2016 that it is suspect. What is in the hole cannot be judged so.",
		},
		{"worn", facts(worn), "The ring is worn: 8.6 mm of 10 mm were left, measured on 2 May 2027."},
		{
			"event-outstanding", facts(func(f *registry.Facts) {
				f.Events = []registry.Event{{Kind: registry.HardFrost, HappenedOn: day("2027-01-10")}}
			}),
			"Hard frost at the site on 10 January 2027: nobody has inspected it hands-on since.",
		},
		{
			"notice-outstanding", facts(func(f *registry.Facts) {
				f.Notices = []registry.Notice{{Title: "Invented recall", IssuedOn: day("2027-01-10"), InspectBy: day("2027-07-01")}}
			}),
			"The notice “Invented recall” of 10 January 2027 names it, and nobody has inspected it hands-on since.",
		},
	}
	for _, test := range tests {
		got := ""
		for _, f := range assess.Anchor(test.facts, houserules.Default(), day("2027-06-01")).Findings {
			if f.Rule == test.rule {
				got = wording.Finding(f)
			}
		}
		if got != test.want {
			t.Errorf("%s =\n%s\nwant\n%s", test.rule, got, test.want)
		}
	}
}

func TestCandidatesOfThePlaceAndTheWear(t *testing.T) {
	t.Parallel()
	flood := registry.Event{Kind: registry.Flood, HappenedOn: day("2027-05-02"), Closed: true}
	dated := flood
	dated.Closed, dated.InspectBy = false, day("2027-05-20")
	tests := []struct {
		rule  string
		facts registry.Facts
		want  string
	}{
		{
			"event", facts(func(f *registry.Facts) { f.Events = []registry.Event{flood} }),
			"Inspect by 1 June 2027: flood at the site on 2 May 2027, after which everything there is inspected within 30 days (default of this project); the site is closed until then.",
		},
		{
			"event", facts(func(f *registry.Facts) { f.Events = []registry.Event{dated} }),
			"Inspect by 20 May 2027: flood at the site on 2 May 2027, and a steward set this date.",
		},
		{
			"notice", facts(func(f *registry.Facts) {
				f.Notices = []registry.Notice{{Title: "Invented recall", IssuedOn: day("2027-01-10"), InspectBy: day("2027-07-01")}}
			}),
			"Inspect by 1 July 2027: the notice “Invented recall” of 10 January 2027 asks for it.",
		},
		{
			"wear", facts(worn),
			"Inspect by 1 August 2027: the ring had 8.6 mm of 10 mm left on 2 May 2027 and, if it goes on wearing like that, loses 15 % by then (default of this project); only one measurement says how fast it wears.",
		},
		{
			"coating", facts(coated),
			"Inspect by 19 October 1999: its zinc is used up no later than then, at the fastest rate of its place (C3, medium) (ISO 9223:2012 and ISO 9224:2012, upper bound).",
		},
		{
			"fitting", facts(worn, func(f *registry.Facts) { f.Position.Role = registry.LowerOff }),
			"Inspect by 2 May 2028: a rope runs over its ring, last inspected so on 2 May 2027; on a route whose traffic is not known it is looked at every 12 months (default of this project).",
		},
		{
			"interval", facts(worn, kind(registry.Cave), grade(metal.SteelElectroplated)),
			"Inspect by 2 November 2027: last inspected hands-on on 2 May 2027; zinc-coated carbon steel in a cave that drips, or of which no more is known (caves lie outside the model of ISO 9223) is looked at every 6 months (default of this project).",
		},
	}
	for _, test := range tests {
		got := ""
		for _, c := range assess.Anchor(test.facts, houserules.Default(), day("2027-06-01")).Candidates {
			if c.Rule == test.rule && got == "" {
				got = wording.Candidate(c)
			}
		}
		if got != test.want {
			t.Errorf("%s =\n%s\nwant\n%s", test.rule, got, test.want)
		}
	}
}

func TestCandidateOfADuty(t *testing.T) {
	t.Parallel()
	r := houserules.Default()
	r.Duty = houserules.Word{Value: houserules.DutyRopeAccess, Source: "our own"}
	want := "Inspect by 2 December 1997: anchors of this group serve rope access, in place since the anchor was set on 2 June 1997; they are inspected in full every 6 months (practice of rope access, borrowed from the workplace)."
	for _, c := range assess.Anchor(facts(), r, day("2027-06-01")).Candidates {
		if got := wording.Candidate(c); c.Rule == "duty" && got != want {
			t.Errorf("Candidate =\n%s\nwant\n%s", got, want)
		}
	}
}

// shippedRule is what these tests read of a rule.
type shippedRule struct {
	ID, Settles string
	Values      []string
}

// shippedRules returns the rules of every package that makes findings.
func shippedRules(t *testing.T) []shippedRule {
	t.Helper()
	var all []shippedRule
	for _, source := range [][]byte{suspicion.Source(), sheetcheck.Source()} {
		var rules []shippedRule
		if err := json.Unmarshal(source, &rules); err != nil {
			t.Fatal(err)
		}
		all = append(all, rules...)
	}
	return all
}

// Every finding that a settlement may answer says so, and no other.
func TestSettlesNamesASettlement(t *testing.T) {
	t.Parallel()
	for _, r := range shippedRules(t) {
		text := wording.Settles(registry.Finding{Rule: r.ID, Settles: r.Settles})
		if said := strings.Contains(text, "a named person settles it with a reason"); said != suspicion.Settleable(r.ID) {
			t.Errorf("Settles(%s) = %q, and it is settleable: %v", r.ID, text, suspicion.Settleable(r.ID))
		}
	}
}

// What names the record, fitting, event or notice is for matching: no sentence
// prints it.
func TestNoSentencePrintsAnID(t *testing.T) {
	t.Parallel()
	const hidden = "6f1c0000-0000-4000-8000-000000000001"
	for _, r := range shippedRules(t) {
		var values registry.Values
		for _, name := range r.Values {
			values = append(values, registry.Value{Name: name, Text: map[bool]string{true: hidden, false: "x"}[strings.HasSuffix(name, "_id")]})
		}
		if text := wording.Finding(registry.Finding{Rule: r.ID, Values: values}); strings.Contains(text, hidden) {
			t.Errorf("Finding(%s) = %q, want no id", r.ID, text)
		}
	}
}

// Where the sea is no distance away, no distance is given.
func TestSeaAtNoDistance(t *testing.T) {
	t.Parallel()
	for km, want := range map[string]string{"0": "the sea is right there", "0.3": "the sea is 0.3 km away"} {
		f := registry.Finding{Rule: "stress-corrosion-medium", Values: registry.Values{{Name: "sea_km", Text: km}, {Name: "grades", Text: "1.4404"}}}
		if got := wording.Finding(f); !strings.Contains(got, want) {
			t.Errorf("sea_km %s reads %q, want %q in it", km, got, want)
		}
	}
}

package suspicion_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
	"rockledger/internal/suspicion"
)

// severityOf returns the severity that a rule's finding has, blank without one.
func severityOf(b *suspicion.Book, f registry.Facts, place registry.Exposure, rule string) registry.Severity {
	for _, finding := range b.Anchor(&f, &place, &house, asOf).Findings {
		if finding.Rule == rule {
			return finding.Severity
		}
	}
	return ""
}

var (
	house = houserules.Default()
	asOf  = day("2026-06-01")
	// inland is a place that holds nothing against a metal.
	inland = registry.Exposure{EnvironmentKnown: true, Kinds: []string{registry.KindStainless}}
)

// hold holds the shipped rules against an anchor inland.
func hold(f registry.Facts) suspicion.Held {
	return suspicion.Shipped().Anchor(&f, &inland, &house, asOf)
}

func TestAnchor(t *testing.T) {
	t.Parallel()
	for _, c := range allCases() {
		if got := severityOf(suspicion.Shipped(), c.facts, c.place, c.rule); got != c.severity {
			t.Errorf("%s, %s: severity = %q, want %q", c.rule, c.name, got, c.severity)
		}
	}
}

// shippedRules returns the rules one by one, as they stand in the file.
func shippedRules(t *testing.T) (ids []string, raw []json.RawMessage) {
	t.Helper()
	return rulesIn(t, suspicion.Source())
}

func rulesIn(t *testing.T, source []byte) (ids []string, raw []json.RawMessage) {
	t.Helper()
	if err := json.Unmarshal(source, &raw); err != nil {
		t.Fatal(err)
	}
	for _, r := range raw {
		var named struct {
			ID string `json:"id"`
		}
		if err := json.Unmarshal(r, &named); err != nil {
			t.Fatal(err)
		}
		ids = append(ids, named.ID)
	}
	return ids, raw
}

func TestDroppingAnyRuleIsNoticed(t *testing.T) {
	t.Parallel()
	ids, raw := shippedRules(t)
	for i, id := range ids {
		data, err := json.Marshal(slices.Delete(slices.Clone(raw), i, i+1))
		if err != nil {
			t.Fatal(err)
		}
		book, err := suspicion.Load(data)
		if err != nil {
			t.Fatalf("Load without %s = %v", id, err)
		}
		noticed := false
		for _, c := range allCases() {
			noticed = noticed || severityOf(book, c.facts, c.place, c.rule) != c.severity
		}
		if !noticed {
			t.Errorf("no case fails without the rule %s", id)
		}
	}
}

// Each suspect rule has a case that matches, one that narrowly does not, and
// one with the fact not known; every rule has the first two.
func TestEveryRuleHasItsCases(t *testing.T) {
	t.Parallel()
	ids, _ := shippedRules(t)
	for _, id := range ids {
		matches, misses, severe := 0, 0, false
		for _, c := range allCases() {
			if c.rule == id && c.severity != "" {
				matches++
				severe = severe || c.severity.Rank() >= registry.Suspect.Rank()
			}
			if c.rule == id && c.severity == "" {
				misses++
			}
		}
		if matches == 0 || misses == 0 || severe && matches+misses < 3 {
			t.Errorf("rule %s has %d matching cases and %d misses", id, matches, misses)
		}
	}
}

func TestHouseRulesNameEverySeverityThatIsTheirs(t *testing.T) {
	t.Parallel()
	ids, raw := shippedRules(t)
	more, rawMore := rulesIn(t, sheetcheck.Source())
	ids, raw = append(ids, more...), append(raw, rawMore...)
	var byHouse []string
	for i, id := range ids {
		var r struct {
			Severity string `json:"severity"`
		}
		if err := json.Unmarshal(raw[i], &r); err != nil {
			t.Fatal(err)
		}
		if r.Severity == "house-rules" {
			byHouse = append(byHouse, id)
		}
	}
	var named []string
	for id := range house.Severities {
		named = append(named, id)
	}
	for id := range house.Findings {
		named = append(named, id)
	}
	slices.Sort(byHouse)
	slices.Sort(named)
	if d := cmp.Diff(byHouse, named); d != "" {
		t.Errorf("rules whose severity is the house rules' (-rules.json +default.json):\n%s", d)
	}
}

func TestNothingAgainstAnAnchorWithEverythingRecorded(t *testing.T) {
	t.Parallel()
	if got := hold(recorded(clean)); len(got.Findings) > 0 || len(got.Forced) > 0 {
		t.Errorf("Anchor = %+v, want nothing", got)
	}
}

func TestOneFindingOfTheLatestRecordForEachRule(t *testing.T) {
	t.Parallel()
	f := recorded(
		saw("2024-05-02", registry.Recorded, registry.HandsOn, registry.Rust),
		saw("2026-05-02", registry.Recorded, registry.HandsOn, registry.Rust, registry.CrackedRock),
		saw("2025-05-02", registry.Recorded, registry.HandsOn, registry.Rust),
	)
	got := hold(f).Findings
	latest := id("2026-05-02hands-on")
	values := registry.Values{{Name: "seen_on", Text: "2026-05-02"}, {Name: "seen_level", Text: "hands-on"}, {Name: "record_id", Text: latest.String()}}
	const source, settles = "judgement of this project", "inspection-not-lower"
	want := []registry.Finding{
		{Rule: "cracked-rock", Severity: registry.Suspect, Values: values, Source: source, Settles: settles, RecordID: &latest},
		{Rule: "rust", Severity: registry.Watch, Values: values, Source: source, Settles: settles, RecordID: &latest},
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("Findings (-want +got):\n%s", d)
	}
}

func TestForcedStandings(t *testing.T) {
	t.Parallel()
	f := recorded(missed("2025-01-01"), func(f *registry.Facts) { f.FirstUses = nil })
	got := hold(f).Forced
	slices.Sort(got)
	want := []registry.Standing{registry.NotInUseYet, registry.StandingNotLocated}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("Forced (-want +got):\n%s", d)
	}
}

func TestAListNeverWeighsMoreThanSuspect(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		f := recorded(form(rapid.SampledFrom(append(registry.Forms(), "")).Draw(t, "form")))
		f.Site.Kind = rapid.SampledFrom(registry.SiteKinds()).Draw(t, "site")
		for _, o := range rapid.SliceOf(rapid.SampledFrom(registry.Observations())).Draw(t, "seen") {
			listed(o)(&f)
		}
		decided("2019-05-02", registry.TakeOutOfUse)(&f)
		f.Inspections[len(f.Inspections)-1].Origin = registry.Imported
		for _, finding := range hold(f).Findings {
			if finding.Severity == registry.OutOfUse {
				t.Fatalf("finding %s weighs %s on the word of a list", finding.Rule, finding.Severity)
			}
		}
	})
}

func TestLoadRejects(t *testing.T) {
	t.Parallel()
	if _, err := suspicion.Load([]byte(`[{"id": "x"}]`)); err == nil {
		t.Error("Load of half a rule = nil, want an error")
	}
}

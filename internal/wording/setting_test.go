package wording_test

import (
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
	"rockledger/internal/wording"
)

func TestEveryReasonForNoCureTimeHasItsSentence(t *testing.T) {
	t.Parallel()
	other := wording.CureMissing("no such word")
	for _, word := range sheetcheck.Missings() {
		if got := wording.CureMissing(word); got == other {
			t.Errorf("CureMissing(%q) = %q, want a sentence of its own", word, got)
		}
	}
}

func TestEveryGapHasItsWords(t *testing.T) {
	t.Parallel()
	for _, word := range sheetcheck.Gaps() {
		if got := wording.SettingGap(word); got == strings.ReplaceAll(word, "_", " ") {
			t.Errorf("SettingGap(%q) = %q, want words of its own", word, got)
		}
	}
}

func TestFindingsOfASetting(t *testing.T) {
	t.Parallel()
	tests := []struct {
		rule   string
		values registry.Values
		want   string
	}{
		{
			"loaded-before-cure",
			registry.Values{{Name: "loaded_at", Text: "2025-06-01T15:59:00Z"}, {Name: "not_before", Text: "2025-06-02T14:00:00Z"}},
			"It was loaded, or use was allowed, on 1 June 2025 at 15:59 UTC; by what is on record it had cured no sooner than on 2 June 2025 at 14:00 UTC. That does not pass with time.",
		},
		{
			"loaded-without-cure-time",
			registry.Values{{Name: "load_recorded_at", Text: "2025-06-01T15:00:00Z"}},
			"It was loaded on 1 June 2025 at 15:00 UTC, and by what is on record no cure time can be given: nothing says that it had cured. That does not pass with time.",
		},
		{
			"used-without-cure-time",
			registry.Values{},
			"Its first use was allowed, and by what is on record no cure time can be given: nothing says that it had cured.",
		},
		{
			"setting-gaps",
			registry.Values{{Name: "gaps", Text: "moisture set_at cure_time"}},
			"Not recorded of its setting: how wet the hole was, at what time it was set, how long it must cure, by a sheet or its label.",
		},
		{
			"cleaning-few",
			registry.Values{{Name: "cleaning_cycles", Text: "1"}},
			"Its hole was blown and brushed once; at least four times is usual, and what its sheet asks for is not recorded.",
		},
		{
			"cartridge-temperature",
			registry.Values{{Name: "cartridge_c", Text: "4"}, {Name: "sheet_cartridge_low_c", Text: "5"}},
			"The cartridge had 4 °C, outside what the product's sheet allows (at least 5 °C).",
		},
		{
			"neighbour-near",
			registry.Values{{Name: "old_hole_distance_mm", Text: "40"}, {Name: "least_spacing_mm", Text: "150"}},
			"An old hole is 40 mm away; the house rules ask for 150 mm.",
		},
		{
			"soft-rock",
			registry.Values{{Name: "soft_rock_embedded_mm", Text: "100"}},
			"The rock is soft, where a longer anchor can be needed; an unknown length of it sits in it, and the house rules ask for 100 mm.",
		},
		{
			"adhesive-expired",
			registry.Values{{Name: "expires_on", Text: "2025-05-31"}, {Name: "installed_on", Text: "2025-06-01"}, {Name: "installed_until", Text: "2025-06-01"}},
			"Its adhesive had expired on 31 May 2025, before it was set on 1 June 2025.",
		},
	}
	for _, test := range tests {
		if got := wording.Finding(registry.Finding{Rule: test.rule, Values: test.values}); got != test.want {
			t.Errorf("%s =\n%s\nwant\n%s", test.rule, got, test.want)
		}
	}
}

func TestALineOfAnotherAdhesive(t *testing.T) {
	t.Parallel()
	got := wording.Fault(fault.Mismatch, map[string]string{
		"with": "session_adhesive", "batch_product": "Resin A", "session_product": "Resin B",
	})
	want := "This batch is of “Resin A”, and the session names “Resin B”. Name the adhesive of this line too if it was the batch's; otherwise correct batch or session."
	if got != want {
		t.Errorf("Fault =\n%s\nwant\n%s", got, want)
	}
}

func TestFirstUseRefused(t *testing.T) {
	t.Parallel()
	got := wording.Fault(fault.CureNotOver, map[string]string{"not_before": "2025-06-01T16:00:00Z"})
	want := "By what is on record it has cured no sooner than on 1 June 2025 at 16:00 UTC. Allow first use after that and say at what time, or correct when it was set."
	if got != want {
		t.Errorf("Fault =\n%s\nwant\n%s", got, want)
	}
	got = wording.Fault(fault.CureNotKnown, map[string]string{"missing": sheetcheck.NoSheet})
	if !strings.Contains(got, "Read the label, and record what it says.") {
		t.Errorf("Fault = %s, want the label named", got)
	}
}

package suspicion_test

import (
	"encoding/json"
	"slices"
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/suspicion"
)

// did adds a record of maintenance.
func did(on string, what ...registry.Upkeep) func(*registry.Facts) {
	m := registry.Maintenance{Record: registry.Record{ID: id("maintained " + on), DoneOn: calendar.Exactly(day(on)), Origin: registry.Recorded}, Done: what}
	return func(f *registry.Facts) { f.Maintenance = append(f.Maintenance, m) }
}

// Every rule has a row of what settles it, and every row a rule.
func TestEveryRuleHasARowOfWhatSettlesIt(t *testing.T) {
	t.Parallel()
	var rules []struct{ ID string }
	if err := json.Unmarshal(suspicion.Source(), &rules); err != nil {
		t.Fatal(err)
	}
	table := houserules.Default().SettledBy
	for _, r := range rules {
		row, ok := table[r.ID]
		answered := slices.Contains(row.Value, houserules.BySettlement) || slices.Contains(row.Value, houserules.ByExpert)
		if !ok || answered != suspicion.Settleable(r.ID) {
			t.Errorf("%s: %v, want a row that names a person's answer: %v", r.ID, row.Value, suspicion.Settleable(r.ID))
		}
	}
	if len(table) != len(rules) {
		t.Errorf("%d rows for %d rules", len(table), len(rules))
	}
}

// A loose nut and a turning hanger are settled by maintenance (design); what
// else is not is judgement of this project.
func TestMaintenanceSettles(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name string
		edit []func(*registry.Facts)
		want bool // settled
	}{
		{"nut tightened later", []func(*registry.Facts){here(registry.LooseNut), did("2025-06-01", registry.Tightened)}, true},
		{"nut tightened that day", []func(*registry.Facts){here(registry.LooseNut), did("2025-05-02", registry.Tightened)}, true},
		{"nut tightened before", []func(*registry.Facts){here(registry.LooseNut), did("2025-05-01", registry.Tightened)}, false},
		{"hanger renewed", []func(*registry.Facts){here(registry.HangerTurns), did("2025-06-01", registry.Cleaned, registry.FittingRenewed)}, true},
		{"nut by a list, tightened since", []func(*registry.Facts){listed(registry.LooseNut), did("2020-06-02", registry.Tightened)}, true},
		{"nut by a list, tightened before that", []func(*registry.Facts){listed(registry.LooseNut), did("2019-05-01", registry.Tightened)}, false},
		{"only cleaned", []func(*registry.Facts){here(registry.LooseNut), did("2025-06-01", registry.Cleaned)}, false},
		{"rust cleaned off", []func(*registry.Facts){here(registry.Rust), did("2025-06-01", registry.Cleaned)}, false},
		{"cracked metal", []func(*registry.Facts){here(registry.CrackedMetal), did("2025-06-01", registry.Upkeeps()...)}, false},
		{"a lost bond", []func(*registry.Facts){here(registry.AnchorTurns), did("2025-06-01", registry.Upkeeps()...)}, false},
		{"condemned", []func(*registry.Facts){decided("2025-05-02", registry.TakeOutOfUse), did("2025-06-01", registry.Upkeeps()...)}, false},
		{"to be repaired", []func(*registry.Facts){decided("2025-05-02", registry.Repair), did("2025-06-01", registry.Upkeeps()...)}, false},
	} {
		f := recorded(append([]func(*registry.Facts){form(registry.ThroughBolt)}, test.edit...)...)
		if test.name == "a lost bond" {
			f.Anchor.Form = registry.SingleShank
		}
		held := open(f, "seen_on")
		held = slices.DeleteFunc(held, func(s string) bool { return s == "form-doubted note 2025-05-02" })
		if got := len(held) == 0; got != test.want {
			t.Errorf("%s: open %v, want settled %v", test.name, held, test.want)
		}
	}
}

func TestSettlesNamesTheMaintenance(t *testing.T) {
	t.Parallel()
	f := recorded(form(registry.ThroughBolt), here(registry.LooseNut))
	if got, want := hold(f).Findings[0].Settles, "inspection-not-lower+tightened+fitting-renewed"; got != want {
		t.Errorf("settles %q, want %q", got, want)
	}
}

package houserules_test

import (
	"encoding/json"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

// edited returns the default rules with one row of what settles what.
func edited(t *testing.T, rule string, kinds ...any) map[string]any {
	t.Helper()
	data, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	var tree map[string]any
	if err := json.Unmarshal(data, &tree); err != nil {
		t.Fatal(err)
	}
	tree["settled_by"].(map[string]any)[rule] = map[string]any{"value": kinds, "source": "the group's own"}
	return tree
}

// What no house rule may say is judgement of this project.
func TestParseRejectsWhatSettles(t *testing.T) {
	t.Parallel()
	for _, test := range []struct {
		name, rule string
		kinds      []any
		want       []string
	}{
		{"no such kind", "loose-nut", []any{"hands-on", "prayer", "replacement", "settlement"}, []string{"settled_by.loose-nut.value unknown"}},
		{"a number", "loose-nut", []any{1, "replacement", "settlement"}, []string{"settled_by.loose-nut.value unknown"}},
		{"no such rule", "loose-screw", []any{"hands-on"}, []string{"settled_by.loose-screw unknown"}},
		{"said twice", "loose-nut", []any{"replacement", "settlement", "settlement"}, []string{"settled_by.loose-nut.value duplicate"}},
		{"a person's answer taken away", "loose-nut", []any{"hands-on", "replacement"}, []string{"settled_by.loose-nut.value required"}},
		{"maintenance lifts a verdict", "verdict-take-out-of-use", []any{"tightened", "replacement", "settlement"}, []string{"settled_by.verdict-take-out-of-use.value not-allowed"}},
		{"maintenance lifts a repair", "verdict-repair", []any{"fitting-renewed", "replacement", "settlement"}, []string{"settled_by.verdict-repair.value not-allowed"}},
		{"a glance lifts rust", "rust", []any{"glance", "replacement", "settlement"}, []string{"settled_by.rust.value not-allowed"}},
		{"an inspection rules cracks out", "stress-corrosion-high", []any{"full", "replacement", "expert"}, []string{"settled_by.stress-corrosion-high.value not-allowed"}},
		{"an inspection brings a bond back", "bond-lost", []any{"full", "replacement", "settlement"}, []string{"settled_by.bond-lost.value not-allowed"}},
		{"cleaning cures cracked metal", "cracked-metal", []any{"cleaned", "replacement", "settlement"}, []string{"settled_by.cracked-metal.value not-allowed"}},
	} {
		data, err := json.Marshal(edited(t, test.rule, test.kinds...))
		if err != nil {
			t.Fatal(err)
		}
		_, err = houserules.Parse(data)
		if d := cmp.Diff(test.want, violations(err)); d != "" {
			t.Errorf("%s: violations (-want +got):\n%s", test.name, d)
		}
	}
}

// Rules stored before the table existed, and those that lack a row, are
// completed.
func TestWhatSettlesIsCompleted(t *testing.T) {
	t.Parallel()
	tree := edited(t, "loose-nut", "full", "replacement", "settlement")
	delete(tree["settled_by"].(map[string]any), "rust")
	r := parse(t, tree)
	if !slices.Equal(r.Completed, []string{"settled_by.rust"}) || len(r.SettledBy["rust"].Value) == 0 || r.SettledBy["loose-nut"].Source != "the group's own" {
		t.Errorf("completed %v, rust %v, loose nut %v", r.Completed, r.SettledBy["rust"], r.SettledBy["loose-nut"])
	}
	delete(tree, "settled_by")
	if r := parse(t, tree); !cmp.Equal(r.SettledBy, houserules.Default().SettledBy) {
		t.Error("without the table: not the default one")
	}
}

// A group may ask for a closer look than the default, or let no inspection
// settle a finding, and name other work; the table is what is read.
func TestTheTableIsRead(t *testing.T) {
	t.Parallel()
	f := inspectedTwice(registry.HandsOn)
	nut := &f.Inspections[0]
	stands := func(r houserules.Rules) bool { return r.ObservationStands(&f, nut, registry.LooseNut, "loose-nut") }
	deflt, full := houserules.Default(), parse(t, edited(t, "loose-nut", "full", "tightened", "replacement", "settlement"))
	never := parse(t, edited(t, "loose-nut", "replacement", "settlement"))
	if stands(deflt) || !stands(full) || !stands(never) {
		t.Errorf("after a hands-on inspection it stands: %v, %v, %v; want only by the stricter rules", stands(deflt), stands(full), stands(never))
	}
	f = inspectedTwice(registry.Full)
	nut = &f.Inspections[0]
	if stands(full) || !stands(never) {
		t.Errorf("after an inspection in full it stands: %v, %v", stands(full), stands(never))
	}
	f.Inspections = f.Inspections[:1]
	f.Maintenance = []registry.Maintenance{{Record: registry.Record{DoneOn: nut.DoneOn}, Done: []registry.Upkeep{registry.Tightened}}}
	if stands(deflt) || stands(full) || !stands(never) {
		t.Errorf("tightened that day it stands: %v, %v, %v", stands(deflt), stands(full), stands(never))
	}
	f.Maintenance[0].DoneOn.From--
	if !stands(deflt) {
		t.Error("tightened on a day before it or that day: want it to stand")
	}
	f.Maintenance[0].DoneOn.From, f.Maintenance[0].Done = nut.DoneOn.From, []registry.Upkeep{registry.Cleaned}
	if !stands(deflt) {
		t.Error("cleaned: want a loose nut to stand")
	}
	for want, r := range map[string]houserules.Rules{"tightened": deflt, "full": full, houserules.NoInspection: never} {
		if got := r.SettledBeside("loose-nut"); len(got) == 0 || got[0] != want {
			t.Errorf("SettledBeside = %v, want %s first", got, want)
		}
	}
	if got := deflt.SettledBeside("rust"); got != nil {
		t.Errorf("SettledBeside(rust) = %v, want none", got)
	}
}

// inspectedTwice is a loose nut seen hands-on and an inspection a year later
// that kept the anchor.
func inspectedTwice(level registry.Level) registry.Facts {
	var f registry.Facts
	f.Anchor.EnteredOn = day("2020-01-01")
	for i, on := range []string{"2024-05-02", "2025-05-02"} {
		r := registry.Inspection{Level: registry.HandsOn, Verdict: registry.Keep, Ticked: true}
		r.DoneOn.From, r.DoneOn.To, r.Origin = day(on), day(on), registry.Recorded
		if i == 0 {
			r.Observations = []registry.Observation{registry.LooseNut}
		} else {
			r.Level = level
		}
		f.Inspections = append(f.Inspections, r)
	}
	return f
}

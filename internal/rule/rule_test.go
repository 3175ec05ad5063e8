package rule_test

import (
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/registry"
	"rockledger/internal/rule"
)

// parse wraps a condition into a rule about an observation.
func parse(t *testing.T, when string) rule.Rule {
	t.Helper()
	rules, err := rule.Parse([]byte(text("observation", when)))
	if err != nil {
		t.Fatalf("Parse(%s) = %v", when, err)
	}
	return rules[0]
}

func text(of, when string) string {
	return `[{"id": "test-rule", "of": "` + of + `", "severity": "note", "source": "invented", "settles": "nothing",
		"when": ` + when + `, "values": ["hole_diameter_mm", "form", "set_on", "bonded", "metal", "shank_diameter_mm"]}]`
}

// operands has form staple, bonded, hole 12.5 mm, set 2020-02-29, metal 1.4301
// or 1.4401; shank and role are not known.
func operands() *rule.Operands {
	var o rule.Operands
	hole := 12.5
	o.SetWord(rule.Form, "staple")
	o.SetFlag(rule.Bonded, true)
	o.SetNumber(rule.HoleDiameter, &hole)
	o.SetNumber(rule.ShankDiameter, nil)
	o.SetDate(rule.SetOn, calendar.NewDate(2020, 2, 29))
	o.SetGrades(rule.Metal, metal.NewSet("1.4301", "1.4401"))
	o.SetWord(rule.Role, "")
	o.SetDate(rule.SeenOn, calendar.NewDate(2020, 2, 29))
	return &o
}

func TestHolds(t *testing.T) {
	t.Parallel()
	tests := []struct {
		when string
		want bool
	}{
		{`{"form": "staple"}`, true},
		{`{"form": ["piton", "staple"]}`, true},
		{`{"form": "piton"}`, false},
		{`{"form": "staple", "bonded": true}`, true},
		{`{"form": "staple", "bonded": false}`, false},
		{`{"metal": "1.4401"}`, true},
		{`{"metal": ["1.4404", "1.4529"]}`, false},
		{`{"known": "form"}`, true},
		{`{"not_known": "form"}`, false},
		{`{"not_known": "role"}`, true},
		{`{"less": ["hole_diameter_mm", 12.5]}`, false},
		{`{"at_most": ["hole_diameter_mm", 12.5]}`, true},
		{`{"less": ["hole_diameter_mm", {"plus": ["hole_diameter_mm", 0.5]}]}`, true},
		{`{"less": [12, "hole_diameter_mm"]}`, true},
		{`{"at_most": ["set_on", "seen_on"]}`, true},
		{`{"less": ["set_on", "seen_on"]}`, false},
		{`{"any": [{"form": "piton"}, {"bonded": true}]}`, true},
		{`{"any": [{"form": "piton"}, {"bonded": false}]}`, false},
		{`{"all": [{"form": "staple"}, {"bonded": true}]}`, true},
		{`{"not": {"form": "piton"}}`, true},
		{`{"not": {"form": "staple"}}`, false},
	}
	for _, test := range tests {
		r := parse(t, test.when)
		if got := r.Holds(operands()); got != test.want {
			t.Errorf("%s holds = %v, want %v", test.when, got, test.want)
		}
	}
}

func TestNotKnownIsNotFalse(t *testing.T) {
	t.Parallel()
	tests := []struct {
		when string
		want bool
	}{
		{`{"role": "belay"}`, false},
		{`{"not": {"role": "belay"}}`, false},
		{`{"less": ["hole_diameter_mm", {"plus": ["shank_diameter_mm", 2]}]}`, false},
		{`{"not": {"less": ["shank_diameter_mm", "hole_diameter_mm"]}}`, false},
		{`{"backed_up": false}`, false},
		{`{"any": [{"role": "belay"}, {"bonded": true}]}`, true},
		{`{"not": {"all": [{"role": "belay"}, {"bonded": false}]}}`, true},
		{`{"role": "belay", "bonded": true}`, false},
	}
	for _, test := range tests {
		r := parse(t, test.when)
		if got := r.Holds(operands()); got != test.want {
			t.Errorf("%s holds = %v, want %v", test.when, got, test.want)
		}
	}
}

func TestValuesKeepOrderAndLeaveOutWhatIsNotKnown(t *testing.T) {
	t.Parallel()
	r := parse(t, `{"form": "staple"}`)
	want := registry.Values{
		{Name: "hole_diameter_mm", Text: "12.5"},
		{Name: "form", Text: "staple"},
		{Name: "set_on", Text: "2020-02-29"},
		{Name: "bonded", Text: "true"},
		{Name: "metal", Text: "1.4301 1.4401"},
	}
	if d := cmp.Diff(want, r.Values(operands())); d != "" {
		t.Errorf("Values (-want +got):\n%s", d)
	}
}

func TestValuesNameWhatAFindingRestsOn(t *testing.T) {
	t.Parallel()
	rules, err := rule.Parse([]byte(`[{"id": "a", "of": "wear", "severity": "note", "source": "invented", "settles": "nothing",
		"lasting": true, "when": {"known": "record_id"}, "values": ["fitting_id", "record_id"]}]`))
	if err != nil || !rules[0].Lasting {
		t.Fatalf("Parse = %+v, %v, want a lasting rule", rules, err)
	}
	var o rule.Operands
	o.SetID(rule.FittingID, uuid.Nil)
	o.SetID(rule.RecordID, uuid.UUID{1})
	want := registry.Values{{Name: "record_id", Text: "01000000-0000-0000-0000-000000000000"}}
	if d := cmp.Diff(want, rules[0].Values(&o)); d != "" || !rules[0].Holds(&o) {
		t.Errorf("Values (-want +got):\n%s", d)
	}
}

// Instants are compared to the second and told in UTC.
func TestInstants(t *testing.T) {
	t.Parallel()
	rules, err := rule.Parse([]byte(`[{"id": "a", "of": "setting", "severity": "note", "source": "invented", "settles": "nothing",
		"when": {"less": ["loaded_at", "not_before"]}, "values": ["loaded_at", "not_before"]}]`))
	if err != nil {
		t.Fatal(err)
	}
	noon := time.Date(2025, time.June, 1, 12, 0, 0, 0, time.FixedZone("an hour ahead", 3600))
	for after, want := range map[time.Duration]bool{0: false, time.Second: true, -time.Second: false} {
		var o rule.Operands
		o.SetInstant(rule.LoadedAt, noon)
		o.SetInstant(rule.NotBefore, noon.Add(after))
		if got := rules[0].Holds(&o); got != want {
			t.Errorf("loaded %v before: holds = %v, want %v", after, got, want)
		}
		if got := rules[0].Values(&o).Text("loaded_at"); got != "2025-06-01T11:00:00Z" {
			t.Errorf("loaded_at = %q", got)
		}
		o.SetInstant(rule.LoadedAt, time.Time{})
		if rules[0].Holds(&o) {
			t.Error("holds though nobody knows when it was loaded")
		}
	}
}

func TestParseRejectsConditions(t *testing.T) {
	t.Parallel()
	tests := []struct{ of, when, want string }{
		{"anchor", `{"colour": "red"}`, `"colour" is no operator, nor an operand of a rule of "anchor": want one of all, any`},
		{"anchor", `{"observation": "rust"}`, `"observation" is no operator, nor an operand of a rule of "anchor"`},
		{"anchor", `{"form": "rivet"}`, "form rivet: want a word of glue-in-single-shank"},
		{"anchor", `{"form": []}`, "want at least one word"},
		{"anchor", `{"form": 3}`, "form 3: want a word of"},
		{"anchor", `{"bonded": "yes"}`, "bonded: want true or false"},
		{"anchor", `{"hole_diameter_mm": 12}`, `want it compared with "less"`},
		{"event", `{"event_id": "x"}`, "report it among the values"},
		{"anchor", `{"record_id": "x"}`, `"record_id" is no operator, nor an operand of a rule of "anchor"`},
		{"anchor", `{"less": ["hole_diameter_mm"]}`, "want an array of two terms"},
		{"anchor", `{"less": ["form", 2]}`, "form is no number, date or instant"},
		{"anchor", `{"less": ["set_on", 2]}`, "compare dates with dates"},
		{"setting", `{"less": ["loaded_at", "set_on"]}`, "instants with instants"},
		{"anchor", `{"less": ["loaded_at", "not_before"]}`, `"loaded_at" is no operator, nor an operand of a rule of "anchor"`},
		{"anchor", `{"less": [{"plus": ["set_on", 2]}, 2]}`, "add up numbers only"},
		{"anchor", `{"less": [{"minus": [1, 2]}, 2]}`, `want a number, an operand or {"plus": [...]}`},
		{"anchor", `{"less": [1e999, 2]}`, "want one that fits"},
		{"anchor", `{"less": [true, 2]}`, "want a number, an operand"},
		{"anchor", `{"any": []}`, "want an array of at least one condition"},
		{"anchor", `{"all": [{}]}`, "want an object with at least one key"},
		{"anchor", `{"not": []}`, "want an object with at least one key"},
		{"anchor", `{"known": 3}`, `"" is no operator`},
		{"anchor", `{}`, "no condition"},
		{"weather", `{"form": "staple"}`, `of "weather": want one of anchor, observation, verdict, search`},
	}
	for _, test := range tests {
		_, err := rule.Parse([]byte(text(test.of, test.when)))
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), "rule test-rule: ") ||
			!strings.Contains(err.Error(), test.want) {
			t.Errorf("Parse(%s) = %v, want Invalid, naming the rule, with %q", test.when, err, test.want)
		}
	}
}

func TestParseRejectsRules(t *testing.T) {
	t.Parallel()
	const good = `{"id": "a", "of": "anchor", "severity": "note", "source": "invented", "settles": "nothing", "when": {"bonded": true}}`
	tests := []struct{ name, old, new, want string }{
		{"id", `"a"`, `"A b"`, "want words in lower case"},
		{"severity", `"note"`, `"awful"`, "want one of note, watch, suspect, out-of-use, house-rules"},
		{"standing", `"of"`, `"standing": "fine", "of"`, `standing "fine"`},
		{"source", `"invented"`, `" "`, "no source"},
		{"settles", `"nothing"`, `""`, "settles"},
		{"unknown key", `"of"`, `"colour": 1, "of"`, "unknown field"},
		{"values", `"of"`, `"values": ["age"], "of"`, `"age" is no operator`},
	}
	for _, test := range tests {
		_, err := rule.Parse([]byte("[" + strings.Replace(good, test.old, test.new, 1) + "]"))
		if fault.KindOf(err) != fault.Invalid || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: Parse = %v, want Invalid with %q", test.name, err, test.want)
		}
	}
	bad := strings.Replace(good, `"note"`, `"awful"`, 1)
	_, err := rule.Parse([]byte("[" + good + "," + good + "," + bad + "]"))
	if e, ok := fault.As(err); !ok || len(e.Violations) != 2 {
		t.Errorf("Parse of two bad rules = %v, want two violations", err)
	}
	if _, err := rule.Parse([]byte("{}")); fault.KindOf(err) != fault.Invalid {
		t.Errorf("Parse({}) = %v, want Invalid", err)
	}
}

func FuzzParse(f *testing.F) {
	f.Add(text("anchor", `{"form": "staple", "less": ["hole_diameter_mm", {"plus": ["shank_diameter_mm", 2]}]}`))
	f.Add(text("observation", `{"any": [{"not": {"observation": "rust"}}, {"not_known": "metal"}]}`))
	f.Add(`[{}]`)
	f.Fuzz(func(t *testing.T, data string) {
		rules, err := rule.Parse([]byte(data))
		if err != nil {
			if fault.KindOf(err) != fault.Invalid {
				t.Fatalf("Parse(%q) = %v, want kind invalid", data, err)
			}
			return
		}
		var nothing rule.Operands
		for i := range rules {
			rules[i].Holds(&nothing)
			rules[i].Holds(operands())
			rules[i].Values(operands())
		}
	})
}

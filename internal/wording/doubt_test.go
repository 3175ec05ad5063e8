package wording_test

import (
	"strings"
	"testing"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestDoubtHasSentencesForEveryCode(t *testing.T) {
	t.Parallel()
	other, _ := wording.Doubt(registry.Doubt{Code: "no-such-code"})
	for _, code := range registry.DoubtCodes() {
		what, remedy := wording.Doubt(registry.Doubt{Code: code})
		if what == other || what == "" || strings.HasSuffix(what, ".") {
			t.Errorf("Doubt(%s) says %q, want a clause of its own", code, what)
		}
		if !strings.HasSuffix(remedy, ".") {
			t.Errorf("Doubt(%s) advises %q, want sentences", code, remedy)
		}
	}
}

// Every code that an import can count has its sentence and its remedy, without
// values of one row.
func TestEveryCodeIsCountedInWords(t *testing.T) {
	t.Parallel()
	other := wording.ImportCodeCount("no-such-code", 3)
	seen := make(map[string]string)
	for _, code := range registry.DoubtCodes() {
		got := wording.ImportCodeCount(code, 3)
		if got == other || !strings.HasPrefix(got, "3 × ") || !strings.HasSuffix(got, ".") || strings.Count(got, ". ") < 1 {
			t.Errorf("ImportCodeCount(%s) = %q, want a sentence of its own and a remedy", code, got)
		}
		if strings.ContainsAny(strings.ReplaceAll(got, "{Your heading: ignore}", ""), "{}") {
			t.Errorf("ImportCodeCount(%s) = %q, which wants a value of one row", code, got)
		}
		if seen[got] != "" {
			t.Errorf("%s and %s read the same: %q", code, seen[got], got)
		}
		seen[got] = code
	}
	if strings.Contains(other, "no such code") || !strings.HasSuffix(other, ".") {
		t.Errorf("a code that is not known reads %q, want a sentence", other)
	}
}

func TestDoubtSaysItsValues(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		code, name, text, want string
	}{
		{registry.DoubtCheckedFirst, "set_on", "2012-12-01", "the last check lies before the anchor was set (1 December 2012)"},
		{registry.DoubtStateFormMisfit, "form", "staple", "this state does not fit the type of anchor (" + strings.ToLower(wording.Label(registry.Staple)) + ")"},
		{registry.RefusedSpotRepeated, "line", "4", "line 4 says something else about the same position"},
		{registry.RefusedInvalid, "field", "position.label", "the row cannot be entered because of its label"},
	} {
		what, _ := wording.Doubt(registry.Doubt{Code: c.code, Values: registry.Values{{Name: c.name, Text: c.text}}})
		if what != c.want {
			t.Errorf("Doubt(%s) = %q, want %q", c.code, what, c.want)
		}
	}
}

func TestListFaultHasOneSentenceEach(t *testing.T) {
	t.Parallel()
	values := map[string]string{"limit": "8 MiB", "line": "7", "text": "yaml: line 1"}
	for _, why := range append(wording.ListFaults(), "no-such-reason") {
		got := wording.ListFault(why, values)
		if strings.Contains(got, "%!") || !strings.Contains(got, ": ") {
			t.Errorf("ListFault(%s) = %q, want what is wrong and the remedy", why, got)
		}
	}
}

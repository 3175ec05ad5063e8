package web

import "testing"

// Numbers as people and telephones write them: U+2212 is the true minus.
func TestFormNumbers(t *testing.T) {
	t.Parallel()
	f := newForm("a", "\u22123", "b", "-3,5", "c", " 7 ", "d", "\u2212", "e", "1,5,2")
	for name, want := range map[string]float64{"a": -3, "b": -3.5, "c": 7} {
		if got := f.number(name); got == nil || *got != want {
			t.Errorf("number(%q) = %v, want %v", f.text(name), got, want)
		}
	}
	if got := f.whole("a"); got == nil || *got != -3 {
		t.Errorf("whole(%q) = %v, want -3", f.text("a"), got)
	}
	for _, name := range []string{"d", "e"} {
		if got := f.number(name); got != nil {
			t.Errorf("number(%q) = %v, want none", f.text(name), *got)
		}
	}
	if f.checks.Err() == nil {
		t.Error("what is no number was taken")
	}
}

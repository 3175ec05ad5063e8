package fault_test

import (
	"testing"

	"rockledger/internal/fault"
)

func TestChecksText(t *testing.T) {
	t.Parallel()
	for text, want := range map[string]string{
		"Łódź, café\tnorth\r\nside": "",
		"می\u200cخواهم":             "", // Persian, joined by U+200C
		"क्\u200dष":                 "", // U+200D
		"\u200fשלום":                "", // a mark of direction turns nothing
		"caf\ufffd":                 "U+FFFD",
		"caf\xff":                   "U+FFFD",
		"a\x00b":                    "U+0000",
		"a\x7f":                     "U+007F",
		"a\u0085b":                  "U+0085",
		"gnp\u202eexe.":             "U+202E",
		"a\u2066b":                  "U+2066",
		"a\ufffe":                   "U+FFFE",
	} {
		var c fault.Checks
		c.Text("name", text)
		e, bad := fault.As(c.Err())
		if bad != (want != "") || bad && (e.Violations[0].Field != "name" || e.Violations[0].Code != fault.Malformed || e.Violations[0].Values["character"] != want) {
			t.Errorf("%+q: %v, want %q", text, c.Err(), want)
		}
	}
}

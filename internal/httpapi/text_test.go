package httpapi_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// A refusal says what is asked for.
func TestCheckSaysTheForm(t *testing.T) {
	t.Parallel()
	for target, want := range map[string]string{
		"/v1/sites/Gutter":                     "For example: " + wording.SomeID + ".",
		"/v1/sites?limit=1&limit=2":            "This is given 2 times. Give it once.",
		"/v1/anchors?box=1,2,3":                "at least 4",
		"/v1/anchors?box=1,2,3,4,5":            "at most 4",
		"/v1/reports/overdue?as_of=0001-01-01": "at least 1 January 1000",
	} {
		e, ok := fault.As(checked(request(t, "GET", target, "", ""), registry.RoleOwner))
		if !ok || len(e.Violations) != 1 || !strings.Contains(wording.Violation(e.Violations[0]), want) {
			t.Errorf("%s: %+v, want one violation that says %q", target, e, want)
		}
	}
}

// What would be kept as something else than was sent, or reads as something
// else than it is, is refused by its field.
func TestCheckUnwrittenText(t *testing.T) {
	t.Parallel()
	const json = "application/json"
	for _, c := range []struct {
		name, method, target, media, body string
		want                              []string
	}{
		{"bytes that are no text", "POST", "/v1/sites", json, "{\"name\":\"caf\xff\xfe\",\"kind\":\"crag\"}", []string{"name malformed"}},
		{"half a character", "POST", "/v1/sites", json, `{"name":"a\ud800","kind":"crag"}`, []string{"name malformed"}},
		{"a turned name", "POST", "/v1/sites", json, `{"name":"a\u202eb","kind":"crag"}`, []string{"name malformed"}},
		{"a NUL", "POST", "/v1/sites", json, `{"name":"a\u0000b","kind":"crag"}`, []string{"name malformed"}},
		{"joiners, marks and line ends", "POST", "/v1/sites", json, `{"name":"\u0645\u06cc\u200c\u062e \u200f","kind":"crag","notes":"a\r\n\tb"}`, nil},
		{"deep in a body", "POST", inspect, json, `{"done_on":{"from":"2026-05-03","words":"a\u0007"},"level":"hands-on"}`, []string{"done_on.words malformed"}},
		{"in a query", "GET", "/v1/anchors?text=%00", "", "", []string{"text malformed"}},
		{"bytes in a query", "GET", "/v1/anchors?text=%ff", "", "", []string{"text malformed"}},
	} {
		err := checked(request(t, c.method, c.target, c.media, c.body), registry.RoleOwner)
		if diff := cmp.Diff(c.want, short(err), sorted(func(a, b string) bool { return a < b })); diff != "" && (c.want != nil || err != nil) {
			t.Errorf("%s: %v (-want +got):\n%s", c.name, err, diff)
		}
		if e, ok := fault.As(err); ok && e.Violations[0].Values["character"] == "" {
			t.Errorf("%s: %v does not name the character", c.name, err)
		}
	}
}

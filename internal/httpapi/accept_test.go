package httpapi

import "testing"

// TestPrefer follows RFC 9110, section 12.5.1: the most specific range counts,
// and the highest weight wins.
func TestPrefer(t *testing.T) {
	t.Parallel()
	offers := []string{typeJSON, typeCSV}
	for _, c := range []struct{ name, accept, want string }{
		{"no header accepts everything", "", typeJSON},
		{"everything", "*/*", typeJSON},
		{"one type", "text/csv", typeCSV},
		{"case does not matter", "Text/CSV; charset=utf-8", typeCSV},
		{"weights decide", "application/json;q=0.5, text/csv", typeCSV},
		{"the first of equals", "text/csv, application/json", typeJSON},
		{"a range of types", "text/*", typeCSV},
		{"the most specific range counts", "*/*, application/json;q=0.1", typeCSV},
		{"excluded by weight zero", "application/json;q=0, */*;q=0.2", typeCSV},
		{"a browser", "text/html,application/xhtml+xml,*/*;q=0.8", typeJSON},
		{"none of them", "application/pdf", ""},
		{"nonsense", ";;;", ""},
		{"a weight that is no number", "text/csv;q=much", ""},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			if got := prefer(c.accept, offers); got != c.want {
				t.Errorf("prefer(%q) = %q, want %q", c.accept, got, c.want)
			}
		})
	}
}

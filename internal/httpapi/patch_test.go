package httpapi

import (
	"testing"

	"rockledger/internal/fault"
)

// TestIfMatch reads what etag writes and refuses what RFC 9110, section 13.1.1,
// would also allow: lists, weak tags and the asterisk name no version.
func TestIfMatch(t *testing.T) {
	t.Parallel()
	for _, version := range []int{1, 7, 123456789} {
		got, err := ifMatch(etag(version))
		if err != nil || got != version {
			t.Errorf("ifMatch(etag(%d)) = %d, %v, want %d", version, got, err, version)
		}
	}
	if _, err := ifMatch(""); fault.KindOf(err) != fault.Unstated {
		t.Errorf("ifMatch(nothing) = %v, want %v", err, fault.Unstated)
	}
	for _, header := range []string{`3`, `W/"3"`, `*`, `"3", "4"`, `"x"`, `""`, `"-1"`, `"99999999999999999999"`} {
		_, err := ifMatch(header)
		if fault.KindOf(err) != fault.Invalid || fault.CodeOf(err) != fault.Malformed {
			t.Errorf("ifMatch(%q) = %v, want invalid and malformed", header, err)
		}
	}
}

package wording_test

import (
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
	"rockledger/internal/wording"
)

func TestPictureFaultsSayWhatToDo(t *testing.T) {
	t.Parallel()
	for _, why := range wording.PictureFaults() {
		got := wording.Violation(fault.Violation{Field: "file", Code: fault.Unknown, Values: map[string]string{"why": why, "text": "x"}})
		if strings.Count(got, ".") < 2 || strings.Contains(got, "list") {
			t.Errorf("%s: %q, want what is wrong and the remedy", why, got)
		}
	}
	if got := wording.Fault(fault.TooLargeCode, map[string]string{"what": "picture", "limit": "15 MiB"}); !strings.Contains(got, "15 MiB") || strings.Contains(got, "parts") {
		t.Errorf("too large: %q", got)
	}
}

func TestPictureAlt(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		p         registry.Picture
		alt, line string
	}{
		{registry.Picture{Words: "The eye.", TakenOn: sample.Day}, "The eye.", "Taken on 3 May 2026, A. Tester"},
		{registry.Picture{TakenOn: sample.Day}, "Picture of anchor 4, 3 May 2026", "Taken on 3 May 2026, A. Tester"},
		{registry.Picture{}, "Picture of anchor 4", "Day not known, A. Tester"},
	} {
		if got := wording.PictureAlt(c.p, "4"); got != c.alt {
			t.Errorf("alt = %q, want %q", got, c.alt)
		}
		if got := wording.PictureLine(c.p, "A. Tester"); got != c.line {
			t.Errorf("line = %q, want %q", got, c.line)
		}
	}
}

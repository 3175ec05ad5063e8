package web

import (
	"testing"

	"golang.org/x/net/html"
)

// firstDoes are buttons that may come first in a form with several: a key in any
// of its fields does what the whole form is for.
var firstDoes = map[string]bool{"Add this position": true, "Record this session": true}

// A key in a field sends a form by its first button. Where there are several,
// that one decides nothing.
func TestKeySendsNoFormByAccident(t *testing.T) {
	t.Parallel()
	several := 0
	for name, page := range pages() {
		for _, form := range all(draw(t, page), tag("form"), has("method", "post")) {
			buttons := all(form, tag("button"), has("type", "submit"))
			if len(buttons) < 2 {
				continue
			}
			several++
			if !decidesNothing(buttons[0]) && !firstDoes[text(buttons[0])] {
				t.Errorf("%s: a key in a field does %q", name, text(buttons[0]))
			}
		}
	}
	if several < 4 { // proposals, gluing, a notice, a new position
		t.Errorf("%d forms with several buttons, want those of proposals, gluing, notices and positions", several)
	}
}

func decidesNothing(button *html.Node) bool {
	_, named := attr(button, "name")
	hidden, _ := attr(button, "aria-hidden")
	return !named && hidden == "true"
}

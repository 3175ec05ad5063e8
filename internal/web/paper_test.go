package web

import (
	"strings"
	"testing"

	"rockledger/internal/wording"
)

// A page that shows some of a report says on paper that it does, and how to get
// all; one that shows all says nothing.
func TestPaperSaysThatItHoldsSome(t *testing.T) {
	t.Parallel()
	page := workOf()
	for shown, want := range map[string]int{"": 0, "Anchors 1 to 20 of 1237.": 1} {
		page.Shown = shown
		doc := draw(t, reportView(page))
		if said := all(doc, class("on-paper")); len(said) != want || want > 0 && text(said[0]) != wording.PrintsSome {
			t.Errorf("shown %q: %d sentences for paper, want %d", shown, len(said), want)
		}
	}
}

// The face of a cure card, which says when not to load, carries the caution. What
// is said of many anchors goes on the back, with the day and the caution again.
func TestCureCardHasTheCautionOnItsFace(t *testing.T) {
	t.Parallel()
	card := cureCardPage{Frame: frameOf("Cure card"), Where: "Marrow Scar", Until: "Do not load before noon."}
	for _, spot := range []string{"B1", "B2", "B3", "B4", "B5", "B6"} {
		card.Anchors = append(card.Anchors, cureLine{Spot: spot, NotBefore: "Not before noon.", Rests: strings.Repeat("What it rests on. ", 9)})
	}
	for name, c := range map[string]struct {
		anchors, sides int
	}{"one": {1, 1}, "six": {6, 2}} {
		card := card
		card.Anchors = card.Anchors[:c.anchors]
		sides := all(draw(t, cureCardView(card)), class("side"))
		if len(sides) != c.sides {
			t.Fatalf("%s: %d sides, want %d", name, len(sides), c.sides)
		}
		for n, side := range sides {
			if got := text(side); !strings.Contains(got, card.Until) || !strings.Contains(got, wording.Caution) {
				t.Errorf("%s: side %d reads %q, want when not to load and the caution", name, n+1, got)
			}
		}
		if n := len(all(sides[len(sides)-1], tag("li"))); n != c.anchors {
			t.Errorf("%s: %d anchors on the last side, want all %d", name, n, c.anchors)
		}
	}
}

// A list that was entered shows no progress; one on its way does.
func TestOnlyAListOnItsWayShowsProgress(t *testing.T) {
	t.Parallel()
	page := importPage{Frame: frameOf("Import a list")}
	page.fill(importReportOf())
	on := importingOf(page)
	done := on
	done.Frame.Refresh = 0
	if n := len(all(draw(t, importStateView(on)), tag("progress"))); n != 1 {
		t.Errorf("on its way: %d bars, want one", n)
	}
	if doc := draw(t, importStateView(done)); len(all(doc, tag("progress"))) > 0 || strings.Contains(text(doc), "so far") {
		t.Errorf("done: %q, want no progress", text(doc))
	}
}

// What a landowner has stands on a line of its own below the name.
func TestLandownersAndCountsAreApart(t *testing.T) {
	t.Parallel()
	page := landOf()
	page.Owners = append(page.Owners, ownerPart{ID: "2", Name: "Other Estate (invented)", Line: "2 anchors"})
	list := one(t, draw(t, landView(page)), "landowners", class("owners"))
	if lines := all(list, tag("span")); len(lines) != len(page.Owners) || text(lines[len(lines)-1]) != "2 anchors" {
		t.Errorf("counts %q, want one for each landowner", texts(lines))
	}
}

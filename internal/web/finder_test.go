package web

import (
	"fmt"
	"strings"
	"testing"

	"rockledger/internal/wording"
)

// manyBatches are 300 batches, the nth "L-nnn, Slow resin (invented)".
func manyBatches() []option {
	options := make([]option, 300)
	for i := range options {
		options[i] = option{Value: fmt.Sprint(i), Text: fmt.Sprintf("L-%03d, Slow resin (invented)", i)}
	}
	return options
}

func TestFinderShowsFewOfManyAndAllThatAreChosen(t *testing.T) {
	t.Parallel()
	f := newForm()
	f.Values["batch_ids"] = []string{"7", "250"}
	n := newFinder(f, "batch_ids", manyBatches())
	if len(n.Chosen) != 2 || n.Chosen[1].Value != "250" || len(n.Found) != mostAtFirst || !n.Search {
		t.Errorf("chosen %v, found %d, search %v; want two chosen, %d found", n.Chosen, len(n.Found), n.Search, mostAtFirst)
	}
	for _, o := range n.Found {
		if o.Value == "7" {
			t.Error("what is chosen is offered once more")
		}
	}
	few := newFinder(newForm(), "site_ids", manyBatches()[:mostAtOnce])
	if few.Search || len(few.Found) != mostAtOnce {
		t.Errorf("a short list: search %v, %d found; want all without a search", few.Search, len(few.Found))
	}
}

// Batches are told apart without spaces, case and punctuation, and so found.
func TestFinderSearches(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		typed string
		first string // "" : none
		found int
	}{
		{"l250", "250", 1},
		{"RESIN  l-25", "250", 10}, // L-250 to L-259; L-025 does not hold "L25"
		{"L – 299 slow", "299", 1},
		{"nowhere", "", 0},
		{"slow", "0", mostFound},
		{" - ", "0", mostAtFirst}, // nothing to go by
	} {
		n := newFinder(newForm(searchField("batch_ids"), c.typed), "batch_ids", manyBatches())
		if len(n.Found) != c.found || c.found > 0 && n.Found[0].Value != c.first {
			t.Errorf("%q found %d, first %v; want %d, first %s", c.typed, len(n.Found), n.Found, c.found, c.first)
		}
		if c.found == 0 && !strings.Contains(n.State, "None of 300") {
			t.Errorf("%q: %q, want it said that nothing was found", c.typed, n.State)
		}
	}
}

// Whoever sends the form by key after typing a search searches; otherwise the
// form is sent.
func TestEnterInASearchSearches(t *testing.T) {
	t.Parallel()
	for _, c := range []struct {
		name   string
		filled []string
		want   bool
	}{
		{"a search was typed", []string{"find.batch_ids", "L"}, true},
		{"it was searched already", []string{"find.batch_ids", "L", "found.batch_ids", "L"}, false},
		{"another was searched before", []string{"find.batch_ids", "L2", "found.batch_ids", "L"}, true},
		{"its button", []string{"step", "find:batch_ids"}, true},
		{"another button", []string{"find.batch_ids", "L", "step", "preview"}, false},
	} {
		f := newForm(c.filled...)
		if got := searched(f, finderFields); got != c.want {
			t.Errorf("%s: searched = %v, want %v", c.name, got, c.want)
		}
		if n := newFinder(f, "batch_ids", manyBatches()); n.Focus != c.want {
			t.Errorf("%s: focus on the search = %v, want %v", c.name, n.Focus, c.want)
		}
	}
}

func TestFinderIsDrawn(t *testing.T) {
	t.Parallel()
	f := newForm(searchField("batch_ids"), "slow", "step", searchStep("batch_ids"))
	f.Values["batch_ids"] = []string{"250"}
	f.Wrong = []wrongField{{"batch_ids", "Choose."}}
	doc := draw(t, finderField(f, newFinder(f, "batch_ids", manyBatches())))
	search := one(t, doc, "search", tag("input"), has("type", "search"))
	if _, focus := attr(search, "autofocus"); !focus {
		t.Error("the search that was sent has no focus")
	}
	one(t, doc, "label of the search", tag("label"), has("for", "find.batch_ids"))
	state := text(one(t, doc, "state", class("finder-state"), has("role", "status")))
	if want := wording.FinderState(30, 299, 299, true); state != want {
		t.Errorf("state = %q, want %q", state, want)
	}
	for _, c := range all(one(t, doc, "chosen", class("finder-chosen")), tag("input")) {
		if _, checked := attr(c, "checked"); !checked {
			t.Error("what is chosen is not ticked")
		}
	}
	if n := len(all(doc, tag("input"), has("value", "250"))); n != 1 {
		t.Errorf("what is chosen stands %d times, want once", n)
	}
	if described, _ := attr(one(t, doc, "choices", tag("fieldset")), "aria-describedby"); described != "batch_ids-wrong" {
		t.Errorf("choices described by %q, want what is wrong with them", described)
	}
}

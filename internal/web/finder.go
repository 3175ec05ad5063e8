package web

import (
	"strings"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// Choices of a finder: up to how many are all shown, how many of more than that
// before anything was searched, and how many of those found.
const (
	mostAtOnce  = 12
	mostAtFirst = 6
	mostFound   = 30
)

// finder is a choice of several, or of one, from a list that may be long. What is chosen
// stands on top and stays; of the rest it shows what a search found. Without
// script a search sends the form, which comes back as it was typed.
type finder struct {
	Name   string // of the field
	Single bool   // one is chosen
	Chosen []option
	Found  []option // not chosen
	Search bool     // there are too many to show them all
	State  string   // how many of how many are shown; blank: all, and there is no search
	Focus  bool     // this one was searched just now
}

// searchField is the name of a finder's search in the form.
func searchField(name string) string { return "find." + name }

// searchStep is the step of a form that searches one of its finders.
func searchStep(name string) string { return "find:" + name }

// kind is the kind of input that a choice is made with.
func (n finder) kind() string {
	if n.Single {
		return "radio"
	}
	return "checkbox"
}

// newFinder sorts the options of a field into those chosen and those found.
func newFinder(f *form, name string, options []option) finder {
	n := finder{Name: name, Search: len(options) > mostAtOnce, Focus: f.text("step") == searchStep(name)}
	words, most, matching := searchWords(f.text(searchField(name))), len(options), 0
	switch {
	case len(words) > 0:
		most = mostFound
	case n.Search:
		most = mostAtFirst
	}
	for _, o := range options {
		switch {
		case f.has(name, o.Value):
			n.Chosen = append(n.Chosen, o)
		case matches(o.Text, words):
			if matching++; matching <= most {
				n.Found = append(n.Found, o)
			}
		}
	}
	if n.Search {
		n.State = wording.FinderState(len(n.Found), matching, len(options)-len(n.Chosen), len(words) > 0)
	}
	return n
}

// searchWords are the words of a search, each without spaces, case and
// punctuation, as batches are told apart.
func searchWords(text string) []string {
	var words []string
	for _, w := range strings.Fields(text) {
		if w = registry.FoldBatch(w); w != "" {
			words = append(words, w)
		}
	}
	return words
}

// matches says whether a text holds every word of a search.
func matches(text string, words []string) bool {
	text = registry.FoldBatch(text)
	for _, w := range words {
		if !strings.Contains(text, w) {
			return false
		}
	}
	return true
}

// searched says whether a posted form only wants one of its finders searched:
// by its button, or by the key that sends a form from any field, after another
// search was typed.
func searched(f *form, names []string) bool {
	for _, name := range names {
		typed := f.text(searchField(name)) != f.text("found."+name)
		f.Values.Set("found."+name, f.text(searchField(name)))
		if typed && f.text("step") == "" {
			f.Values.Set("step", searchStep(name))
		}
	}
	return strings.HasPrefix(f.text("step"), searchStep(""))
}

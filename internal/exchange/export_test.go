package exchange

import (
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// MostKept is how many texts of a kind are remembered.
const MostKept = mostKept

// ReadBy reads a list in so many goroutines; with none, in one that remembers
// nothing.
func ReadBy(hands int, data []byte, mapping Mapping, asOf calendar.Date) (registry.List, error) {
	if hands == 0 {
		return readList("list", data, mapping, asOf, []*recall{{}})
	}
	return readList("list", data, mapping, asOf, newRecalls(hands))
}

// Stretches does what readers do side by side.
func Stretches(hands, n int, do func(hand, from, to int)) { stretches(hands, n, do) }

// Kept remembers n keys, reads them twice and says how many it knows at the end
// and whether it read any of them wrong.
func Kept(n int) (kept int, wrong bool) {
	m := newMemo[int, int]()
	for range 2 {
		for key := range n {
			wrong = wrong || m.of(key, func(k int) int { return -k }) != -key
			kept = max(kept, len(m.kept))
		}
	}
	return kept, wrong
}

// IsUnknown says whether a cell says "not known".
func IsUnknown(text string) bool { return isUnknown(text) }

// UnknownWords are the words for it.
func UnknownWords() []string { return unknownWords }

// HasWord says whether a text's words hold one.
func HasWord(text, word string) bool { return hasWord(words(text), word) }

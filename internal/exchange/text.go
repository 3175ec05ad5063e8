package exchange

import (
	"slices"
	"strings"
	"unicode"

	"rockledger/internal/registry"
)

// unknownWords are what people write into a cell for "not known".
var unknownWords = []string{
	"", "?", "??", "???", "-", "--", "---", "–", "—", "n/k", "nk", "n.k.", "n/a", "na", "unknown", "unkn.",
	"not known", "not recorded", "none", "nil", "tbc",
}

// isUnknown says whether a cell says "not known".
func isUnknown(text string) bool {
	return !surelyKnown(text) && slices.Contains(unknownWords, registry.Fold(text))
}

// surelyKnown says by its first letter that a text is none of the words for "not
// known", as most cells are not.
func surelyKnown(text string) bool {
	return text != "" && text[0] > ' ' && text[0] <= '~' && !strings.Contains("?-nNuUtT", text[:1])
}

// known returns the text, "" for one that says "not known".
func known(text string) string {
	if isUnknown(text) {
		return ""
	}
	return text
}

// tidy returns a text with single spaces and none around it.
func tidy(text string) string {
	if isTidy(text) {
		return text // a long list is mostly that, and shares its memory
	}
	return strings.Join(strings.Fields(text), " ")
}

// isTidy says of an ASCII text whether tidy leaves it as it is.
func isTidy(text string) bool {
	before := byte(' ')
	for i := range len(text) {
		c := text[i]
		if c < ' ' || c > '~' || c == ' ' && before == ' ' {
			return false
		}
		before = c
	}
	return text == "" || before != ' '
}

var typography = strings.NewReplacer(
	"–", "-", "—", "-", "−", "-", "‐", "-", "‑", "-",
	"’", "'", "‘", "'", "′", "'", "″", `"`, "”", `"`, "“", `"`, "º", "°", "˚", "°",
)

// plain folds a text: lower case, single spaces, plain dashes and quotes.
func plain(text string) string { return registry.Fold(typography.Replace(text)) }

// words keeps a text's letters, digits and # as words between single spaces,
// with a space at each end, so that " word " finds whole words.
func words(text string) string {
	kept := strings.Map(func(c rune) rune {
		switch {
		case unicode.IsLetter(c), unicode.IsDigit(c), c == '#', c == '⌀':
			return c
		}
		return ' '
	}, plain(text))
	return " " + strings.Join(strings.Fields(kept), " ") + " "
}

// hasWord says whether words(text) holds one of the words or phrases.
func hasWord(padded string, list ...string) bool {
	return slices.ContainsFunc(list, func(w string) bool { return holdsWord(padded, w) })
}

// holdsWord looks for a word between spaces.
func holdsWord(padded, w string) bool {
	for from := 0; ; {
		at := strings.Index(padded[from:], w)
		if at < 0 {
			return false
		}
		from += at + 1
		end := from - 1 + len(w)
		if from > 1 && padded[from-2] == ' ' && end < len(padded) && padded[end] == ' ' {
			return true
		}
	}
}

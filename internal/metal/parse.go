package metal

import (
	"regexp"
	"slices"
	"strings"

	"rockledger/internal/fault"
)

// Parse reads a metal as people write it. Case, spaces, dots, dashes and
// brackets do not matter.
//
// The result is the exact grade where one is named (1.4404, 316L, Ti gr2), and
// otherwise every grade it can be: A4 is the 316 family, stainless every
// stainless grade, steel any coating or none. "316" is taken for 1.4401 and
// "304" for 1.4301, as AISI numbers. "plated" is zinc electroplate, "galv" that
// or hot dip, "zinc" any zinc coating.
//
// Where several words are given, the more exact explains the less ("A4 316L" is
// 1.4404), and what does not explain each other is put together: "A4 / BZP" may
// be either. A strength class behind a mark (A4-80) says nothing of the metal.
//
// Blank, "?", "unknown" and the like give an empty set, not known, without
// error. Errors are Invalid and carry the value "text": fault.UnknownMetal if
// any word of the text is not known here, fault.Ambiguous for a metal with a
// question mark behind it.
//
// Sources: ISO 3506-1 for the class letters (D6 and D8 from memory); EN 10088
// and AISI numbers and UNS numbers partly from memory; zinc wording is common
// practice, no source.
func Parse(text string) (Set, error) {
	s := fold(text)
	if slices.Contains(blanks, s) {
		return nil, nil
	}
	if strings.Contains(s, "?") {
		return nil, reject(fault.Ambiguous, text)
	}
	said, ok := readWords(split(s))
	if !ok {
		return nil, reject(fault.UnknownMetal, text)
	}
	return combine(said), nil
}

func reject(code fault.Code, text string) error {
	text = strings.TrimSpace(text)
	return fault.Reject(code, "metal %q", text).With("text", text)
}

var blanks = []string{"", "?", "??", "???", "-", "--", "n/k", "nk", "n.k.", "n/a", "na", "unknown", "not known", "not recorded"}

func fold(text string) string {
	return strings.Join(strings.Fields(strings.ToLower(dashes.Replace(text))), " ")
}

var dashes = strings.NewReplacer("–", "-", "—", "-", "‐", "-", "‑", "-", "\u00a0", " ")

// Joins made before a text is cut into words, so that each name is one word.
var joins = []struct {
	pattern *regexp.Regexp
	with    string
}{
	{regexp.MustCompile(`\b1[., ]?(4[0-6]\d\d)\b`), " en$1 "},        // 1.4404, 1,4404, 14404
	{regexp.MustCompile(`\bst\.? ?st\b\.?`), " stainless "},          // st.st.
	{regexp.MustCompile(`\bs\.s\.|\bs/s\b`), " stainless "},          // s.s.
	{regexp.MustCompile(`\bhot[- ]?dip(ped)?\b`), " hotdip "},        // hot dip galv
	{regexp.MustCompile(`\belectro[- ]?(zinc|galv)`), " electro $1"}, // electro-galvanised
	{regexp.MustCompile(`\bti(tanium)?[- ]?6[- ]?al[- ]?4[- ]?v\b`), " ti5 "},
	{regexp.MustCompile(`\b(a[248])[- ]?(50|70|80|100)\b`), " $1 "}, // strength class
	{regexp.MustCompile(`\b6[ -]?(%|percent)? ?mo(ly)?\b`), " 6mo "},
	{regexp.MustCompile(`\b(super|lean)[- ]?duplex\b`), " ${1}duplex "},
	{regexp.MustCompile(`\b(30[14]|31[67]|321|430|904) (l|ln|ti|lmn|cu)\b`), " $1$2 "}, // 316 L
	{regexp.MustCompile(`\b(?:grade|gr)[ .]*(\d)\b`), " gr$1 "},
	{regexp.MustCompile(`\b(ti|titanium)[- ]?([1-9]\d?)\b`), " $1 gr$2 "},
	{regexp.MustCompile(`\b(ss|aisi|inox)(\d{3})`), "$1 $2"}, // SS316L
	{regexp.MustCompile(`\b(3\d\d[a-z]?)ss\b`), "$1 ss"},     // 316SS
	{regexp.MustCompile(`\bw\.? ?(nr|no)\b\.?`), " en "},
}

var separators = regexp.MustCompile(`[^a-z0-9]+`)

// split cuts a folded text into words.
func split(s string) []string {
	for _, j := range joins {
		s = j.pattern.ReplaceAllString(s, j.with)
	}
	return strings.Fields(separators.ReplaceAllString(s, " "))
}

// saying is what the words of one text say.
type saying struct {
	sets  []Set
	steel bool // "steel" or "carbon steel" was among them
	mild  bool // it was said to be carbon steel
}

// readWords looks every word up; false if one is not known, or none says
// anything.
func readWords(words []string) (saying, bool) {
	var said saying
	ti := slices.ContainsFunc(words, func(w string) bool { return w == "ti" || w == "titanium" || w == "ti5" })
	for _, w := range words {
		switch set, ok := lookupWord(w, ti); {
		case w == "steel" || w == "stl":
			said.steel = true
		case w == "mild" || w == "carbon":
			said.steel, said.mild = true, true
		case ok:
			said.sets = append(said.sets, set)
		case !slices.Contains(fillers, w):
			return saying{}, false
		}
	}
	return said, said.steel || len(said.sets) > 0
}

// lookupWord returns what one word says; "gr2" means something of titanium
// only.
func lookupWord(w string, ti bool) (Set, bool) {
	if grade, ok := titaniumGrades[w]; ok {
		return NewSet(grade), ti
	}
	if number, ok := strings.CutPrefix(w, "en"); ok && len(number) == 4 {
		g := Grade("1." + number)
		_, ok := Lookup(g)
		return NewSet(g), ok
	}
	set, ok := vocabulary()[w]
	return set, ok
}

// combine drops what something more exact explains and puts the rest together.
func combine(said saying) Set {
	var result Set
	for i, s := range said.sets {
		if !explained(said.sets, i) {
			result = result.Union(s)
		}
	}
	carbon := Of(CarbonSteel)
	switch {
	case said.mild && !result.Within(carbon):
		return result.Union(carbon)
	case said.steel && !result.Known():
		return carbon
	}
	return result
}

// explained reports whether another of the sets is a true part of the one at i.
func explained(sets []Set, i int) bool {
	return slices.ContainsFunc(sets, func(s Set) bool {
		return len(s) < len(sets[i]) && s.Within(sets[i])
	})
}

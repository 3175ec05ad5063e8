package registry

import (
	"cmp"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"rockledger/internal/calendar"
)

// ErasedOn stands where the name of a landowner was who was erased on a day.
func ErasedOn(day calendar.Date) string { return "name erased on " + day.Words() }

// LandTold is what the register tells of a landowner: the row itself, and what
// words may name them in.
type LandTold struct {
	Landowner    Landowner
	Parcels      []Parcel      // theirs
	Agreements   []Agreement   // about their land
	Restrictions []Restriction // on their parcels
}

// Unnamed returns what changes of it when the landowner is erased on a day: name
// and contact; every issuer of a permission, which is the landowner's; and, in
// names of parcels, issuers, conditions and reasons, the name wherever it stands
// as a whole and what of the contact can be nobody else's: the contact as a
// whole, and each part of it with an @ or a number of six digits or more in it.
// Case and spaces aside. Whoever words mean in another way stays.
func (t *LandTold) Unnamed(day calendar.Date) LandTold {
	stand := ErasedOn(day)
	out := LandTold{Landowner: t.Landowner}
	out.Landowner.Name, out.Landowner.Contact, out.Landowner.ErasedOn = stand, "", day
	named := namesOf(&t.Landowner)
	for _, p := range t.Parcels {
		if named.strike(&p.Name, stand, MaxName) {
			out.Parcels = append(out.Parcels, p)
		}
	}
	for _, a := range t.Agreements {
		issued := a.Kind == Permission || named.strike(&a.Issuer, stand, MaxName)
		if a.Kind == Permission {
			a.Issuer = stand
		}
		if named.strike(&a.Conditions, stand, MaxWords) || issued {
			out.Agreements = append(out.Agreements, a)
		}
	}
	for _, r := range t.Restrictions {
		if named.strike(&r.Why, stand, MaxName) {
			out.Restrictions = append(out.Restrictions, r)
		}
	}
	return out
}

// namesOf finds whom words name; nil for a landowner without a name.
func namesOf(l *Landowner) naming {
	texts := []string{l.Contact, l.Name}
	for _, part := range strings.FieldsFunc(l.Contact, func(r rune) bool { return strings.ContainsRune(",;\n", r) }) {
		if telling(part) {
			texts = append(texts, part)
		}
	}
	slices.SortStableFunc(texts, func(a, b string) int { return cmp.Compare(len(b), len(a)) }) // the longest is tried first
	var any []string
	for _, text := range texts {
		if words := strings.Fields(text); len(words) > 0 {
			for i := range words {
				words[i] = regexp.QuoteMeta(words[i])
			}
			any = append(any, strings.Join(words, `\s+`))
		}
	}
	return naming{regexp.MustCompile(`(?i)` + strings.Join(any, "|"))}
}

// telling says whether a part of a contact is an address or a number, and so
// nobody else's.
func telling(part string) bool {
	digits := 0
	for _, r := range part {
		if unicode.IsDigit(r) {
			digits++
		}
	}
	return digits >= 6 || strings.ContainsRune(part, '@')
}

// naming matches what names somebody.
type naming struct{ *regexp.Regexp }

// strike puts stand in place of what names somebody, and reports whether anything
// did. A text that grows beyond most bytes gives way to stand as a whole.
func (n naming) strike(text *string, stand string, most int) bool {
	var out strings.Builder
	at := 0
	for _, found := range n.FindAllStringIndex(*text, -1) {
		if whole(*text, found[0], found[1]) {
			out.WriteString((*text)[at:found[0]] + stand)
			at = found[1]
		}
	}
	if at == 0 {
		return false
	}
	out.WriteString((*text)[at:])
	if *text = out.String(); len(*text) > most {
		*text = stand
	}
	return true
}

// whole says whether no letter or digit goes on beside text[from:to].
func whole(text string, from, to int) bool {
	inWord := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	before, _ := utf8.DecodeLastRuneInString(text[:from])
	after, _ := utf8.DecodeRuneInString(text[to:])
	return !inWord(before) && !inWord(after) // of no text it is no letter
}

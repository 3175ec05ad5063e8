package fault

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Text adds a violation of field if the text holds a character that is none to
// read, with its code point under "character".
func (c *Checks) Text(field, text string) {
	if at := strings.IndexFunc(text, Unwritten); at >= 0 {
		c.Require(false, field, Malformed, "character", CodePoint(text[at:]))
	}
}

// Unwritten says whether a character is none that people write: what stands in
// place of one that was broken on the way (U+FFFD), control characters but
// tabs and line ends, and those that turn the direction of what follows, so that a
// name reads as another one. The marks and joiners that scripts need
// (U+200C to U+200F) are written.
func Unwritten(c rune) bool {
	switch {
	case c == '\t', c == '\n', c == '\r':
		return false
	case c == utf8.RuneError, unicode.IsControl(c), unicode.Is(unicode.Noncharacter_Code_Point, c):
		return true
	}
	return c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069
}

// CodePoint names the first character of a text: "U+202E".
func CodePoint(text string) string {
	c, _ := utf8.DecodeRuneInString(text)
	return fmt.Sprintf("U+%04X", c)
}

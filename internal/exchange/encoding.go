package exchange

import (
	"bytes"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"

	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

// MaxListBytes is how long a list may be: 100,000 rows of about 250 bytes. A
// default of this project, so that reading one stays within the memory of a
// small machine.
const MaxListBytes = 24 << 20

var (
	utf8Mark    = []byte{0xef, 0xbb, 0xbf}
	utf16Little = []byte{0xff, 0xfe}
	utf16Big    = []byte{0xfe, 0xff}
)

// notText are the first bytes of files that are often sent in place of a list.
var notText = []struct {
	start string
	why   string
}{
	{"PK\x03\x04", "spreadsheet"},
	{"\xd0\xcf\x11\xe0", "spreadsheet"},
	{"%PDF", "not-text"},
}

// decode returns the text and the name of the encoding it was in.
func decode(data []byte) (text, encoding string, err error) {
	if len(data) > MaxListBytes {
		return "", "", unreadable("file", fault.TooLong, "too-long", "limit", "24 MiB")
	}
	for _, n := range notText {
		if bytes.HasPrefix(data, []byte(n.start)) {
			return "", "", unreadable("file", fault.Malformed, n.why)
		}
	}
	text, encoding = toText(data)
	switch {
	case strings.ContainsRune(text, 0):
		return "", "", unreadable("file", fault.Malformed, "not-text")
	case strings.TrimSpace(text) == "":
		return "", "", unreadable("file", fault.Blank, "empty")
	}
	return text, encoding, nil
}

// toText reads what is not valid UTF-8 as Windows-1252, in which every byte is
// a letter.
func toText(data []byte) (text, encoding string) {
	switch {
	case bytes.HasPrefix(data, utf8Mark) && utf8.Valid(data):
		return string(data[len(utf8Mark):]), "UTF-8"
	case bytes.HasPrefix(data, utf16Little), bytes.HasPrefix(data, utf16Big):
		out, err := unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewDecoder().Bytes(data)
		if err == nil {
			return string(out), "UTF-16"
		}
	case utf8.Valid(data):
		return string(data), "UTF-8"
	}
	out, _ := charmap.Windows1252.NewDecoder().Bytes(data) // has a letter for every byte
	return string(out), "windows-1252"
}

// unreadable returns the error of a list or mapping that cannot be read: one
// violation, which carries why, and the sentence with the remedy as message.
func unreadable(field string, code fault.Code, why string, kv ...string) error {
	var c fault.Checks
	c.Require(false, field, code, append([]string{"why", why}, kv...)...)
	e, _ := fault.As(c.Err())
	out := *e
	out.Msg = wording.ListFault(why, out.Violations[0].Values)
	return &out
}

package quantity

import (
	"regexp"
	"strconv"
	"strings"

	"rockledger/internal/fault"
)

// Unit is a unit of length people write.
type Unit string

// The units.
const (
	InMillimetres Unit = "mm"
	InCentimetres Unit = "cm"
	InMetres      Unit = "m"
	InInches      Unit = "in"
)

// Length returns the length of one unit, 0 for a unit outside the list.
func (u Unit) Length() Length {
	switch u {
	case InMillimetres:
		return Millimetre
	case InCentimetres:
		return Centimetre
	case InMetres:
		return Metre
	case InInches:
		return Inch
	}
	return 0
}

// ParseLength reads a length as people write it: 10mm, 12 mm, 12.7, 12,7, 10cm,
// 0.1 m, 4in, 1/2 in, 3/8", 1 1/2", ½", and the thread sizes M10 and m 12, which
// are millimetres. A number without unit is in assume, which must be one of the
// units; a bare fraction, 3/8, is in inches. Fractions are proper and in halves
// to sixty-fourths.
//
// Errors are Invalid and carry the value "text": fault.Blank for nothing, "?",
// "-", "n/k", "unknown" and the like; fault.NotPositive for nought and less;
// fault.Ambiguous for 1,000 (a thousand or one); fault.NotANumber for anything
// else that cannot be read, numbers of more than nine digits among it.
func ParseLength(text string, assume Unit) (Length, error) {
	m, err := read(text)
	if err != nil {
		return 0, err
	}
	return m.in(assume), nil
}

// ParseSize reads diameter and length together, 10x80, M10 x 80mm, 12 × 100, or
// a diameter alone, with length 0: not written. Numbers without unit are
// millimetres, with one exception: beside a diameter in inches a length without
// unit is in inches too, so that 3/8 x 3 is 9.525 by 76.2 mm.
//
// Errors are those of ParseLength; a part left blank, "10 x", is fault.NotANumber.
func ParseSize(text string) (diameter, length Length, err error) {
	first, second, both := strings.Cut(crosses.Replace(text), "x")
	if !both {
		diameter, err = ParseLength(text, InMillimetres)
		return diameter, 0, err
	}
	d, err := read(first)
	if err != nil {
		return 0, 0, blame(err, text)
	}
	l, err := read(second)
	if err != nil {
		return 0, 0, blame(err, text)
	}
	assume := InMillimetres
	if d.unit == InInches {
		assume = InInches
	}
	return d.in(InMillimetres), l.in(assume), nil
}

// blame names the whole text in an error about a part of it.
func blame(err error, text string) error {
	code := fault.CodeOf(err)
	if code == fault.Blank {
		code = fault.NotANumber
	}
	return reject(code, text)
}

// measure is a number and the unit written with it, "" for none.
type measure struct {
	number float64
	unit   Unit
}

func (m measure) in(assume Unit) Length {
	if m.unit != "" {
		assume = m.unit
	}
	return Length(m.number) * assume.Length()
}

var (
	crosses = strings.NewReplacer("X", "x", "×", "x", "*", "x", "✕", "x")

	blanks = map[string]bool{
		"": true, "?": true, "??": true, "-": true, "--": true, "n/k": true, "nk": true, "n.k.": true,
		"n/a": true, "na": true, "unknown": true, "not known": true, "not recorded": true,
	}

	signs = strings.NewReplacer("″", `"`, "”", `"`, "“", `"`, "ʺ", `"`, "''", `"`, "′′", `"`, "’’", `"`,
		"⁄", "/", "−", "-", "–", "-", "\u00a0", " ",
		"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8")

	form = regexp.MustCompile(`^(?P<before>m|ø|⌀|dia\.?)? ?(?P<sign>[+-])? ?` +
		`(?:(?:(?P<whole>\d{1,3})[ -])?(?P<over>\d{1,2}) ?/ ?(?P<under>\d{1,2})|(?P<decimal>\d{1,9}(?:[.,]\d{1,9})?|[.,]\d{1,9}))` +
		` ?(?P<unit>mm|millimetres?|millimeters?|cm|centimetres?|centimeters?|m|metres?|meters?|in|inch|inches|")?\.?$`) //nolint:misspell // as people write

	units = map[string]Unit{"mm": InMillimetres, "mi": InMillimetres, "cm": InCentimetres, "ce": InCentimetres, "m": InMetres, "me": InMetres, "in": InInches, `"`: InInches}
)

// read takes a text apart.
func read(text string) (measure, error) {
	s := strings.Join(strings.Fields(signs.Replace(strings.ToLower(text))), " ")
	if blanks[s] {
		return measure{}, reject(fault.Blank, text)
	}
	found := form.FindStringSubmatch(s)
	if found == nil {
		return measure{}, reject(fault.NotANumber, text)
	}
	part := func(name string) string { return found[form.SubexpIndex(name)] }
	m := measure{unit: unitOf(part("unit"))}
	code := m.take(part)
	switch {
	case code != "":
		return measure{}, reject(code, text)
	case part("before") == "m" && m.unit != "" && m.unit != InMillimetres, part("before") == "m" && part("under") != "":
		return measure{}, reject(fault.NotANumber, text) // M10 in inches
	case part("sign") == "-" || !(m.number > 0):
		return measure{}, reject(fault.NotPositive, text)
	}
	if m.unit == "" && part("before") == "m" {
		m.unit = InMillimetres
	}
	return m, nil
}

// take sets the number, and for a bare fraction the unit.
func (m *measure) take(part func(string) string) fault.Code {
	if part("under") == "" {
		decimal := part("decimal")
		if thousands.MatchString(decimal) {
			return fault.Ambiguous
		}
		m.number, _ = strconv.ParseFloat(strings.Replace(decimal, ",", ".", 1), 64)
		return ""
	}
	over, _ := strconv.Atoi(part("over"))
	under, _ := strconv.Atoi(part("under"))
	whole, _ := strconv.Atoi(part("whole"))
	if over >= under || under > 64 || under&(under-1) != 0 {
		return fault.NotANumber
	}
	m.number = float64(whole) + float64(over)/float64(under)
	if m.unit == "" {
		m.unit = InInches
	}
	return ""
}

var thousands = regexp.MustCompile(`^[1-9]\d{0,2},\d{3}$`)

// unitOf returns the unit a word begins like.
func unitOf(word string) Unit { return units[word[:min(2, len(word))]] }

func reject(code fault.Code, text string) error {
	text = strings.TrimSpace(text)
	return fault.Reject(code, "length %q", text).With("text", text)
}

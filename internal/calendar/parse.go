package calendar

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"rockledger/internal/fault"
)

// earliestYear is the first year a date in a list of anchors is believed of;
// a default of this project. Fixed iron on rock is hardly older.
const earliestYear = 1850

// circaYears is how far "c." reaches either way; a default of this project.
const circaYears = 2

// ParseSpan reads one date as people write it in a list:
//
//   - 2016-05-12, 2016-05, 2016, 20160512; also with a time of day behind it,
//     which is dropped;
//   - 12/05/2016, 12-05-2016 in the given order, 12.05.2016 always day first;
//   - 03.04.97: the latest such year that is not ahead of asOf's;
//   - 12 May 2009, 12th May 2009, May 12, 2009, 12-May-09, May 2009, 05/2009;
//   - 2001-03-04 to 2002-05-06, 2001-03-04/2002-05-06: these two days and those
//     between;
//   - spring, summer, autumn, fall 2003: March to May, June to August,
//     September to November; winter 2014: December 2013 to February 2015, since
//     it may mean either; winter 2013/14: the one between;
//   - 1997-99, 1997 to 1999, 1990s; 2004/05: from 2004 to 2005, which takes in
//     May 2004 too; early, mid and late do not narrow;
//   - c. 1998, ca 1998, circa, about, around, approx., ~1998, 1998?, 1998ish:
//     two years either way of whatever else is written;
//   - nothing, ?, -, n/k, n/a, unknown, not known, not recorded: a span that is
//     not known, without error.
//
// Words keeps the text as written, without space around it, also in the span
// returned with an error, whose ends are zero. A range that only partly lies
// ahead of asOf is clipped to asOf. asOf must be a date.
//
// Of "not read: 12/13/2014", as Span.Text writes it, the words behind the mark
// are kept and nothing is read.
//
// Errors are Invalid: fault.NotADate when nothing can be read,
// fault.NoSuchDay for 31/02/2012, fault.DayMonthMisfit for a day and month that
// would only do the other way round, fault.DateAhead for what lies wholly ahead
// of asOf, fault.OutOfRange for what begins before 1850, fault.Order for a range
// that ends before it begins. Each carries the value "text". Without asOf the
// error is Internal.
func ParseSpan(text string, order Order, asOf Date) (Span, error) {
	words := strings.TrimSpace(text)
	if asOf == 0 {
		return Span{Words: words}, fault.New(fault.Internal, "date %q: read without a day to read it on", words)
	}
	if rest, marked := strings.CutPrefix(words, unread); marked {
		return Span{Words: strings.TrimSpace(rest)}, fault.Reject(fault.NotADate, "date %q", words).With("text", words)
	}
	from, to, code := reader{order, asOf}.read(fold(words))
	if code == "" {
		from, to, code = clip(from, to, asOf)
	}
	if code != "" {
		return Span{Words: words}, fault.Reject(code, "date %q", words).With("text", words)
	}
	return Span{From: from, To: to, Words: words}, nil
}

// fold brings a text to lower case, plain dashes and single spaces.
func fold(s string) string {
	s = dashes.Replace(strings.ToLower(s))
	return strings.Join(strings.Fields(s), " ")
}

var dashes = strings.NewReplacer("–", "-", "—", "-", "−", "-", "‐", "-", "‑", "-", "’", "'", "‘", "'", "≈", "~", "\u00a0", " ")

// clip holds a range against asOf and the earliest year.
func clip(from, to, asOf Date) (Date, Date, fault.Code) {
	switch {
	case from == 0 && to == 0:
		return 0, 0, ""
	case from > asOf:
		return 0, 0, fault.DateAhead
	case from < NewDate(earliestYear, time.January, 1):
		return 0, 0, fault.OutOfRange
	}
	return from, min(to, asOf), ""
}

// reader reads folded texts.
type reader struct {
	order Order
	asOf  Date
}

var (
	unknownWords = []string{
		"", "?", "??", "???", "-", "--", "---", "n/k", "nk", "n.k.", "n/a", "na", "unknown", "unkn", "unkn.",
		"not known", "not recorded", "no date", "tbc",
	}
	timeOfDay   = regexp.MustCompile(`^(\d{4}-\d{1,2}-\d{1,2}|\d{1,2}[./-]\d{1,2}[./-]\d{2,4})(?: |t)\d{1,2}:\d{2}(?::\d{2}(?:\.\d{1,9})?)?(?: ?z| ?[+-]\d{2}:?\d{2})?$`)
	circaBefore = regexp.MustCompile(`^(?:c|ca|circa|about|abt|around|approx|approximately|roughly)(?:\. ?| |$)|^(?:c|ca)\.?(?:\d)|^~ ?`)
	circaAfter  = regexp.MustCompile(` ?(?:\(\?\)|\?+|ish|-ish| or so| approx\.?| ca\.?)$`)
)

// read returns the range of a folded text, two zeros for "not known", or why
// not.
func (r reader) read(s string) (from, to Date, code fault.Code) {
	if slices.Contains(unknownWords, s) {
		return 0, 0, ""
	}
	if strings.Contains(s, ":") {
		if m := timeOfDay.FindStringSubmatch(s); m != nil {
			s = m[1]
		}
	}
	bare, circa := stripCirca(s)
	for _, f := range forms {
		m := f.pattern.FindStringSubmatch(bare)
		if m == nil {
			continue
		}
		from, to, code = f.read(r, m)
		if code == "" && circa {
			from, to = from.AddYears(-circaYears), to.AddYears(circaYears)
		}
		return from, to, code
	}
	return 0, 0, fault.NotADate
}

// stripCirca takes off what says "about", before or behind. Most dates begin and
// end with a figure, and before and behind a figure nothing says so.
func stripCirca(s string) (string, bool) {
	if s != "" && isFigure(s[0]) && isFigure(s[len(s)-1]) {
		return s, false
	}
	bare := s
	if at := circaBefore.FindStringIndex(bare); at != nil {
		end := at[1]
		if isFigure(bare[end-1]) { // "c1998"
			end--
		}
		bare = bare[end:]
	}
	if at := circaAfter.FindStringIndex(bare); at != nil {
		bare = bare[:at[0]]
	}
	return bare, bare != s
}

func isFigure(b byte) bool { return b >= '0' && b <= '9' }

package web

// The helpers of html_test.go, for the tests through the whole stack.
var (
	Parse = parse
	All   = all
	One   = one
	Attr  = attr
	Text  = text
	Texts = texts
	Tag   = tag
	Has   = has
	Class = class
)

// TodayRows is how many anchors each part of Today shows.
const TodayRows = todayRows

// StyleHref is where the style sheet is.
func StyleHref() string { return staticHref("rockledger.css") }

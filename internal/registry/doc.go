// Package registry holds the nouns of an anchor register: places, anchors and
// what hangs on them, the records of what was done, and what the register
// concludes from them. It answers what a valid noun is; it computes no date,
// no standing and no load.
//
// Values of closed lists are written in words joined by hyphens ("sea-cliff"),
// the same in Go, SQL, JSON and forms. The empty value of such a type means
// "not known", never "none". A nil pointer or an empty span likewise means not
// known.
package registry

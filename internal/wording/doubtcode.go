package wording

import (
	"cmp"
	"fmt"

	"rockledger/internal/registry"
)

// doubtsOfMany say what is doubted or refused of many rows at once, for codes
// whose clause names values of one row.
var doubtsOfMany = map[string]string{
	registry.DoubtCheckedFirst:      "the last check lies before the anchor was set",
	registry.DoubtSetAfterReplace:   "the anchor was set after it is said to have been replaced",
	registry.DoubtLengthImplausible: "a size is not to be believed",
	registry.DoubtTwoSizes:          "the length in the size is not the one in the length column",
	registry.DoubtStateGuessed:      "the words of a state can be read in more than one way",
	registry.DoubtStateFormMisfit:   "the state does not fit the type of anchor",
	registry.DoubtPositionNotNamed:  "the position has no name, and was given one",
	registry.DoubtSiteFromAbove:     "the row names no site, and was given that of the row above",
	registry.DoubtNameShortened:     "a name is too long",
	registry.DoubtColumnGuessed:     "a column was taken for something by what is in it",
	registry.DoubtDayEverywhere:     "the same day stands in many rows at several sites",
	registry.DoubtColumnCopied:      "the same value runs down many rows, over several sites",
	registry.DoubtUnwritten:         "this held a character that was broken on the way or cannot be seen",
	registry.RefusedNotFromList:     "this anchor came from no list, and the register says something else of it",
	registry.RefusedSpotRepeated:    "another line says something else about the same position",
	registry.RefusedMoved:           "the anchor of this id stands elsewhere",
	registry.RefusedInvalid:         "the row cannot be entered because of one of its fields",
}

// remediesOfMany say what to do where the remedy of one row names its values.
var remediesOfMany = map[string]string{
	registry.RefusedInvalid: "Each refusal that is listed names the field and the remedy. A row must name a position and say something of an anchor there.",
}

// ImportCodeCount says how often a list gave rise to the same doubt or refusal,
// and what to do: "3 × there is no such day. Left as not known, …".
func ImportCodeCount(code string, n int) string {
	what, remedy := Doubt(registry.Doubt{Code: code})
	what, remedy = cmp.Or(doubtsOfMany[code], what), cmp.Or(remediesOfMany[code], remedy)
	return fmt.Sprintf("%d × %s. %s", n, what, remedy)
}

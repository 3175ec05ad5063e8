package registry

// The codes of a Doubt: what cannot be right on a list, or had to be guessed.
// The field in question is left not known and the text kept as written, unless
// said otherwise.
const (
	DoubtDateNotRead     = "date-not-read"
	DoubtDateAhead       = "date-ahead"
	DoubtNoSuchDay       = "no-such-day"
	DoubtDayMonthMisfit  = "day-month-misfit"
	DoubtCheckedFirst    = "checked-before-set"    // both dates are kept
	DoubtSetAfterReplace = "set-after-replacement" // the date of the replacement is not known

	DoubtLengthNotRead     = "length-not-read"
	DoubtLengthNegative    = "length-negative"
	DoubtLengthImplausible = "length-implausible"
	DoubtTwoSizes          = "two-sizes" // the length column counts

	DoubtMetalNotRead    = "metal-not-read"
	DoubtTypeNotRead     = "type-not-read"
	DoubtRoleNotRead     = "role-not-read"
	DoubtSiteKindNotRead = "site-kind-not-read"
	DoubtStateNotRead    = "state-not-read"
	DoubtStateGuessed    = "state-guessed"     // taken as the state in Values
	DoubtStateFormMisfit = "state-form-misfit" // the state is kept

	DoubtCoordinatesNotRead = "coordinates-not-read"
	DoubtCoordinatesSwapped = "coordinates-swapped" // put right
	DoubtCoordinatesFar     = "coordinates-far"
	DoubtCoordinatesOfCave  = "coordinates-of-cave" // kept as written on the site

	DoubtPositionNotNamed = "position-not-named" // named by its order on the route
	DoubtSiteFromAbove    = "site-from-above"    // taken from the row before
	DoubtNameShortened    = "name-shortened"
	DoubtTooManyCells     = "too-many-cells"
	DoubtTooFewCells      = "too-few-cells"
	DoubtColumnGuessed    = "column-guessed" // taken for the field in Values
	DoubtIDNotRead        = "id-not-read"
	DoubtIDsNotRead       = "ids-not-read"   // a column of ids that are not of this register
	DoubtDayEverywhere    = "day-everywhere" // one day at many sites; all are kept
	DoubtUnwritten        = "unwritten"      // characters that nobody writes; the rest is kept
	DoubtColumnCopied     = "column-copied"  // one value down many rows; all are kept
)

// The codes of a refusal: why a row of a list was not entered.
const (
	RefusedSiteNotNamed  = "site-not-named"
	RefusedDiffers       = "differs"         // from a row entered before of which nothing was kept to compare it with
	RefusedSpotRepeated  = "spot-repeated"   // an earlier line of the list, in Values, says otherwise
	RefusedPositionTaken = "position-taken"  // the position holds an anchor that came from no list
	RefusedInvalid       = "row-not-entered" // a field, in Values, cannot be stored

	// Of a corrected list.
	RefusedMoved       = "row-moved"         // the anchor of this id stands at another position
	RefusedKindChanged = "site-kind-changed" // the kind of the site is another one
	RefusedGone        = "removal-changed"   // the list before said that the anchor was removed or replaced
	RefusedNoSuchID    = "no-such-id"        // the id is of no anchor here
	RefusedNotFromList = "not-from-list"     // the anchor of this id came from no list, and the row differs from it
)

// DoubtCodes lists the codes of doubts and of refusals.
func DoubtCodes() []string {
	return []string{
		DoubtDateNotRead, DoubtDateAhead, DoubtNoSuchDay, DoubtDayMonthMisfit, DoubtCheckedFirst, DoubtSetAfterReplace,
		DoubtLengthNotRead, DoubtLengthNegative, DoubtLengthImplausible, DoubtTwoSizes,
		DoubtMetalNotRead, DoubtTypeNotRead, DoubtRoleNotRead, DoubtSiteKindNotRead,
		DoubtStateNotRead, DoubtStateGuessed, DoubtStateFormMisfit,
		DoubtCoordinatesNotRead, DoubtCoordinatesSwapped, DoubtCoordinatesFar, DoubtCoordinatesOfCave,
		DoubtPositionNotNamed, DoubtSiteFromAbove, DoubtNameShortened, DoubtTooManyCells, DoubtTooFewCells,
		DoubtColumnGuessed, DoubtIDNotRead, DoubtIDsNotRead, DoubtUnwritten, DoubtColumnCopied, DoubtDayEverywhere,
		RefusedSiteNotNamed, RefusedDiffers, RefusedSpotRepeated, RefusedPositionTaken, RefusedInvalid,
		RefusedMoved, RefusedKindChanged, RefusedGone, RefusedNoSuchID, RefusedNotFromList,
	}
}

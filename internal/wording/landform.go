package wording

import (
	"fmt"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Sentences of the pages on which land is entered and changed.
const (
	NoneParcels      = "No parcel is recorded."
	LandStale        = "Nothing was changed: somebody changed this after you read it. What you typed stands below; send it again to put it in place of what is kept now."
	LandBefore       = "This form had been entered before, and what was changed in it since was not. Change what is listed below."
	ContactHelp      = "Only the group's owners see this."
	OwnerEndedHelp   = "Give each of the landowner's parcels to another, or end it, before. Left out: still a landowner."
	ParcelEndedHelp  = "Left out: it stands."
	OutlineHelp      = "A polygon in degrees (WGS 84, longitude first), as a map program saves it. Positions inside become the parcel's. Left out: not drawn."
	OutlineFileHelp  = "A file with one polygon or one feature. It takes the place of what stands in the field above."
	AgreementHelp    = "A permission is a landowner's, a consent an authority's."
	ConditionsHelp   = "What was agreed, in its own words."
	HoldsUntilHelp   = "Left out: it holds until further notice."
	RestrictionHelp  = "Either every year, from one day of the year to another, or once from a day on. A window may run over new year. With a window, the days below say from when and until when it holds at all."
	BarredFromHelp   = "Needed without a window. With one, left out: in every year."
	WeightHelp       = "A request bars like a law does; the weight is told with it."
	ConfirmedOnHelp  = "When somebody last asked whether this still holds. Left out: never."
	RecordedOwner    = "The landowner has been entered."
	RecordedParcel   = "The parcel has been entered. Positions inside its outline are its own now."
	RecordedAgree    = "The agreement has been entered."
	RecordedRestrict = "The restriction has been entered. The last open days before due dates take it into account."
)

// landKinds name what is entered of land: one of it, and several as a heading.
var landKinds = map[string][2]string{
	"landowner":   {"landowner", "Landowners"},
	"parcel":      {"parcel", "Parcels"},
	"agreement":   {"permission or consent", "Permissions and consents"},
	"restriction": {"restriction", "Restrictions"},
}

// LandAdd heads the form that adds one of a kind.
func LandAdd(kind string) string { return "Add a " + landKinds[kind][0] }

// LandChange heads the form that changes one of a kind.
func LandChange(kind string) string { return "Change a " + landKinds[kind][0] }

// LandHeading heads the list of a kind.
func LandHeading(kind string) string { return landKinds[kind][1] }

// LandKept says what is kept in a field where something else was typed.
func LandKept(field, value string) string {
	if value == "" {
		return field + ": nothing is kept now."
	}
	return field + ": kept now is “" + value + "”."
}

// Parcel says whose a parcel is, how large, and since when no longer.
func Parcel(p registry.Parcel, owner string) []string {
	lines := []string{"Land of " + owner + "."}
	if p.AreaM2 == nil {
		lines = append(lines, "Not drawn.")
	} else {
		lines = append(lines, fmt.Sprintf("%.2f ha by its outline.", *p.AreaM2/squareMetresPerHectare))
	}
	if !p.EndedOn.IsZero() {
		lines = append(lines, NoLongerSince(p.EndedOn))
	}
	return lines
}

const squareMetresPerHectare = 10_000 // exact

// ParcelsHeld names the parcels of a landowner.
func ParcelsHeld(names []string) string {
	if len(names) == 0 {
		return "No parcels."
	}
	return "Parcels: " + strings.Join(names, ", ") + "."
}

// AboutLandOf says whose land an agreement is about.
func AboutLandOf(owner string) string { return "About land of " + owner + "." }

// NoLongerSince says since when something is no more.
func NoLongerSince(day calendar.Date) string { return "No longer since " + day.Words() + "." }

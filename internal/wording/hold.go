package wording

import (
	"strconv"
	"strings"

	"rockledger/internal/registry"
)

// Sentences of the pages about legal holds and about erasing a person's name.
const (
	HoldsHelp = "While a legal hold is in force, nobody whom it covers can be erased, and what they are called cannot be changed. " +
		"Any steward may place one, over everything too; only an owner lifts it."
	NoneHolds     = "There is no legal hold."
	HoldUntilHelp = "The last day. Left blank, it holds until it is lifted."
	RecordedHold  = "The legal hold is in force."
	LiftedHold    = "The legal hold is lifted from today."

	PersonNumber = "Number in the ledger"
	PeopleHelp   = "Whom the records of this group name. A name can be erased for good; the records stay."
	EraseHelp    = "Records stay, and name “" + registry.ErasedName + "” from then on. Nobody can bring the name back, " +
		"not even from the ledger, which says only that it was erased, when, by whom and why. Free text, imported lists and backups " +
		"are not searched for it. While a legal hold covers the person, nothing is erased."
	EraseOwnerHelp = "The name, the contact and the issuer of each permission go for good, and the name and the contact’s numbers and addresses where " +
		"they stand in names of parcels, agreements and restrictions on this land. Reports say from then on when the name was erased. Nobody can bring it back, " +
		"not even from the ledger. Notes, imported lists, what older entries of the ledger tell of conditions and reasons, and backups are not searched. " +
		"While a legal hold covers the landowner, nothing is erased."
	EraseReasonHelp  = "It stays on record: write it without the name."
	EraseConfirmHelp = "Type the name once more, as it stands above."
)

var holdOvers = map[registry.HoldOver]string{
	registry.HoldAll: "everything", registry.HoldSite: "a site", registry.HoldAnchor: "an anchor", registry.HoldPerson: "a person",
	registry.HoldLandowner: "a landowner",
}

// LandownerErased says what became of a landowner who was erased, and of what
// words named them.
func LandownerErased(done registry.LandTold) string {
	text := OwnerErased
	if n := len(done.Parcels) + len(done.Agreements) + len(done.Restrictions); n > 0 {
		text += " Named no longer in " + strings.Join([]string{
			count(len(done.Parcels), "name of a parcel", "names of parcels"), count(len(done.Agreements), "agreement", "agreements"),
			count(len(done.Restrictions), "restriction", "restrictions"),
		}, ", ") + "."
	}
	return text + " " + OwnerNotSearched
}

// HoldOver names what a legal hold is over.
func HoldOver(over registry.HoldOver) string { return holdOvers[over] }

// HoldChoice names one thing that a legal hold can be over: "Site: Example Crag".
func HoldChoice(over registry.HoldOver, name string) string {
	switch over {
	case registry.HoldAll:
		return "Everything"
	case registry.HoldSite:
		return "Site: " + name
	case registry.HoldAnchor:
		return "Anchor: " + name
	case registry.HoldPerson:
		return "Person: " + name
	}
	return "Landowner: " + name
}

// HoldFound says what a search for what a hold is to be over has found.
func HoldFound(shown, matching int, searched bool) string {
	switch {
	case !searched:
		return "Type part of a name, or of a route and a position, to find what it is over."
	case matching == 0:
		return "Nothing has that in it. Try less of it."
	case shown < matching:
		return "The first " + strconv.Itoa(shown) + " of those that match. Type more to see the others."
	case matching == 1:
		return "One matches."
	}
	return strconv.Itoa(matching) + " match."
}

// LegalHold says what a legal hold is over and how long: "Over a site, until
// 3 May 2026."
func LegalHold(h registry.LegalHold) string {
	text := "Over " + HoldOver(h.Over)
	if h.Over == registry.HoldPerson || h.Over == registry.HoldLandowner {
		text += " (" + h.OverID.String() + ")"
	}
	switch {
	case !h.LiftedOn.IsZero():
		return text + ", lifted on " + h.LiftedOn.Words() + "."
	case !h.Until.IsZero():
		return text + ", until " + h.Until.Words() + "."
	}
	return text + ", until it is lifted."
}

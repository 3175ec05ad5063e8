package wording

import "rockledger/internal/registry"

// Sentences of the pages about legal holds and about erasing a person's name.
const (
	HoldsHelp     = "While a legal hold is in force, nobody whom it covers can be erased."
	NoneHolds     = "There is no legal hold."
	HoldOverHelp  = "The id of the site, anchor or person: for a site or an anchor it ends the address of its page. Leave it blank for a hold over everything."
	HoldUntilHelp = "The last day. Left blank, it holds until it is lifted."
	RecordedHold  = "The legal hold is in force."
	LiftedHold    = "The legal hold is lifted from today."

	PeopleHelp = "Whom the records of this group name. A name can be erased for good; the records stay."
	EraseHelp  = "Records stay, and name “" + registry.ErasedName + "” from then on. Nobody can bring the name back, " +
		"not even from the ledger, which says only that it was erased, when, by whom and why. Free text, imported lists and backups " +
		"are not searched for it. While a legal hold covers the person, nothing is erased."
	EraseReasonHelp  = "It stays on record: write it without the name."
	EraseConfirmHelp = "Type the name once more, as it stands above."
)

var holdOvers = map[registry.HoldOver]string{
	registry.HoldAll: "everything", registry.HoldSite: "a site", registry.HoldAnchor: "an anchor", registry.HoldPerson: "a person",
}

// HoldOver names what a legal hold is over.
func HoldOver(over registry.HoldOver) string { return holdOvers[over] }

// LegalHold says what a legal hold is over and how long: "Over a site, until
// 3 May 2026."
func LegalHold(h registry.LegalHold) string {
	text := "Over " + HoldOver(h.Over)
	if h.Over == registry.HoldPerson {
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

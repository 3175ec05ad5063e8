package wording

import "rockledger/internal/metal"

// Sentences of the forms in which places and what describes an anchor are
// added and changed.
const (
	FormStale = "Somebody changed this while the form was open, so nothing of yours has been stored yet. What you typed stands below. " +
		"Where it says otherwise than what is stored now, that stands beside it: make up your mind about each, then send the form again."
	NothingStored = "nothing"

	SitePlaceHelp = "Both, or neither, and neither for a cave. Degrees with a decimal point, of the middle of the crag."
	CaveWordsHelp = "Only for a cave. Stewards and owners alone see them, and no map shows them."
	RockWordsHelp = "For example limestone, or gritstone with soft bands."
	SiteRoundHelp = "Of a site whose anchors came from a list: until then those that nobody has inspected yet await their first round. Left blank, none is planned."
	EndedHelp     = "Left blank, it is looked after. What has ended is on no list any more and keeps its records. No anchor may stand here then: record first how each came out."
	NoSector      = "In none"

	ParcelHelp      = "A person's word counts before the outlines: caves run under other people's land."
	ParcelByOutline = "Worked out from the outlines and the coordinates"
	ParcelNone      = "Nobody's that is on record"

	OrderHelp = "Number the positions from the foot or the entrance. To put one between 2 and 3, number it 2.5: what counts is only which number is lower. " +
		"All are stored at once."
	OrderChanged   = "The positions stand in the new order."
	PositionEnded  = "no longer in use"
	RecordedSite   = "The site has been added. Its sectors and routes come next."
	SiteBefore     = "This site was added before, and has been left as it is. If the form said something else the second time, it was not taken."
	ChangedSite    = "The site stands as below."
	RecordedSector = "The sector has been added. Its routes come next."
	SectorBefore   = "This sector was added before, and has been left as it is. If the form said something else the second time, it was not taken."
	ChangedSector  = "The sector stands as below."
	RecordedRoute  = "The route has been added. Its positions come next."
	RouteBefore    = "This route was added before, and has been left as it is. If the form said something else the second time, it was not taken."
	ChangedRoute   = "The route stands as below."

	ChangedPosition = "The position stands as below."
	ChangedAnchor   = "What describes the anchor stands as below. It has been assessed anew."
)

// keepHelps explain the form for each kind of thing.
var keepHelps = map[string]string{
	"site":   "A crag or a cave. Only its name and kind are needed; what is left open counts as not known.",
	"sector": "A part of a site, such as a buttress or a series of a cave.",
	"route":  "A climb, a pitch, a traverse or an abseil. What is left open counts as not known.",
	"position": "What is left open counts as not known, which never makes an anchor look better. " +
		"Where it comes on its routes is set on the page of each route.",
	"anchor": "What was written down wrongly or was not known. What was done to it is a record, and so is how it was set: correct that on its own page. " +
		"The anchor is assessed anew; nothing here lifts what a person decided.",
}

// KeepHelp explains the form for one kind of thing.
func KeepHelp(noun string) string { return keepHelps[noun] }

// StoredNow says what is stored by now, beside what was typed.
func StoredNow(value string) string { return "Stored now: " + value }

// ChangeOf is the heading of the form that changes a thing: "Change the site
// Example Crag". An anchor is named by its position.
func ChangeOf(noun, name string) string {
	if noun == "anchor" {
		return "Change the anchor at " + name
	}
	return "Change the " + noun + " " + name
}

// MetalRead explains the field for an anchor's metal in words.
func MetalRead(known metal.Set) string {
	return "For example 316L, A4, titanium grade 2, zinc plated. Now it counts as: " + Metal(known, "") +
		". Words that cannot be read change nothing of that; where they are taken out, the metal counts as not known."
}

// SitesEnded counts the sites that are looked after no longer.
func SitesEnded(n int) string { return count(n, "site", "sites") + " looked after no longer" }

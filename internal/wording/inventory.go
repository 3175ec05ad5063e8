package wording

import "rockledger/internal/registry"

// Sentences of the forms for positions, anchors and corrected settings.
const (
	PositionAddHelp   = "One spot where an anchor belongs. Only its name is needed; what is left open counts as not known, which never makes an anchor look better."
	PositionLabelHelp = "What people call it here, for example Runner 5 or Belay left."
	PositionFindHelp  = "So that somebody who has never been here finds it, for example: left of the crack, at arm's reach above the ledge."
	PositionPlaceHelp = "Both, or neither. Only if it was measured here: a place on the map that is a guess sends people to the wrong spot."
	PositionFirst     = "First, at the foot or the entrance"
	PositionLast      = "Last"
	RecordedPosition  = "The position has been added."
	PositionBefore    = "This position was added before, and what stands there has been left as it is. If the form said something else the second time, it was not taken."
	AnchorFreshHelp   = "An anchor that is glued in now is entered with its gluing card, so that it is on record how it was set and nobody uses it before its first use is allowed."
	AnchorAddHelp     = "For an anchor that stands here already and is not in the register. One that was glued in now is entered with its gluing card: that keeps people off it until its first use is allowed."
	AnchorFormHelp    = "What is not known stays open. A guess goes into the notes."
	AnchorMetalHelp   = "For example 316L, A4, titanium grade 2, zinc plated. Left open, it is the product's."
	AnchorLengthHelp  = "Not the length in the rock."
	AnchorSetHelp     = "As exactly as it is known: 12 May 2016, May 2016, 2013, c. 1998. Left open, it counts as not known."
	RecordedAnchor    = "The anchor has been entered. Standing and dates below rest on what is known of it so far."
	AnchorBefore      = "This anchor was entered before, and what stands here has been left as it is. If the form said something else the second time, it was not taken."
	SetByLabel        = "Set by"
	CorrectHelp       = "What was recorded stays and is marked as corrected; this one then counts. What the session says holds where a field here is left open."
	CorrectDayHelp    = "As exactly as it is known: 12 May 2016, May 2016, 2013, c. 1998."
	CorrectListed     = "This came from a list. Corrected here, it counts as recorded here: a bonded anchor is then not in use until its first use is allowed."
	CorrectSetByHelp  = "Left open, it is whoever the session names. A name is needed where the anchor then stands better than before."
	CorrectWordsHelp  = "Say why it is corrected. That is needed where the anchor then stands better than before."
	CorrectedSetting  = "The record of how it was set has been corrected. The anchor has been assessed anew."
)

// SettingOf names the record of how an anchor was set: "Set on 2 May 2026".
func SettingOf(i *registry.Installation) string { return "Set " + On(i.DoneOn) }

// PositionAfter is a place on a route.
func PositionAfter(label string) string { return "After " + label }

package wording

import (
	"fmt"
	"strings"

	"rockledger/internal/registry"
)

// Sentences of the page of proposals.
const (
	ProposalsHelp = "What the notes of imported lists seem to say. Nothing of it counts until a steward accepts it; what is declined is not proposed again. " +
		"Look at the words, not only at what was made of them."
	NoProposals        = "No note waits to be accepted or declined."
	ProposalsNone      = "Tick at least one, then accept or decline."
	ProposalsUndecided = "Nothing was accepted or declined yet. Press one of the buttons below for what is ticked."
	ProposalsTicked    = "Boxes of all parts of this page count together. A row ticked by itself counts without the rest of its group."
	ProposalsConflict  = "Some of these are decided already; nothing was changed. Below is what is still open."
)

// dateBasis says what a proposed date was counted from.
var dateBasis = map[registry.CountedFrom]string{
	registry.FromCheck:   "counted from the last check on the list",
	registry.FromReading: "counted from the day the list was read, since it names no last check",
	registry.AsStated:    "as the note says",
}

// Proposal says what the words of a note would become: "No climbing from 1
// March to 31 July every year, on request."
func Proposal(n registry.Noted) string {
	switch n.Kind {
	case registry.ProposesRestriction:
		r := registry.Restriction{Kind: n.Bars, Yearly: n.Yearly}
		return barred[r.Kind] + " " + when(r) + ". It counts as one " + behind[n.Weight] + ": the note does not say what stands behind it."
	case registry.ProposesAgreement:
		return "A condition of the landowner's permission."
	case registry.ProposesRole:
		return "The position is for: " + strings.ToLower(Label(n.Role)) + "."
	case registry.ProposesObservation:
		return "Seen at the anchor: " + strings.ToLower(Label(n.Observation)) + "."
	case registry.ProposesDate:
		return "To be inspected by " + n.InspectBy.Words() + ", " + dateBasis[n.CountedFrom] + "."
	case registry.ProposesEnvironment:
		return proposedPlace(n)
	}
	return "Not known."
}

func proposedPlace(n registry.Noted) string {
	var parts []string
	if n.Wetness != "" {
		parts = append(parts, "the rock is "+wet[n.Wetness])
	}
	if n.Washed != nil && *n.Washed {
		parts = append(parts, "rain washes the rock")
	} else if n.Washed != nil {
		parts = append(parts, "rain does not wash the rock")
	}
	return capital(strings.Join(parts, "; ")) + "."
}

var wet = map[registry.Wetness]string{
	registry.Dry:      "dry",
	registry.Dripping: "dripping wet",
	registry.Stream:   "in a stream or its spray",
}

// ProposalKindName names a kind of proposal, as a heading.
func ProposalKindName(k registry.ProposalKind) string {
	switch k {
	case registry.ProposesRestriction:
		return "Restrictions"
	case registry.ProposesAgreement:
		return "Conditions of landowners"
	case registry.ProposesObservation:
		return "Things seen"
	case registry.ProposesDate:
		return "Dates"
	case registry.ProposesEnvironment:
		return "Climate of the place"
	case registry.ProposesRole:
		return "What anchors are for"
	}
	return Label(k)
}

// AcceptingMakes says what accepting a proposal does.
func AcceptingMakes(k registry.ProposalKind) string {
	switch k {
	case registry.ProposesRestriction:
		return "Accepting makes one restriction of the nearest place whose standing anchors all carry the note, else one of each position."
	case registry.ProposesAgreement:
		return "Accepting makes an agreement of the landowner of the positions, with the note as its condition. It takes a landowner on record."
	case registry.ProposesObservation:
		return "Accepting records a glance from the list on the day of its last check. It never clears anything."
	case registry.ProposesDate:
		return "Accepting records a glance from the list with the verdict to watch the anchor and this date. It never clears anything."
	case registry.ProposesEnvironment:
		return "Accepting states it of each position from today."
	case registry.ProposesRole:
		return "Accepting changes what the position is for."
	}
	return ""
}

// ProposalsWait says how many notes wait for a decision; blank for none.
func ProposalsWait(n int) string {
	switch n {
	case 0:
		return ""
	case 1:
		return "1 note of an imported list waits to be accepted or declined."
	}
	return fmt.Sprintf("%d notes of imported lists wait to be accepted or declined.", n)
}

// ProposalsOfList says how many notes a list gave to decide on; blank for none.
func ProposalsOfList(dryRun bool, n int) string {
	switch {
	case n == 0:
		return ""
	case dryRun:
		return count(n, "note", "notes") + " would wait to be accepted or declined."
	case n == 1:
		return "1 note waits to be accepted or declined."
	}
	return fmt.Sprintf("%d notes wait to be accepted or declined.", n)
}

// ProposalsWhere says where notes are accepted or declined, for those who are
// on no page.
const ProposalsWhere = "A steward does that on the page Proposals from lists (/g/{group}/proposals), or with GET /v1/proposals and POST /v1/proposals/decide."

// ProposalsDecided says what a decision did.
func ProposalsDecided(accepted bool, n, made int) string {
	if !accepted {
		return fmt.Sprintf("%s declined. They stay on record as declined and are not proposed again.", count(n, "proposal", "proposals"))
	}
	return fmt.Sprintf("%s accepted: %s made or changed.", count(n, "proposal", "proposals"), count(made, "entry", "entries"))
}

// Made says what accepting proposals made: "A new restriction of the site."
func Made(noun string, at registry.PlaceKind, known bool) string {
	text := "A new " + noun
	switch {
	case noun == "position":
		return "The position has the role now."
	case known:
		text = "A " + noun + " that was on record already"
	}
	if noun == "environment" {
		text = strings.Replace(text, "environment", "statement about the climate", 1)
	}
	if noun == "agreement" {
		text = strings.Replace(strings.Replace(text, "A agreement", "An agreement", 1), "agreement", "agreement with the landowner", 1)
	}
	if at != "" {
		text += ", of the " + string(at)
	}
	return text + "."
}

// undecidable says why a proposal cannot be decided as asked.
var undecidable = map[string]string{
	"decided":      "This proposal is decided already. Read the open ones again.",
	"gone":         "The anchor or its position is no longer there. Decline this proposal.",
	"no-landowner": "It is not known whose land the position is on, so that there is nobody whose condition this is. Enter the landowner and the parcel, then accept it; or decline it.",
	"two-roles":    "Two of these give the same position different roles. Accept one of them, and decline the other.",
}

// AcceptAll names the button that accepts n of the proposals that stand together,
// all of them if that many may be decided at once.
func AcceptAll(n, all int) string {
	if n < all {
		return fmt.Sprintf("Accept the first %d of these %d", n, all)
	}
	if n == 1 {
		return "Accept this one"
	}
	return fmt.Sprintf("Accept all %d of these", n)
}

// MoreRows says how many rows are not shown.
func MoreRows(n int) string { return "And " + count(n, "more row.", "more rows.") }

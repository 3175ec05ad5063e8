package wording

import (
	"strings"
	"time"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Sentences of the gluing form and the pages of gluing sessions.
const (
	GluingHelp        = "For several anchors from one cartridge, in the order of the paper card. Every field may stay open: what is not recorded is not the same as “no”."
	GluingBatchHelp   = "As printed on the cartridge. A batch that the register does not know yet is added; of one it knows, the expiry may stay open."
	GluingTimeHelp    = "For example 14:05, or about 14:00."
	GluingNightHelp   = "The lowest that the rock will be until release, the night included."
	GluingAllHelp     = "What is the same for all anchors below. A line's own entry comes before it; a dash (-) in a line leaves it not recorded there."
	GluingLineHelp    = "A line with nothing of its own, not ticked, counts as not set. Only positions in the register can be chosen; a position where an anchor still stands takes a new one once it is recorded how the old one came out."
	GluingNoPlace     = "Where was it?"
	GluingNoPositions = "There is no position here yet. A steward adds them on the page of the route; then come back."
	GluingNothing     = "No line is filled in or ticked as set. Fill in at least one anchor."
	RecordedGluing    = "The gluing session has been recorded. None of its anchors is in use yet: a named person allows first use, anchor by anchor."
	GluingNoPicture   = "The gluing session has been recorded, but not every picture could be taken. Add what is missing on the anchor's page. None of its anchors is in use yet."
	GluingPictureHelp = "Pictures are JPEG, PNG or WebP of at most 15 MiB, those of one card together less than 30 MiB. If this form comes back, choose them again."
	GluingCorrectHelp = "What was recorded stays and is marked as corrected. What was set in the session then reads this one; a mistake about one anchor is put right at that anchor."
	CorrectedGluing   = "The session has been corrected. Its anchors are assessed anew."
	RecordedCure      = "What was found out about the cure has been recorded."
	RecordedFirstUse  = "First use has been allowed. Standing and dates below take it into account."
	NoneGluing        = "No gluing session is recorded here."
	SettingHeld       = "In doubt. Check this while it can still be put right:"
	NoneInstallations = "No anchor is recorded in this session."
	GluingReplaced    = "This session has been corrected. The later one counts."
	FirstUseHelp      = "A named person allows the anchor to be used, after looking at it and at the kept sample. Time alone never does."
	FirstUseAtHelp    = "Left out, some time on that day. For example 18:30."
	SampleHelp        = "A sample that stayed soft means that the anchor must not be used: record it as out of use (inspection, take out of use), and leave first use."
	CureHelp          = "What the label says, for an adhesive without a sheet in the register; the coldest the rock became; or that it was loaded before its time."
	LoadedAtHelp      = "Only if somebody loaded the anchor. For example 14:30."
	LabelRowHelp      = "The rock temperature of the row that was read. Without it, and without the coldest the rock became, the label's time does not count."
	PrintHelp         = "Prints on one sheet of A5, both sides. A pencil writes on wet paper."
)

// OpenCount says how many fields were left open.
func OpenCount(n int) string { return count(n, "field", "fields") + " not recorded" }

// OpenFields names the fields of a card that were left open, in one line; blank
// if none was.
func OpenFields(labels []string) string {
	if len(labels) == 0 {
		return ""
	}
	names := make([]string, len(labels))
	for i, l := range labels {
		names[i] = lower(l)
	}
	return "Not recorded: " + strings.Join(names, ", ") + "."
}

// OpenFront names the fields of an anchor's short line that were left open, and
// counts those of the card's back; blank if none was.
func OpenFront(labels []string) string {
	front := make(map[string]bool)
	for _, f := range LineFields() {
		front[f.Label] = true
	}
	var names []string
	back := 0
	for _, l := range labels {
		if front[l] {
			names = append(names, l)
		} else {
			back++
		}
	}
	if back > 0 {
		names = append(names, count(back, "field", "fields")+" of the card's back")
	}
	return OpenFields(names)
}

// Gluing heads a gluing session: "Gluing on 2 May 2026".
func Gluing(s registry.GluingSession) string { return "Gluing " + On(s.DoneOn) }

// GluingRow tells a session from others of its day: "Marrow Scar, opened 2 May
// 2026, 14:05, cartridge 3, recorded 2 May 2026, 19:20".
func GluingRow(s registry.GluingSession, site string, zone *time.Location) string {
	said := []string{site}
	add := func(label, value string) {
		if value != "" {
			said = append(said, label+value)
		}
	}
	add("opened ", Moment(s.OpenedAt, zone))
	add("cartridge ", s.Cartridge)
	if !s.RecordedAt.IsZero() {
		add("recorded ", Moment(calendar.Moment{From: s.RecordedAt, To: s.RecordedAt}, zone))
	}
	return strings.Join(said, ", ")
}

// SampleFoundHelp stands above the form for what a sample was found to be.
const SampleFoundHelp = "A sample that stayed soft puts every anchor of the session in doubt, and its first use is refused: take them out of use at the rock. " +
	"It is kept as a correction of the session. That a sample called soft is not so takes a steward, who says why."

// SampleWordsHelp stands above the words of that form.
const SampleWordsHelp = "Whatever the boxes cannot say. It is added to the session’s own words."

// SampleMeaning says what became of a kept sample.
func SampleMeaning(s registry.SampleState) string {
	switch s {
	case registry.SampleHard:
		return "It is hard"
	case registry.SampleSoft:
		return "It stayed soft"
	case registry.SampleNone:
		return "None was kept"
	}
	return "Not recorded"
}

// LineOf names a field of one anchor's line on a card, lines counted from 1:
// "Anchor 3, hole depth".
func LineOf(line, label string) string { return "Anchor " + line + ", " + lower(label) }

// ForAll names a field of the row that goes for all anchors.
func ForAll(label string) string { return "For all, " + lower(label) }

// Expires says when a batch expires, blank if that is not known.
func Expires(on calendar.Date) string {
	if on.IsZero() {
		return ""
	}
	return "expires " + on.Words()
}

package wording

import (
	"strconv"

	"rockledger/internal/registry"
)

// Sentences about notices and traces.
const (
	NoneNotices   = "No notice has been written."
	NoneHits      = "No anchor on record is hit. That says nothing of what nobody wrote down."
	NoticesHelp   = "A recall or warning: which anchors it is about, and by when they are inspected. What is recorded later is held against it too."
	CriterionHelp = "An anchor is hit if it answers every field that is filled in. What is not recorded of it makes that a possible hit; it never rules one out."
	PreviewHelp   = "Nothing has been issued yet. Look through the list, then issue the notice or change the fields."
	PossibleHelp  = "Nothing on record rules these out: the batch, product, person or day is not known, or the batch is written alike. They are to be watched until somebody looks."
	// ClosingReasonHelp stands beside the reason for closing a notice.
	ClosingReasonHelp = "Wanted while anchors are left that nobody has inspected, answered for or taken out of use."
	NoticeClosed      = "This notice is closed: it asks nothing of any anchor any more."
	RecordedNotice    = "The notice has been issued. What it hits is being assessed anew."
	RecordedClosing   = "The notice has been closed."
	NoneTraced        = "No anchor is on record as set with it. That it was not written down does not mean that it was not used."
)

// hitWords say how surely a notice is about an anchor.
var hitWords = map[registry.NoticeHit]string{
	registry.HitSure:     "Hit for sure",
	registry.HitNamed:    "Named by the notice",
	registry.HitPossible: "Possibly hit",
}

// NoticeHit says how surely a notice is about an anchor.
func NoticeHit(h registry.NoticeHit) string { return hitWords[h] }

// progressWords say how far an anchor has come under a notice.
var progressWords = map[registry.NoticeProgress]string{
	registry.ProgressLeft:      "left to do",
	registry.ProgressOutOfUse:  "out of use",
	registry.ProgressSettled:   "settled by a person",
	registry.ProgressInspected: "inspected since",
}

// NoticeProgress says how far an anchor has come; blank for none.
func NoticeProgress(p registry.NoticeProgress) string { return progressWords[p] }

// NoticeDays says when a notice was issued and by when it is to be followed, or
// when it was closed.
func NoticeDays(n *registry.Notice) string {
	text := "Issued " + n.IssuedOn.Words() + "; "
	if !n.EndedOn.IsZero() {
		return text + "closed " + n.EndedOn.Words()
	}
	return text + "inspect by " + n.InspectBy.Words()
}

// NoticeShare says how much of the register a notice is about: "12 anchors, 3.1 %
// of those in the rock."
func NoticeShare(about int, pct float64) string {
	return Anchors(about) + ", " + strconv.FormatFloat(pct, 'f', 1, 64) + " % of those in the rock."
}

// MayBeSetWith heads the anchors that may have been set with a batch.
const MayBeSetWith = "May have been set with it"

// MoreAnchors says how many anchors are not listed.
func MoreAnchors(n int) string { return "And " + count(n, "more anchor.", "more anchors.") }

// Traced says how many anchors were set with a batch, and how many may have been.
func Traced(sure, possible int) string {
	return Anchors(sure) + " set with it on record; " + Anchors(possible) + " in the rock may have been, as nothing on record rules that out."
}

package registry

import (
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// Notice is a recall or warning, with a date by which what it is about must be
// inspected: anchors that it names, anchors that its criterion hits, or both.
type Notice struct {
	ID        uuid.UUID
	Version   int
	Title     string
	Words     string
	IssuedOn  calendar.Date
	InspectBy calendar.Date
	AnchorIDs []uuid.UUID
	Criterion NoticeCriterion
	EndedOn   calendar.Date // closed on this day; zero: it stands
	// EndedReason says why it was closed while anchors were left; blank: none
	// was, or it stands.
	EndedReason string
}

// Validate reports every violation, keyed by JSON name.
func (n *Notice) Validate() error {
	var c fault.Checks
	checkName(&c, "title", n.Title)
	c.Require(strings.TrimSpace(n.Words) == "" || len(n.Words) <= MaxWords, "words", fault.TooLong)
	c.Require(!n.IssuedOn.IsZero(), "issued_on", fault.Required)
	c.Require(!n.InspectBy.IsZero(), "inspect_by", fault.Required)
	c.Require(n.InspectBy.IsZero() || n.InspectBy >= n.IssuedOn, "inspect_by", fault.Order)
	c.Require(len(n.AnchorIDs) > 0 || n.Criterion.Given(), "anchor_ids", fault.Required)
	c.Nest("criterion", n.Criterion.Validate())
	c.Require(n.EndedOn.IsZero() || n.EndedOn >= n.IssuedOn, "ended_on", fault.Order)
	c.Require(len(n.EndedReason) <= MaxWords, "ended_reason", fault.TooLong)
	c.Require(n.EndedReason == "" || !n.EndedOn.IsZero(), "ended_reason", fault.Mismatch, "with", "ended_on")
	return c.Err()
}

// NoticeHit is how surely a notice is about an anchor.
type NoticeHit string

// How surely, least first; the empty hit is not at all.
const (
	HitPossible NoticeHit = "possible" // nothing on record speaks against it, and something is not known
	HitNamed    NoticeHit = "named"    // by the notice itself
	HitSure     NoticeHit = "sure"
)

// NoticeHits lists the hits, least sure first.
func NoticeHits() []NoticeHit { return []NoticeHit{HitPossible, HitNamed, HitSure} }

// HitBy says whether a notice is about the anchor. A notice without a criterion
// is about those it names, so that among an anchor's facts it names it. A
// removed anchor, or one that never was, is hit by no criterion.
//
// What is not recorded speaks for a hit, never against one. Records that others
// replace must have been left out (Current).
func (f *Facts) HitBy(n *Notice) NoticeHit {
	if !n.Criterion.Given() {
		return HitNamed
	}
	hit := n.Criterion.Hit(f)
	if hit != HitSure && slices.Contains(n.AnchorIDs, f.Anchor.ID) {
		return HitNamed
	}
	return hit
}

// NoticeProgress is how far one anchor has come under a notice.
type NoticeProgress string

// How far, what asks for work first.
const (
	ProgressLeft      NoticeProgress = "left"
	ProgressOutOfUse  NoticeProgress = "out-of-use"
	ProgressSettled   NoticeProgress = "settled"   // a person answered the finding
	ProgressInspected NoticeProgress = "inspected" // since the notice was issued
)

// NoticeProgresses lists how far an anchor can have come.
func NoticeProgresses() []NoticeProgress {
	return []NoticeProgress{ProgressLeft, ProgressOutOfUse, ProgressSettled, ProgressInspected}
}

// NoticeAnchor is an anchor that a notice is about.
type NoticeAnchor struct {
	AnchorID uuid.UUID
	Hit      NoticeHit
	// Progress is as of the anchor's assessment as stored; one that waits to be
	// assessed anew counts as left.
	Progress NoticeProgress
}

// NoticeReach is all that a notice is about.
type NoticeReach struct {
	Living  int            // anchors in the rock, in the whole register
	Anchors []NoticeAnchor // in the order of ids
}

// Count counts the anchors of a hit.
func (r *NoticeReach) Count(hit NoticeHit) int {
	n := 0
	for i := range r.Anchors {
		if r.Anchors[i].Hit == hit {
			n++
		}
	}
	return n
}

// CountProgress counts the anchors that have come so far.
func (r *NoticeReach) CountProgress(p NoticeProgress) int {
	n := 0
	for i := range r.Anchors {
		if r.Anchors[i].Progress == p {
			n++
		}
	}
	return n
}

// NoticeLine is an anchor that a notice is about, with its place and standing.
type NoticeLine struct {
	NoticeAnchor
	Line ReportLine
}

// BatchTrace is where a batch went.
type BatchTrace struct {
	Batch    Batch
	Lines    []TraceLine     // of the anchors surely set with it, removed ones too
	Possible []uuid.UUID     // anchors in the rock that may have been set with it
	Sessions []GluingSession // that glued with it, and those in which the anchors were set
}

// TraceLine is an anchor that was set with a batch.
type TraceLine struct {
	Line       ReportLine
	SessionIDs []uuid.UUID // gluing sessions in which it was set; none: none is recorded
}

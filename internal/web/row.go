package web

import (
	"cmp"
	"net/http"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// anchorRow is one anchor in a list of anchors.
type anchorRow struct {
	Href     string
	Spot     string // route and position
	Path     string // site and sector
	Standing registry.Standing
	Marked   string // of one out of use: whether it is marked at the rock
	Due      string // "Inspect by 2 May 2026: overdue"
	Late     bool   // overdue
	Reason   string // why that date
	Do       string // what it asks for, on a work list
	Findings []string
	Notes    []string // findings that are folded up
	Folded   string   // what is folded up; blank: findings that weigh little or nothing, counted
	Open     bool     // the notes are not folded up
	Bring    []string // what to bring, on a work list
	Done     []string // what was done, on a report for landowners
	Land     []string // whose it is, on the page of a batch
	Barred   string   // what bars the date, and the last open day before it
}

// rowsOf turns lines of a report into rows, in their order.
func rowsOf(base string, lines []registry.ReportLine) []anchorRow {
	rows := make([]anchorRow, len(lines))
	for i, l := range lines {
		rows[i] = rowOf(base, l)
	}
	return rows
}

func rowOf(base string, l registry.ReportLine) anchorRow {
	a := l.Assessment
	row := lineRow(base, l.Place)
	row.Standing, row.Late = a.Standing, a.DueState == registry.Overdue
	row.Marked = wording.MarkedRow(a.Standing, a.Band)
	row.Due = wording.InspectBy(a.Standing, a.DueOn, a.DueState)
	row.Reason = reasonOf(a)
	row.Barred = wording.Barred(l)
	return row
}

// reasonOf says why an anchor has its date, and what is held against it where
// it has none because of that.
func reasonOf(a registry.Assessment) string {
	if wording.Undated(a.Standing, a.DueState) {
		return strings.Join(worstInFull(held(a.Findings)), " ")
	}
	return wording.ReasonBehind(a)
}

// findingRows are rows that also say everything held against the anchor: the
// worst in full, what else there is folded up under its names.
func findingRows(base string, lines []registry.ReportLine) []anchorRow {
	rows := rowsOf(base, lines)
	for i, l := range lines {
		r := &rows[i]
		r.hold(l.Assessment.Findings)
		if weighty := held(l.Assessment.Findings); len(weighty) > 1 {
			r.Folded = wording.AlsoFolded(weighty[1:], len(r.Notes))
			r.Findings, r.Notes = r.Findings[:1], append(r.Findings[1:], r.Notes...)
		}
		if wording.Undated(l.Assessment.Standing, l.Assessment.DueState) {
			r.Reason = "" // what is held against it stands above
		}
	}
	return rows
}

// foldName is what stands over the notes.
func (r *anchorRow) foldName() string { return cmp.Or(r.Folded, wording.NotesBeside(len(r.Notes))) }

// hold says what is held against the anchor in full, and folds up what are notes
// and what is settled.
func (r *anchorRow) hold(findings []registry.Finding) {
	var weighty, light []registry.Finding
	for _, f := range findings {
		if f.Weighs().Rank() >= registry.Watch.Rank() {
			weighty = append(weighty, f)
		} else {
			light = append(light, f)
		}
	}
	r.Findings, r.Notes = findingSentences(weighty), findingSentences(light)
}

// findingSentences say everything held against an anchor, what is settled as
// such.
func findingSentences(findings []registry.Finding) []string {
	var lines []string
	for _, f := range findings {
		text := wording.Finding(f)
		if f.SettledBy != nil {
			text += " " + wording.Settled
		}
		lines = append(lines, text)
	}
	return lines
}

// lineRow is the row of an anchor in a list of a place.
func lineRow(base string, l registry.AnchorLine) anchorRow {
	return anchorRow{
		Href:     anchorHref(base, l.Anchor.ID),
		Spot:     joinNamed(", ", l.Route, l.Label),
		Path:     joinNamed(" › ", l.Site, l.Sector),
		Standing: l.Standing,
		Marked:   wording.MarkedRow(l.Standing, l.Band),
		Due:      wording.InspectBy(l.Standing, l.DueOn, l.DueState),
		Late:     l.DueState == registry.Overdue,
	}
}

// roleBeside names a position's role, unless its label says it already.
func roleBeside(label string, role registry.PositionRole) string {
	name := wording.Label(role)
	if role == "" || strings.HasPrefix(registry.Fold(label), registry.Fold(name)) {
		return ""
	}
	return name
}

func anchorHref(base string, id uuid.UUID) string { return base + "/anchors/" + id.String() }

func siteHref(base string, id uuid.UUID) string { return base + "/places/" + id.String() }

// joinNamed joins the parts that have a name.
func joinNamed(sep string, parts ...string) string {
	var named []string
	for _, p := range parts {
		if p != "" {
			named = append(named, p)
		}
	}
	return strings.Join(named, sep)
}

// statusOf is 422 for a form with something wrong in it.
func statusOf(wrong int) int {
	if wrong > 0 {
		return http.StatusUnprocessableEntity
	}
	return http.StatusOK
}

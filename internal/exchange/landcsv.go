package exchange

import (
	"io"
	"strconv"

	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

var landHeadings = []string{
	"landowner", "part", "what", "anchors", "removed", "cleared", "settled", "out_of_use", "inspected", "open", "from", "until", "details", "anchor_id", "caution",
}

// The parts of the land report, as its column part has them.
const (
	partStanding    = "standing"
	partProblem     = "problem"
	partWork        = "work"
	partAgreement   = "agreement"
	partRestriction = "restriction"
	partAnchor      = "anchor"
	partSeal        = "seal"
)

// landRow is one row of the land report.
type landRow struct {
	owner, part, what                                             string
	anchors, removed, cleared, settled, outOfUse, inspected, open string
	from, until, details, anchorID                                string
}

func (r landRow) cells() []string {
	return []string{
		r.owner, r.part, r.what, r.anchors, r.removed, r.cleared, r.settled, r.outOfUse, r.inspected, r.open,
		r.from, r.until, r.details, r.anchorID,
	}
}

// WriteLandCSV writes the land report like WriteOverdueCSV, with one row for
// each standing, problem, kind of work, agreement and restriction of a
// landowner, and one for each anchor where the report goes into detail. The last
// row has the newest seal, if there is one, and no landowner. The
// column anchors counts records in a row about work; a landowner that is not
// known is blank.
func WriteLandCSV(w io.Writer, r report.Land) error {
	var rows []landRow
	for i := range r.Owners {
		rows = append(rows, landRows(r, &r.Owners[i])...)
	}
	if r.Seal != nil {
		rows = append(rows, landRow{part: partSeal, what: wording.SealName(r.Seal.Era, r.Seal.Number), details: wording.NewestSeal(*r.Seal)})
	}
	return writeCSV(w, landHeadings, rows, landRow.cells)
}

// landRows are the rows of one landowner.
func landRows(r report.Land, o *report.LandOwner) []landRow {
	var rows []landRow
	for _, s := range registry.Standings() {
		if n := o.ByStanding[s]; n > 0 {
			rows = append(rows, landRow{part: partStanding, what: string(s), anchors: strconv.Itoa(n)})
		}
	}
	for _, p := range o.Problems {
		rows = append(rows, landRow{
			part: partProblem, what: p.Rule, anchors: strconv.Itoa(p.Anchors), removed: strconv.Itoa(p.Removed), cleared: strconv.Itoa(p.Cleared), settled: strconv.Itoa(p.Settled),
			outOfUse: strconv.Itoa(p.OutOfUse), inspected: strconv.Itoa(p.Inspected), open: strconv.Itoa(p.Open), details: wording.Rule(p.Rule),
		})
	}
	for _, k := range o.Work {
		rows = append(rows, landRow{part: partWork, what: k.Kind, anchors: strconv.Itoa(k.Count), from: r.From.String(), until: r.To.String()})
	}
	for _, a := range o.Agreements {
		rows = append(rows, landRow{part: partAgreement, what: string(a.Kind), from: a.From.String(), until: a.Until.String(), details: wording.Agreement(a)})
	}
	for _, x := range o.Restrictions {
		rows = append(rows, landRow{part: partRestriction, what: string(x.Kind), from: x.From.String(), until: x.Until.String(), details: wording.Restriction(x)})
	}
	for _, l := range o.Lines {
		rows = append(rows, landRow{part: partAnchor, what: where(l.Line), details: landDetails(l), anchorID: l.Line.Assessment.AnchorID.String()})
	}
	for i := range rows {
		rows[i].owner = o.Name
	}
	return rows
}

// landDetails says how an anchor stands, what is held against it and what was
// done at it in the period.
func landDetails(l report.LandLine) string {
	a := l.Line.Assessment
	text := wording.Standing(a.Standing) + "."
	if by := wording.InspectBy(a.Standing, a.DueOn, a.DueState); by != "" {
		text += " " + by + "."
	}
	for _, more := range []string{findings(a), sentences(l.Work, wording.LandRecord)} {
		if more != "" {
			text += " " + more
		}
	}
	return text
}

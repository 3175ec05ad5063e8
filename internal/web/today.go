package web

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// todayRows is how many anchors each part of Today shows; the rest are a link
// away.
const todayRows = 10

// todayPage is what a member should look at first.
type todayPage struct {
	Frame  frame
	AsOf   calendar.Date
	Empty  bool // no anchor in the register
	Import bool // whoever asks may import
	// Standings and DueStates count the living anchors; what none is in is
	// left out.
	Standings []standingCount
	DueStates []dueCount
	Parts     []todayPart
	Tasks     []taskLine
	Upcoming  []groundLine
	// Proposals says how many notes wait for whoever asks; blank: none.
	Proposals string
}

// standingCount is how many anchors have a standing.
type standingCount struct {
	Standing registry.Standing
	Words    string
	Href     string // the list of them; empty: none
}

// dueCount is how many anchors are in a due state.
type dueCount struct{ Words, Href string }

// todayPart is one list of Today.
type todayPart struct {
	ID, Heading string
	None        string // the sentence for an empty list
	Rows        []anchorRow
	AllHref     string // where the whole list is; empty: this is all
	AllText     string
}

func (p *Pages) toToday(c echo.Context) error {
	return c.Redirect(http.StatusSeeOther, "/g/"+c.Param("slug")+"/")
}

func (p *Pages) today(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	r, err := p.service.Today(c.Request().Context(), who, todayRows)
	if err != nil {
		return err
	}
	page := newTodayPage(p.framed(c, "Today"), r)
	for _, t := range r.Tasks {
		page.Tasks = append(page.Tasks, newTaskLine(page.Frame.Base, t.Site, t.Kind, allowed(c, app.AddEnvironment)))
	}
	return ok(c, todayView(page))
}

func newTodayPage(f frame, r report.Today) todayPage {
	page := todayPage{
		Frame: f, AsOf: r.Heading.AsOf,
		Proposals: wording.ProposalsWait(r.Proposals),
		Standings: standingCounts(r.Counts), DueStates: dueCounts(f.Base, r.Counts),
		Parts: []todayPart{
			part("out-of-use", "Out of use, no marking at the rock", wording.NoneUnmarked, f.Base+"/reports/suspect", f.Base, r.OutOfUse),
			part("marked", "Out of use and marked", wording.NoneMarked, f.Base+"/reports/suspect", f.Base, r.Marked),
			part("suspect", "Suspect", wording.NoneSuspect, f.Base+"/reports/suspect", f.Base, r.Suspect),
			part("overdue", "Overdue", wording.NoneOverdue, f.Base+"/reports/overdue", f.Base, r.Overdue),
			part("first-round", "Awaiting the first round", wording.NoneFirstRound, f.Base+"/reports/overdue#first-round", f.Base, r.FirstRound),
		},
	}
	for i := range page.Standings {
		page.Standings[i].Href = standingHref(f.Base, page.Standings[i].Standing)
	}
	for _, u := range r.Upcoming {
		page.Upcoming = append(page.Upcoming, groundLine{
			Where: u.Where, Text: wording.Restriction(u.Restriction), State: wording.Begins(u.BeginsOn),
		})
	}
	page.Empty = len(page.Standings) == 0
	for _, n := range f.Nav {
		page.Import = page.Import || n.Href == f.Base+"/import"
	}
	return page
}

func part(id, heading, none, all, base string, s report.Stretch) todayPart {
	t := todayPart{ID: id, Heading: heading, None: none}
	if s.Total > len(s.Lines) {
		t.AllHref, t.AllText = all, wording.ShowAll(s.Total)
	}
	t.Rows = make([]anchorRow, len(s.Lines))
	for i, l := range s.Lines {
		t.Rows[i] = heldRow(base, l)
	}
	return t
}

// heldRow is a row that says first what is held against the anchor. One that is
// out of use is to be dealt with, not to be inspected in its turn: its next
// date would only reassure.
func heldRow(base string, l registry.ReportLine) anchorRow {
	row := rowOf(base, l)
	row.Findings = worstInFull(held(l.Assessment.Findings))
	if l.Assessment.Standing == registry.StandingOutOfUse {
		row.Reason = ""
		if !row.Late {
			row.Due = ""
		}
	}
	return row
}

// held are the findings that weigh more than a note.
func held(findings []registry.Finding) []registry.Finding {
	var out []registry.Finding
	for _, f := range findings {
		if f.Weighs().Rank() >= registry.Watch.Rank() {
			out = append(out, f)
		}
	}
	return out
}

// standingCounts lists the standings worst first, those outside the order
// last.
func standingCounts(counts registry.Counts) []standingCount {
	order := []registry.Standing{
		registry.StandingOutOfUse, registry.NotInUseYet, registry.StandingSuspect, registry.StandingWatch,
		registry.NoProblem, registry.StandingNotLocated,
	}
	var out []standingCount
	for _, s := range order {
		if n := counts.ByStanding[s]; n > 0 {
			out = append(out, standingCount{Standing: s, Words: wording.StandingCount(s, n)})
		}
	}
	return out
}

// dueCounts lists the due states, the most pressing first.
func dueCounts(base string, counts registry.Counts) []dueCount {
	var out []dueCount
	for _, s := range []registry.DueState{registry.Overdue, registry.DueSoon, registry.AwaitingFirstRound, registry.NotDue} {
		if n := counts.ByDueState[s]; n > 0 {
			out = append(out, dueCount{wording.DueCount(s, n), dueHref(base, s)})
		}
	}
	return out
}

package web

import (
	"net/http"
	"slices"

	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// todayRows is how many anchors or restrictions a part of Today shows; the rest
// are a link away, or folded up, and counted.
const todayRows = 5

// taskRows is how many questions about places it asks, folded up; the others
// follow as these are answered.
const taskRows = 50

// newRows is how many anchors in doubt of which something was seen lately it
// shows: they stand among the suspect too, but may be far down there.
const newRows = 3

// namedFindings is how many findings of an anchor Today names; the others are
// counted, and stand on the anchor's page.
const namedFindings = 2

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
	Tasks     []taskLine // folded up unless there is but one
	AllTasks  int        // how many there are; Tasks may be the first of them
	// Upcoming are the restrictions that begin soonest, Later those after them,
	// folded up.
	Upcoming, Later []groundLine
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
	None        string // the sentence for an empty list; blank: then there is no such part
	Rows        []anchorRow
	Some        string // that this is not all; empty: it is
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
	page.AllTasks = len(r.Tasks)
	first, _ := firstOf(r.Tasks, taskRows)
	for _, t := range first {
		page.Tasks = append(page.Tasks, newTaskLine(page.Frame.Base, t.Site, t.Kind, allowed(c, app.AddEnvironment)))
	}
	return ok(c, todayView(page))
}

func newTodayPage(f frame, r report.Today) todayPage {
	page := todayPage{
		Frame: f, AsOf: r.Heading.AsOf,
		Proposals: wording.ProposalsWait(r.Proposals),
		Standings: standingCounts(r.Counts), DueStates: dueCounts(f.Base, r.Counts),
		Parts: todayParts(f.Base, r),
	}
	for i := range page.Standings {
		page.Standings[i].Href = standingHref(f.Base, page.Standings[i].Standing)
	}
	for _, u := range r.Upcoming {
		page.Upcoming = append(page.Upcoming, groundLine{
			Where: u.Where, Text: wording.Restriction(u.Restriction), State: wording.Begins(u.BeginsOn),
		})
	}
	page.Upcoming, page.Later = firstOf(page.Upcoming, todayRows)
	page.Empty = len(page.Standings) == 0
	for _, n := range f.Nav {
		page.Import = page.Import || n.Href == f.Base+"/import"
	}
	return page
}

// todayParts are what a tired reader needs first, in that order.
func todayParts(base string, r report.Today) []todayPart {
	suspect, overdue := base+"/reports/suspect?show=", base+"/reports/overdue?show="
	parts := []todayPart{
		part("out-of-use", wording.Unmarked, wording.NoneUnmarked, suspect+string(report.ShowUnmarked), base, r.OutOfUse, todayRows),
		part("new", wording.NewlySeen, "", suspect+string(report.ShowNew), base, r.New, newRows),
		part("overdue", "Overdue", wording.NoneOverdue, overdue+string(report.ShowOverdue), base, r.Overdue, todayRows),
		part("suspect", "Suspect", wording.NoneSuspect, suspect+string(report.ShowSuspect), base, r.Suspect, todayRows),
		part("marked", wording.MarkedOutOfUse, wording.NoneMarked, suspect+string(report.ShowMarked), base, r.Marked, todayRows),
		part("first-round", "Awaiting the first round", "", overdue+string(report.ShowFirstRound), base, r.FirstRound, todayRows),
	}
	return slices.DeleteFunc(parts, func(p todayPart) bool { return len(p.Rows) == 0 && p.None == "" })
}

func part(id, heading, none, all, base string, s report.Stretch, most int) todayPart {
	t := todayPart{ID: id, Heading: heading, None: none}
	if s.Total > most {
		t.Some = wording.FirstOf(most, s.Total)
		t.AllHref, t.AllText = all, wording.ShowAll(s.Total)
	}
	lines, _ := firstOf(s.Lines, most)
	t.Rows = make([]anchorRow, len(lines))
	for i, l := range lines {
		t.Rows[i] = briefRow(base, l)
	}
	return t
}

// firstOf parts a list after its first n.
func firstOf[T any](list []T, n int) (first, rest []T) {
	n = min(n, len(list))
	return list[:n], list[n:]
}

// briefRow is a row that names the worst of what is held against the anchor and
// counts the rest; its own page says it all, and what bars the date.
func briefRow(base string, l registry.ReportLine) anchorRow {
	row := rowOf(base, l)
	row.Reason, row.Barred = "", ""
	if names := wording.FindingNames(held(l.Assessment.Findings), namedFindings); names != "" {
		row.Findings = []string{names}
	}
	if wording.Undated(l.Assessment.Standing, l.Assessment.DueState) {
		row.Due = "" // the part says already what it waits for
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

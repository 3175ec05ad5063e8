package web

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/uuid"
	"golang.org/x/net/html"

	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// manyRows are n anchors at each of the places, the first of each suspect.
func manyRows(n int, paths ...string) []anchorRow {
	var rows []anchorRow
	for _, path := range paths {
		for i := range n {
			r := anchorRow{Href: "/x", Spot: fmt.Sprint(path, i), Path: path, Standing: registry.StandingWatch}
			if i == 0 {
				r.Standing = registry.StandingSuspect
			}
			rows = append(rows, r)
		}
	}
	return rows
}

// isOpen says whether a fold is shown open.
func isOpen(n *html.Node) bool { _, ok := attr(n, "open"); return ok }

// What is folded up is counted in the line that stays, by standing; nothing is
// left out of the folds.
func TestFoldByPath(t *testing.T) {
	t.Parallel()
	folds := foldByPath(manyRows(10, "Scar › Left", "Scar › Right"), false)
	var got []string
	for _, f := range folds {
		got = append(got, fmt.Sprint(f.Heading, "|", f.Summary, "|", len(f.Rows), "|", f.Open))
	}
	want := "Scar › Left|10 anchors: 1 suspect, 9 to watch|10|false\nScar › Right|10 anchors: 1 suspect, 9 to watch|10|false"
	if strings.Join(got, "\n") != want {
		t.Errorf("folds\n%s\nwant\n%s", strings.Join(got, "\n"), want)
	}
	for _, f := range append(foldByPath(manyRows(10, "a", "b"), true), foldByPath(manyRows(6, "a", "b"), false)...) {
		if !f.Open {
			t.Errorf("%s is folded up, asked for open or short enough", f.Heading)
		}
	}
}

// A removed anchor is counted, though it has no standing among the living.
func TestStandingSummary(t *testing.T) {
	t.Parallel()
	rows := []anchorRow{{Standing: registry.StandingRemoved}, {Standing: registry.NoProblem}, {Standing: registry.StandingRemoved}}
	if got, want := standingSummary(rows), "3 anchors: 1 with no problem on record, 2 removed"; got != want {
		t.Errorf("summary = %q, want %q", got, want)
	}
	if got, want := standingSummary([]anchorRow{{}}), "1 anchor"; got != want {
		t.Errorf("summary without standings = %q, want %q", got, want)
	}
}

// A fold on a page is a disclosure of the browser's own with all its rows in it.
func TestFoldedRows(t *testing.T) {
	t.Parallel()
	rows := manyRows(20, "Scar › Left")
	for _, open := range []bool{false, true} {
		d := one(t, draw(t, foldedRows(foldByPath(rows, open)[0])), "fold", tag("details"))
		if isOpen(d) != open || len(all(d, class("anchor-row"))) != 20 {
			t.Errorf("fold open %v with %d rows, want %v with 20", isOpen(d), len(all(d, class("anchor-row"))), open)
		}
	}
}

// What weighs stands in full; notes and what is settled are folded up and
// counted.
func TestRowHolds(t *testing.T) {
	t.Parallel()
	settled := registry.Finding{Rule: "loose-nut", Severity: registry.Watch, SettledBy: new(uuid.UUID)}
	var r anchorRow
	r.hold([]registry.Finding{{Rule: "rust", Severity: registry.Suspect}, settled, {Rule: "hole-not-recorded", Severity: registry.Note}})
	r.Standing = registry.StandingSuspect
	if len(r.Findings) != 1 || len(r.Notes) != 2 {
		t.Fatalf("%d in full and %d folded up, want 1 and 2: %q, %q", len(r.Findings), len(r.Notes), r.Findings, r.Notes)
	}
	d := one(t, draw(t, anchorList([]anchorRow{r})), "fold of notes", class("row-notes"))
	if got := text(one(t, d, "summary", tag("summary"))); !strings.HasPrefix(got, "2 things noted or settled") || isOpen(d) {
		t.Errorf("notes say %q, open %v", got, isOpen(d))
	}
}

// Every part of the house rules is there, folded up under how many rules it has.
func TestHouseRulesFold(t *testing.T) {
	t.Parallel()
	page := rulesOf()
	doc := draw(t, rulesView(page))
	parts := all(doc, tag("details"), class("rules-part"))
	if len(parts) != len(page.Parts) {
		t.Fatalf("%d parts, want %d", len(parts), len(page.Parts))
	}
	for i, d := range parts {
		if want := page.Parts[i].count(); !strings.HasSuffix(text(one(t, d, "summary", tag("summary"))), want) || isOpen(d) {
			t.Errorf("part %s says %q, want %q at its end, folded up", page.Parts[i].Heading, text(one(t, d, "summary", tag("summary"))), want)
		}
	}
}

// A band further down a work list is a link away, on the page where it begins.
func TestJumpToBands(t *testing.T) {
	t.Parallel()
	var items []registry.WorkItem
	for _, b := range []struct {
		band registry.Band
		n    int
	}{{registry.Bands()[0], 3}, {registry.Bands()[1], 30}, {registry.Bands()[2], 1}} {
		for range b.n {
			items = append(items, registry.WorkItem{Line: registry.ReportLine{Assessment: registry.Assessment{Band: b.band}}})
		}
	}
	page := reportPage{Path: "/w", Heading: report.Heading{}}
	page.jumpToBands(items)
	var got []string
	for _, j := range page.Jumps {
		got = append(got, j.Href+" "+j.Text)
	}
	bands := registry.Bands()
	want := []string{"/w#band-" + string(bands[0]), "/w#band-" + string(bands[1]), "/w?from=20#band-" + string(bands[2])}
	for i, href := range want {
		if i >= len(got) || !strings.HasPrefix(got[i], href+" ") {
			t.Fatalf("jumps %q, want hrefs %q", got, want)
		}
	}
	if !strings.HasSuffix(got[1], ": 30 anchors") {
		t.Errorf("jump %q does not say how many", got[1])
	}
}

package web

import (
	"net/url"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// openRows is how many anchors a page shows without folding them away.
const openRows = 12

// fold is what of a long page stands folded up, under a line that counts what is
// in it: nothing is hidden without a word.
type fold struct {
	Heading string // blank: that of what it belongs to
	Summary string
	Open    bool
	Rows    []anchorRow
}

// foldOf folds rows up, unless they are open already.
func foldOf(heading string, rows []anchorRow, open bool) fold {
	return fold{Heading: heading, Summary: standingSummary(rows), Open: open, Rows: rows}
}

// foldByPath folds rows by the place they stand in, in their order.
func foldByPath(rows []anchorRow, open bool) []fold {
	var paths []string
	byPath := make(map[string][]anchorRow)
	for _, r := range rows {
		if byPath[r.Path] == nil {
			paths = append(paths, r.Path)
		}
		byPath[r.Path] = append(byPath[r.Path], r)
	}
	folds := make([]fold, len(paths))
	for i, path := range paths {
		folds[i] = foldOf(path, byPath[path], open || len(rows) <= openRows)
	}
	return folds
}

// standingSummary counts rows: "3 anchors: 1 suspect, 2 to watch".
func standingSummary(rows []anchorRow) string {
	counts := registry.Counts{ByStanding: make(map[registry.Standing]int)}
	for _, r := range rows {
		counts.ByStanding[r.Standing]++
	}
	var words []string
	for _, s := range append(standingCounts(counts), standingCount{Standing: registry.StandingRemoved}) {
		if n := counts.ByStanding[s.Standing]; n > 0 {
			words = append(words, wording.StandingCount(s.Standing, n))
		}
	}
	if len(words) == 0 {
		return wording.Anchors(len(rows))
	}
	return wording.Anchors(len(rows)) + ": " + strings.Join(words, ", ")
}

// unfolded says whether the page is asked for with nothing folded up.
func unfolded(c echo.Context) bool { return c.QueryParam("unfold") == "yes" }

// unfoldHref is the same page with nothing folded up; blank if that is it.
func unfoldHref(c echo.Context) string {
	if unfolded(c) {
		return ""
	}
	q := url.Values{}
	for name, values := range c.QueryParams() {
		if name != "done" {
			q[name] = values
		}
	}
	q.Set("unfold", "yes")
	return c.Request().URL.Path + "?" + q.Encode()
}

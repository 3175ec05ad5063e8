package web_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/chromedp"
)

// pageOf matches the pages of a PDF file, and their size where it is in them.
var pageOf = regexp.MustCompile(`/Type\s*/Page\b[^s]`)

// printed prints a page as the paper it asks for and counts its pages.
func printed(t *testing.T, ctx context.Context, url, dir, name string) int {
	t.Helper()
	if err := chromedp.Do(ctx, chromedp.Navigate(url), chromedp.WaitVisible(chromedp.CSS("h1"))); err != nil {
		t.Fatalf("go to %s: %v", url, err)
	}
	pdf, err := chromedp.Run(ctx, chromedp.PrintToPDF(chromedp.PDFPreferCSSPageSize()))
	if err != nil {
		t.Fatalf("print %s: %v", name, err)
	}
	if err := os.WriteFile(filepath.Join(dir, name+".pdf"), pdf, 0o600); err != nil {
		t.Fatal(err)
	}
	// A5 is 148 mm by 210 mm (ISO 216), 419.5 by 595.3 points of 1/72 inch.
	if !bytes.Contains(pdf, []byte("/MediaBox [0 0 419")) && !bytes.Contains(pdf, []byte("/MediaBox [0 0 420")) {
		t.Errorf("%s is not printed on A5", name)
	}
	return len(pageOf.FindAll(pdf, -1))
}

// cut shows the page as it is printed, and lists what is wider or higher than
// the box around it, and what there is to write in that is less than 8 mm high,
// at 96 CSS pixels to the inch.
const cut = `for (const s of document.styleSheets) for (const r of s.cssRules) if (r.media) r.media.mediaText = r.media.mediaText === "screen" ? "not all" : "all";
[...document.querySelectorAll(".ticks i, .lines td, .more td, .box")].filter(e => e.getBoundingClientRect().height < 8 / 25.4 * 96 - 0.5)
	.map(e => "low: " + e.outerHTML.slice(0, 80)).join("\n") + [...document.querySelectorAll(".side, .box, .side th, .side td")]
	.filter(e => e.scrollWidth > e.clientWidth + 1 || e.scrollHeight > e.clientHeight + 1)
	.map(e => e.tagName + "." + e.className + ": " + e.textContent.trim().slice(0, 60) + " " + e.scrollWidth + "x" + e.scrollHeight + " in " + e.clientWidth + "x" + e.clientHeight).join("\n")`

// A card takes the two sides of one sheet, whatever is printed on it, and
// nothing on it is cut off.
func TestGluingCardPrintsOnOneSheet(t *testing.T) {
	t.Parallel()
	findChromium(t)
	s := newStack(t)
	w := s.addTraverse(t, 7)
	dir := pictures(t)
	ctx := startBrowser(t)
	signIn(t, ctx, s, 1280)
	for name, c := range map[string]struct {
		query string
		pages int
	}{
		"gluing card":       {"", 2},
		"gluing card route": {"?route=" + w.route.String(), 4}, // seven positions, six lines on a card
		"gluing card site":  {"?site=" + w.site.String(), 2},
	} {
		if got := printed(t, ctx, s.url+"/g/fell-end/gluing/card"+c.query, dir, name); got != c.pages {
			t.Errorf("%s prints %d pages, want %d", name, got, c.pages)
		}
		if over, err := chromedp.Run(ctx, chromedp.Evaluate[string](cut)); err != nil || over != "" {
			t.Errorf("%s is cut off (%v):\n%s", name, err, over)
		}
	}
}

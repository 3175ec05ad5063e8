package web_test

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/google/uuid"

	"rockledger/internal/metal"
	"rockledger/internal/registry"
)

// traverse is a route of an invented crag with six positions and no anchor yet.
type traverse struct {
	site, route, adhesive, hardware, person uuid.UUID
	positions                               []uuid.UUID
}

// addTraverse adds a route with n free positions, and what a gluing card can
// name: a person, an adhesive with a batch and an anchor to glue in.
func (s *stack) addTraverse(t *testing.T, n int) traverse {
	t.Helper()
	who, ctx := s.actor(registry.RoleSteward), t.Context()
	w := traverse{site: newID(t), route: newID(t), adhesive: newID(t), hardware: newID(t), person: newID(t)}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	_, _, err := s.service.AddSite(ctx, who, registry.Site{ID: w.site, Name: "Fell End Crag (invented)", Kind: registry.Crag})
	must(err)
	_, _, err = s.service.AddRoute(ctx, who, registry.Route{ID: w.route, SiteID: w.site, Name: "Low Traverse", Kind: registry.Crossing})
	must(err)
	for k := range n {
		at := newID(t)
		_, _, err = s.service.AddPosition(ctx, who, registry.Position{ID: at, SiteID: w.site, Label: fmt.Sprintf("T%d", k+1)},
			[]registry.Stop{{RouteID: w.route, PositionID: at, Rank: k + 1}})
		must(err)
		w.positions = append(w.positions, at)
	}
	_, _, err = s.service.AddPerson(ctx, who, registry.Person{ID: w.person, Name: "A. Example"})
	must(err)
	_, _, err = s.service.AddProduct(ctx, who, registry.Product{ID: w.adhesive, Kind: registry.Adhesive, Name: "Slow resin (invented)"})
	must(err)
	_, _, err = s.service.AddProduct(ctx, who, registry.Product{
		ID: w.hardware, Kind: registry.Hardware, Name: "Twist 80 (invented)", Form: registry.TwistedLeg, Metal: metal.NewSet("1.4404"),
	})
	must(err)
	_, _, err = s.service.AddBatch(ctx, who, registry.Batch{ID: newID(t), ProductID: &w.adhesive, Text: "L1709-A"})
	must(err)
	return w
}

// pictures is where pictures go: the folder ROCKLEDGER_PICTURES names, otherwise
// they are thrown away.
func pictures(t *testing.T) string {
	t.Helper()
	if dir := os.Getenv("ROCKLEDGER_PICTURES"); dir != "" {
		return dir
	}
	return t.TempDir()
}

// signIn signs a steward in.
func signIn(t *testing.T, ctx context.Context, s *stack, width int64) {
	t.Helper()
	err := chromedp.Do(ctx,
		chromedp.EmulateViewport(width, 800), chromedp.Navigate(s.url+"/g/fell-end/"), chromedp.WaitVisible(chromedp.CSS("#email")),
		chromedp.SendKeys(chromedp.CSS("#email"), "steward@example.org"), chromedp.SendKeys(chromedp.CSS("#password"), password),
		chromedp.Click(chromedp.CSS("main button")), chromedp.WaitVisible(chromedp.CSS(".sign-out")))
	if err != nil {
		t.Fatalf("sign in: %v", err)
	}
}

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

// cut lists what is wider or higher than the box that is printed of it.
const cut = `[...document.querySelectorAll(".side, .box, .side th, .side td")]
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

package web_test

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"rockledger/internal/registry"
)

// findChromium names the browser of this machine. Without one the test is
// skipped on a laptop and fails with CI=true.
func findChromium(t *testing.T) string {
	t.Helper()
	for _, name := range []string{"chromium", "chromium-browser", "google-chrome"} {
		if path, err := exec.LookPath(name); err == nil {
			return path
		}
	}
	if os.Getenv("CI") == "true" {
		t.Fatal("needs Chromium: install the package chromium")
	}
	t.Skip("needs Chromium: install the package chromium")
	return ""
}

// startBrowser returns a context with a browser that ends with the test.
func startBrowser(t *testing.T) context.Context {
	t.Helper()
	ctx, cancel := context.WithTimeout(t.Context(), 2*time.Minute)
	t.Cleanup(cancel)
	options := []chromedp.ExecAllocatorOption{
		chromedp.ExecPath(findChromium(t)), chromedp.UserDataDir(t.TempDir()),
		chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.NoSandbox, chromedp.DisableGPU, chromedp.Headless,
	}
	for _, flag := range []string{
		"disable-quic", "disable-background-networking", "disable-component-update", "disable-sync", "disable-dev-shm-usage",
	} {
		options = append(options, chromedp.Flag(flag, true))
	}
	ctx, cancel = chromedp.NewExecAllocator(ctx, options...)
	t.Cleanup(cancel)
	ctx, cancel = chromedp.NewContext(ctx)
	t.Cleanup(cancel)
	if err := chromedp.Do(ctx); err != nil {
		t.Fatalf("start browser: %v", err)
	}
	return ctx
}

// screen takes a picture of the whole page into dir, and fails if the page is
// wider than the window: nobody should have to push it sideways.
func screen(t *testing.T, ctx context.Context, dir, name string, width int64) {
	t.Helper()
	got, err := chromedp.Run(ctx, chromedp.Evaluate[int64]("document.documentElement.scrollWidth"))
	if err != nil || got > width {
		t.Errorf("%s is %d px wide in a window of %d: %v", name, got, width, err)
	}
	picture, err := chromedp.Run(ctx, chromedp.FullScreenshot(100))
	if err != nil {
		t.Fatalf("picture of %s: %v", name, err)
	}
	if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d.png", name, width)), picture, 0o600); err != nil {
		t.Fatal(err)
	}
}

// lowTargets counts links, buttons and fields less than 44 px high that stand
// on a line of their own; WCAG 2.2, 2.5.8 lets those in running text be lower.
const lowTargets = `[...document.querySelectorAll("main a, nav a, button, main input:not([type=hidden]):not([type=radio]):not([type=checkbox]), .choice label, select, textarea, summary")]
	.filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 43.5).map(e => e.outerHTML.slice(0, 120)).join("\n")`

// Somebody signs in, reads Today and opens an anchor, on a phone and on a desk.
// The pictures go to the folder ROCKLEDGER_PICTURES names, otherwise they are
// thrown away.
func TestSignInTodayAnchorInABrowser(t *testing.T) {
	t.Parallel()
	findChromium(t)
	s := newStack(t)
	b := s.member(t, registry.RoleSteward)
	b.enter(gutter)
	b.enter(strings.ReplaceAll(notedGutter, "Gutter Edge", "Kettle Edge"))
	anchor := suspectAnchor(t, b)
	s.surround(t, anchor)
	story := s.story(t, anchor)
	glue, batch := s.stocked(t)
	dir := os.Getenv("ROCKLEDGER_PICTURES")
	if dir == "" {
		dir = t.TempDir()
	}
	for _, width := range []int64{360, 1280} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			ctx := startBrowser(t)
			visit(t, ctx, "sign in", dir, width,
				chromedp.EmulateViewport(width, 800), chromedp.Navigate(s.url+"/g/fell-end/"), chromedp.WaitVisible(chromedp.CSS("#email")))
			visit(t, ctx, "today", dir, width,
				chromedp.SendKeys(chromedp.CSS("#email"), "steward@example.org"), chromedp.SendKeys(chromedp.CSS("#password"), password),
				chromedp.Click(chromedp.CSS("main button")), chromedp.WaitVisible(chromedp.CSS("#suspect")))
			visit(t, ctx, "anchor", dir, width,
				chromedp.Click(chromedp.CSS("#suspect ~ .brief a")), chromedp.WaitVisible(chromedp.CSS("#why")))
			visit(t, ctx, "inspection", dir, width,
				chromedp.Click(chromedp.CSS("#record-inspection > summary")), chromedp.WaitVisible(chromedp.CSS("#words")))
			visit(t, ctx, "inspection wrong", dir, width,
				chromedp.Click(chromedp.CSS("#record-inspection button")), chromedp.WaitVisible(chromedp.CSS("#summary-wrong")))
			visit(t, ctx, "settle", dir, width,
				chromedp.Click(chromedp.CSS(".settle-link")), chromedp.WaitVisible(chromedp.CSS("#reason")))
			for _, path := range []string{
				"places", "anchors?standing=suspect", "ledger?verify=yes", "holds", "notices", "people", "reports/overdue", "reports/suspect", "reports/work", "reports/land?detail=yes", "house-rules",
				"places/" + story.Facts.Site.ID.String(), "routes/" + story.Routes[0].ID.String(), "positions/" + story.Facts.Position.ID.String(),
				"anchors/" + story.Facts.Anchor.ID.String() + "/maintain", "anchors/" + story.Facts.Anchor.ID.String() + "/mark",
				"anchors/" + story.Facts.Anchor.ID.String() + "/unmark", "anchors/" + story.Facts.Anchor.ID.String() + "/remove",
				"anchors/" + story.Facts.Anchor.ID.String() + "/evidence",
				"places/" + story.Facts.Site.ID.String() + "/environment", "proposals",
				"places/new", "places/" + story.Facts.Site.ID.String() + "/change", "places/" + story.Facts.Site.ID.String() + "/sectors/new",
				"places/" + story.Facts.Site.ID.String() + "/routes/new", "sectors/" + story.Facts.Position.SectorID.String(), "sectors/" + story.Facts.Position.SectorID.String() + "/change",
				"routes/" + story.Routes[0].ID.String() + "/change", "routes/" + story.Routes[0].ID.String() + "/order",
				"positions/" + story.Facts.Position.ID.String() + "/change", "anchors/" + story.Facts.Anchor.ID.String() + "/change",
				"holds?over=anchor&over_id=" + story.Facts.Anchor.ID.String(),
				"routes/" + story.Routes[0].ID.String() + "/positions/new", "positions/" + story.Facts.Position.ID.String() + "/anchors/new", "notices/new",
				"stock", "stock/products", "stock/batches", "products/" + glue.String(), "products/" + glue.String() + "/sheet", "batches/" + batch.String(), "import",
			} {
				visit(t, ctx, strings.NewReplacer(
					"/"+story.Facts.Anchor.ID.String(), "", "/"+story.Facts.Site.ID.String(), " site",
					glue.String(), "", batch.String(), "", "/", " ", "?", " ").Replace(path), dir, width,
					chromedp.Navigate(s.url+"/g/fell-end/"+path), chromedp.WaitVisible(chromedp.CSS("h1")))
			}
			title, err := chromedp.Run(ctx, chromedp.Title())
			if want := "Import a list – fell-end (invented) – Rockledger"; err != nil || title != want {
				t.Errorf("title = %q, %v, want %q", title, err, want)
			}
		})
	}
}

// visit takes the steps to a page and looks at it.
func visit(t *testing.T, ctx context.Context, name, dir string, width int64, steps ...chromedp.Action[chromedp.Void]) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatalf("go to %s: %v", name, err)
	}
	screen(t, ctx, dir, name, width)
	low, err := chromedp.Run(ctx, chromedp.Evaluate[string](lowTargets))
	if err != nil || low != "" {
		t.Errorf("%s at %d px has targets less than 44 px high (%v):\n%s", name, width, err, low)
	}
}

package web_test

import (
	"fmt"
	"os"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"rockledger/internal/registry"
)

// menuState says how many links of the navigation can be seen, and how much of
// the screen the head of the page takes.
const menuState = `[...document.querySelectorAll(".main-nav a")].filter(e => e.checkVisibility()).length + " " +
	(document.querySelector(".masthead").offsetHeight <= 112) + " " + document.querySelector(".menu-button").checkVisibility()`

// On a phone the navigation is a button that the keyboard opens and closes; on
// a desk every link stands there.
func TestMenuInABrowser(t *testing.T) {
	t.Parallel()
	findChromium(t)
	s := newStack(t)
	s.member(t, registry.RoleSteward)
	dir := os.Getenv("ROCKLEDGER_PICTURES")
	if dir == "" {
		dir = t.TempDir()
	}
	for width, want := range map[int64][3]string{
		360:  {"0 true true", "12 true true", "0 true true"},
		1280: {"12 true false", "12 true false", "12 true false"},
	} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			ctx := startBrowser(t)
			if err := chromedp.Do(ctx,
				chromedp.EmulateViewport(width, 800), chromedp.Navigate(s.url+"/g/fell-end/places"),
				chromedp.SendKeys(chromedp.CSS("#email"), "steward@example.org"), chromedp.SendKeys(chromedp.CSS("#password"), password),
				chromedp.Click(chromedp.CSS("main button")), chromedp.WaitVisible(chromedp.CSS(".masthead-group")),
			); err != nil {
				t.Fatal(err)
			}
			state := func(when, want string) {
				t.Helper()
				got, err := chromedp.Run(ctx, chromedp.Evaluate[string](menuState))
				if err != nil || got != want {
					t.Errorf("%s: links, low head, button = %q, %v, want %q", when, got, err, want)
				}
			}
			state("closed", want[0])
			if width == 360 {
				// From the name of the register, one step further.
				if err := chromedp.Do(ctx, chromedp.Focus(chromedp.CSS(".masthead-name")), chromedp.KeyEvent(kb.Tab), chromedp.KeyEvent(kb.Enter)); err != nil {
					t.Fatal(err)
				}
				visit(t, ctx, "menu", dir, width)
			}
			state("opened", want[1])
			if err := chromedp.Do(ctx, chromedp.KeyEvent(kb.Escape)); err != nil {
				t.Fatal(err)
			}
			state("closed again", want[2])
		})
	}
}

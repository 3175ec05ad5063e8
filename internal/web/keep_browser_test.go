package web_test

import (
	"fmt"
	"testing"

	"github.com/chromedp/chromedp"

	"rockledger/internal/registry"
)

// On a phone and on a desk: a stale change, an order that cannot be right, and a
// hold found while one types. Only what is chosen is placed.
func TestKeepingTheInventoryInABrowser(t *testing.T) {
	t.Parallel()
	findChromium(t)
	dir := pictures(t)
	for _, width := range []int64{360, 1280} {
		t.Run(fmt.Sprint(width), func(t *testing.T) {
			t.Parallel()
			s := newStack(t)
			w := s.addTraverse(t, 4)
			g := s.glue(t, w)
			b := s.member(t, registry.RoleSteward)
			ctx := startBrowser(t)
			signIn(t, ctx, s, width)
			at := "/g/fell-end/positions/" + w.positions[0].String() + "/change"
			visit(t, ctx, "position change", dir, width, chromedp.Navigate(s.url+at), chromedp.WaitVisible(chromedp.CSS("#label")))
			b.led(t, b.post(at, b.filled(at, "label", "Doorstep", "role", "belay")))
			visit(t, ctx, "position stale", dir, width,
				chromedp.SendKeys(chromedp.CSS("#how_to_find"), "Left of the crack."), chromedp.Click(chromedp.CSS("main .form button")),
				chromedp.WaitVisible(chromedp.CSS("#form-stale")))
			visit(t, ctx, "position stored", dir, width, chromedp.Click(chromedp.CSS("main .form button")), chromedp.WaitVisible(chromedp.CSS(".notice")))
			route := s.url + "/g/fell-end/routes/" + w.route.String()
			rank := chromedp.CSS(`[id="rank.` + w.positions[3].String() + `"]`)
			visit(t, ctx, "order", dir, width, chromedp.Navigate(route+"/order"), chromedp.WaitVisible(rank))
			visit(t, ctx, "order wrong", dir, width,
				chromedp.SetValue(rank, "2"), chromedp.Click(chromedp.CSS("main .form button")), chromedp.WaitVisible(chromedp.CSS("#summary-wrong")))
			anchor := `.finder-found input[value="anchor:` + g.Anchors[1].ID.String() + `"]`
			visit(t, ctx, "hold found", dir, width,
				chromedp.Navigate(s.url+"/g/fell-end/holds"), chromedp.WaitVisible(chromedp.CSS("#over")),
				chromedp.SendKeys(chromedp.CSS(`[id="find.over"]`), "low t2"), chromedp.WaitVisible(chromedp.CSS(anchor)))
			visit(t, ctx, "hold placed", dir, width,
				chromedp.Click(chromedp.CSS(anchor)), chromedp.SendKeys(chromedp.CSS("#reason"), "An invented claim."),
				chromedp.Click(chromedp.CSS(`button[value="add"]`)), chromedp.WaitVisible(chromedp.CSS(`.holds a[href$="`+g.Anchors[1].ID.String()+`"]`)))
		})
	}
}

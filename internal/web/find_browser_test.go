package web_test

import (
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"rockledger/internal/registry"
)

// holdFirstAnswer keeps the answer to the first search back until letGo is
// called, whatever becomes of the search in between. It counts the searches, and
// notes that the script has read that answer.
const holdFirstAnswer = `(() => {
	const real = window.fetch;
	window.searches = 0;
	window.fetch = async (where, how) => {
		const first = window.searches++ === 0;
		const answer = await real(where, {...how, signal: undefined});
		if (!first) return answer;
		await new Promise((go) => { window.letGo = go; });
		const read = answer.text.bind(answer);
		answer.text = async () => {
			const text = await read();
			setTimeout(() => { window.toldLate = true; }); // after what the script does with it at once
			return text;
		};
		return answer;
	};
})()`

// What an older search brings, late, never stands where a newer one's should.
func TestAnOlderSearchNeverOverwritesANewerOne(t *testing.T) {
	t.Parallel()
	findChromium(t)
	s := newStack(t)
	s.member(t, registry.RoleSteward)
	ids := s.shelved(t, 40)
	dir := pictures(t)
	ctx := startBrowser(t)
	signIn(t, ctx, s, 360)
	search := chromedp.CSS(`[id="find.batch_ids"]`)
	const found = `[...document.querySelectorAll("#batch_ids .finder-found input")].map((i) => i.value).join(" ")`
	// No key that sends a form: what types here would send it past the script.
	visit(t, ctx, "find newer", dir, 360,
		chromedp.Navigate(s.url+"/g/fell-end/notices/new"), chromedp.WaitVisible(search),
		chromedp.Evaluate[chromedp.Void](holdFirstAnswer),
		chromedp.SendKeys(search, "f31"), chromedp.Poll[chromedp.Void]("typeof window.letGo === 'function'"),
		chromedp.SendKeys(search, kb.End+"\b\b05"), chromedp.Poll[chromedp.Void](found+" === '"+ids[5]+"'"))
	late := chromedp.Poll[chromedp.Void]("window.toldLate === true")
	if err := chromedp.Do(ctx, chromedp.Evaluate[chromedp.Void]("window.letGo()"), late); err != nil {
		t.Fatalf("let the older answer come: %v", err)
	}
	stands, err := chromedp.Run(ctx, chromedp.Evaluate[string](found))
	if err != nil || stands != ids[5] {
		t.Errorf("found %q after the older answer came, want what the newer search found, %q (%v)", stands, ids[5], err)
	}
}

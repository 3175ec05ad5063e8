package web

import (
	"bytes"
	"strings"
	"testing"

	"github.com/a-h/templ"
	"pgregory.net/rapid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// importingOf is the page of a long list that is being entered, with a report
// that does not name everything.
func importingOf(p importPage) importStatePage {
	r := *p.Report
	r.Totals = &report.Totals{Doubts: 1200, DoubtCodes: map[string]int{registry.DoubtDateNotRead: 1200}}
	p.Wrong, p.Kept = nil, ""
	p.fill(r)
	p.Outcome = ""
	page := importStatePage{Frame: frameOf("Import a list"), Here: "/i", Report: p, Stands: wording.ImportStateWords(registry.JobRunning, false, 1)}
	page.Frame.Refresh = refreshImport
	page.State = report.ImportState{State: registry.JobRunning, FileName: r.FileName, Rows: 9000, RowsDone: 1000, Report: r}
	return page
}

// importedOf are the pages of lists that were tried, are being undone, and were
// not.
func importedOf(p importPage) map[string]templ.Component {
	tried, undoing, refused := importingOf(p), importingOf(p), importingOf(p)
	tried.Frame.Refresh, tried.State.State, tried.State.Trial, tried.State.Kept = 0, registry.JobTried, true, true
	tried.offer(true, true)
	undoing.State.State = registry.JobUndoing
	undoing.tellUndo("3 May 2026, 10:30")
	refused.Frame.Refresh, refused.State.State, refused.State.Begun = 0, registry.JobDone, true
	refused.State.InTheWay = &registry.Refusal{Kind: fault.Conflict, Code: fault.InUse, Values: map[string]string{"in_the_way": "1"}}
	refused.tellUndo("3 May 2026, 10:30")
	refused.offer(true, true)
	return map[string]templ.Component{
		"tried": importStateView(tried), "undoing": importStateView(undoing), "not undone": importStateView(refused),
	}
}

// A list that is being entered is followed without script.
func TestImportPageLoadsItselfAgain(t *testing.T) {
	t.Parallel()
	imported := importPage{Frame: frameOf("Import a list")}
	imported.fill(importReportOf())
	page := importingOf(imported)
	doc := draw(t, importStateView(page))
	if n := len(all(doc, tag("meta"), has("http-equiv", "refresh"), has("content", "5"))); n != 1 {
		t.Errorf("%d metas load the page again, want 1", n)
	}
	if n := len(all(doc, tag("progress"), has("value", "1000"), has("max", "9000"))); n != 1 {
		t.Errorf("%d bars show the progress, want 1", n)
	}
	for _, id := range []string{"bounded", "codes", "import-progress"} {
		if len(all(doc, has("id", id))) != 1 {
			t.Errorf("nothing says %q", id)
		}
	}
	if got, want := text(one(t, doc, "page", tag("main"))), wording.ImportCodeCount(registry.DoubtDateNotRead, 1200); !strings.Contains(got, want) {
		t.Errorf("the page lacks %q: %s", want, got)
	}
	if len(all(doc, has("id", "import-why"))) != 0 || whyStopped(page.State) != "" {
		t.Error("the page of a list on its way says why it stopped")
	}
	page.Why = whyStopped(report.ImportState{State: registry.JobFailed, Code: "busy"})
	if got, want := text(one(t, draw(t, importStateView(page)), "why it stopped", has("id", "import-why"))), wording.Fault(fault.BusyCode, nil); got != want {
		t.Errorf("a list that failed says %q, want %q", got, want)
	}
	page.Frame.Refresh = 0
	if n := len(all(draw(t, importStateView(page)), has("http-equiv", "refresh"))); n != 0 {
		t.Error("the page of a list that is done loads itself again")
	}
}

func TestPackedListComesBack(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.Byte(), 0, 4096).Draw(t, "list")
		packed, err := pack(list)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := unpack(packed); err != nil || !bytes.Equal(got, list) {
			t.Fatalf("unpack(pack(%q)) = %q, %v", list, got, err)
		}
	})
}

func TestUnpackRejects(t *testing.T) {
	t.Parallel()
	large, err := pack(make([]byte, maxListBytes+1))
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name, packed string
		want         fault.Kind
	}{
		{"nothing", "", fault.Invalid},
		{"what is no list", "rock", fault.Invalid},
		{"half a list", large[:100], fault.Invalid},
		{"one byte more than a list may have", large, fault.TooLarge},
	} {
		if _, err := unpack(c.packed); fault.KindOf(err) != c.want {
			t.Errorf("%s: unpack = %v, want kind %v", c.name, err, c.want)
		}
	}
}

func TestFileName(t *testing.T) {
	t.Parallel()
	for given, want := range map[string]string{
		"anchors.csv": "anchors.csv", `C:\lists\anchors.csv`: "anchors.csv", "../../lists/anchors.csv": "anchors.csv",
		"anch\xffors.csv": "anchors.csv",
	} {
		if got := fileName(given); got != want {
			t.Errorf("fileName(%q) = %q, want %q", given, got, want)
		}
	}
}

func TestLocalPath(t *testing.T) {
	t.Parallel()
	for given, want := range map[string]string{
		"/g/fell-end/":                "/g/fell-end/",
		"/g/fell-end/anchors/7?x=1#y": "/g/fell-end/anchors/7?x=1#y",
		"":                            "/",
		"/sign-out":                   "/",
		"//example.org/g/":            "/",
		"https://example.org/g/":      "/",
		`/g/\example.org`:             "/",
		"/g/a\r\nSet-Cookie: b=c":     "/",
		"g/fell-end":                  "/",
	} {
		if got := localPath(given); got != want {
			t.Errorf("localPath(%q) = %q, want %q", given, got, want)
		}
	}
}

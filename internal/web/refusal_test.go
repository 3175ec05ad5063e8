package web

import (
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"strings"
	"testing"

	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

func TestRefusalsKeepTheFormAndTheirStatus(t *testing.T) {
	t.Parallel()
	for kind, status := range refusals {
		f := newForm("words", "typed")
		bad, err := f.reject(fault.New(kind, "refused").With("least", "steward"))
		if !bad || err != nil || f.status() != status || f.lead() != wording.FormRefused || f.wrong("") == "" || f.text("words") != "typed" {
			t.Errorf("%v: reject = %v, %v, status %d, want the form kept with %d", kind, bad, err, f.status(), status)
		}
	}
	for _, kind := range []fault.Kind{fault.Internal, fault.NotFound, fault.Unauthenticated} {
		f := newForm()
		if bad, err := f.reject(fault.New(kind, "not to be shown on a form")); bad || fault.KindOf(err) != kind {
			t.Errorf("%v: reject = %v, %v, want the error back", kind, bad, err)
		}
	}
	f := newForm()
	if bad, err := f.reject(fault.Reject(fault.Blank, "nothing")); !bad || err != nil || f.status() != 422 || f.lead() != wording.FormNotRead {
		t.Errorf("what cannot be right: %v, %v, status %d", bad, err, f.status())
	}
}

// formless are the handlers of forms in which nobody types anything.
var formless = map[string]bool{"withdrawPicture": true}

// Whatever reads a form shows it again where it is refused: through reject, or as
// the proposals do, which are ticked.
func TestEveryFormThatIsReadIsShownAgain(t *testing.T) {
	t.Parallel()
	entries, err := os.ReadDir(".")
	if err != nil {
		t.Fatal(err)
	}
	readers := 0
	for _, e := range entries {
		if !strings.HasSuffix(e.Name(), ".go") || strings.HasSuffix(e.Name(), "_test.go") {
			continue
		}
		file, err := parser.ParseFile(token.NewFileSet(), e.Name(), nil, 0)
		if err != nil {
			t.Fatal(err)
		}
		for _, d := range file.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok || fn.Recv == nil || formless[fn.Name.Name] {
				continue
			}
			calls := callsIn(fn)
			if !calls["postedForm"] && !calls["postedGluing"] && !calls["postedPicture"] && !calls["postedUpTo"] {
				continue
			}
			readers++
			if !calls["reject"] && !calls["decisionRefused"] {
				t.Errorf("%s reads a form and does not show it again when it is refused", fn.Name.Name)
			}
		}
	}
	if readers < 15 {
		t.Errorf("%d handlers read a form: the test looks at the wrong thing", readers)
	}
}

// callsIn are the names of the functions and methods that fn calls.
func callsIn(fn *ast.FuncDecl) map[string]bool {
	calls := make(map[string]bool)
	ast.Inspect(fn, func(n ast.Node) bool {
		call, ok := n.(*ast.CallExpr)
		if !ok {
			return true
		}
		switch f := call.Fun.(type) {
		case *ast.Ident:
			calls[f.Name] = true
		case *ast.SelectorExpr:
			calls[f.Sel.Name] = true
		}
		return true
	})
	return calls
}

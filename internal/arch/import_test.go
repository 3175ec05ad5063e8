package arch_test

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"slices"
	"strings"
	"testing"
)

// base is what everything that computes may import.
const base = "quantity calendar metal fault"

// anything marks the command that wires all together: it may import all but
// what is for tests.
const anything = "anything"

// allowed is the import table: for each package of the module what it may
// import of the module outside its tests. Names without a slash at the start
// lie in internal. A package that is missing here fails the test.
var allowed = map[string]string{
	"/cmd/rockledger":   anything,
	"/cmd/testpostgres": "",
	"/openapi":          "",
	"/api":              "",
	"/migrations":       "",

	"fault":       "",
	"quantity":    "fault",
	"calendar":    "fault",
	"metal":       "fault",
	"corrosion":   "quantity metal fault",
	"adhesive":    "quantity calendar fault",
	"strength":    "quantity fault",
	"reliability": "fault",
	"picture":     "fault",
	"folder":      "fault",
	"registry":    base,
	"rule":        "registry " + base,
	"houserules":  "registry rule " + base,
	"suspicion":   "registry rule houserules " + base,
	"schedule":    "registry houserules " + base,
	"sheetcheck":  "registry rule houserules adhesive " + base,
	"assess":      "houserules suspicion schedule sheetcheck corrosion strength registry " + base,
	"worklist":    "registry houserules " + base,
	"report":      "registry houserules " + base,
	"ledger":      "fault",
	"wording":     "registry " + base,
	"app": "corrosion adhesive strength reliability picture rule houserules suspicion schedule sheetcheck assess worklist " +
		"registry report ledger " + base,

	"postgres": "registry houserules report ledger " + base,
	"exchange": "registry report wording " + base,
	"auth":     "app registry fault",
	"httpapi":  "/api app exchange wording registry report " + base,
	"web":      "app auth exchange wording registry report " + base,
	"server":   "httpapi web auth app fault",
	"config":   "",
	"pglocal":  "",
	"demo":     "app registry " + base,
	"bench":    "postgres pglocal /migrations demo",
	"arch":     "",

	// For tests only: nothing above may import them.
	"pgtest": "pglocal /migrations registry houserules " + base,
	"sample": "pglocal /migrations registry houserules " + base,
}

// forTests may be imported by tests and by each other only.
var forTests = []string{"pgtest", "sample"}

const module = "rockledger"

func TestImports(t *testing.T) {
	t.Parallel()
	for _, p := range packages(t) {
		name := short(p.ImportPath)
		list, known := allowed[name]
		if !known {
			t.Errorf("package %s is not in the import table: give it a room there", p.ImportPath)
			continue
		}
		for _, path := range p.Imports {
			if path != module && !strings.HasPrefix(path, module+"/") {
				continue
			}
			if !may(list, short(path)) {
				t.Errorf("%s imports %s, which the import table does not allow", p.ImportPath, path)
			}
		}
	}
}

// TestImportTableNamesPackages finds misspelt names, which would allow nothing.
func TestImportTableNamesPackages(t *testing.T) {
	t.Parallel()
	for name, list := range allowed {
		if list == anything {
			continue
		}
		for _, other := range strings.Fields(list) {
			if _, known := allowed[other]; !known {
				t.Errorf("the import table lets %s import %s, which is not in it", name, other)
			}
			if !slices.Contains(forTests, name) && slices.Contains(forTests, other) {
				t.Errorf("the import table lets %s import %s, which is for tests", name, other)
			}
		}
	}
}

func may(list, name string) bool {
	if list == anything {
		return !slices.Contains(forTests, name)
	}
	return slices.Contains(strings.Fields(list), name)
}

// short returns a package's name in the table.
func short(path string) string {
	path = strings.TrimPrefix(path, module)
	if name, ok := strings.CutPrefix(path, "/internal/"); ok {
		return name
	}
	return path
}

type goPackage struct {
	ImportPath string
	Imports    []string
}

func packages(t *testing.T) []goPackage {
	t.Helper()
	cmd := exec.CommandContext(t.Context(), "go", "list", "-e", "-json=ImportPath,Imports", "./...")
	cmd.Dir = root(t)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var all []goPackage
	for in := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p goPackage
		err := in.Decode(&p)
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatalf("read go list: %v", err)
		}
		all = append(all, p)
	}
}

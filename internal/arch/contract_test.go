package arch_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/google/go-cmp/cmp"

	"rockledger/api"
)

var update = flag.Bool("update", false, "write openapi/spec.sum anew, once the contract's version is raised")

// TestContract refuses a changed contract under an unchanged version: clients
// go by the version. openapi/spec.sum holds the version and the sum of what
// the code is generated from.
func TestContract(t *testing.T) {
	t.Parallel()
	file := filepath.Join(root(t), "openapi", "spec.sum")
	now := contractSum(t)
	text, err := os.ReadFile(file)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		t.Fatal(err)
	}
	before := string(text)
	if before == now {
		return
	}
	sameVersion := before != "" && firstLine(before) == firstLine(now)
	switch {
	case sameVersion && sumOf(before, "rockledger.yaml") != sumOf(now, "rockledger.yaml"):
		t.Errorf("the contract has changed under an unchanged %s: raise info.version in openapi/rockledger.yaml, "+
			"run go generate ./openapi, then go test ./internal/arch -update", firstLine(now))
	case *update:
		if err := os.WriteFile(file, []byte(now), 0o600); err != nil {
			t.Fatal(err)
		}
	default:
		t.Errorf("openapi/spec.sum is out of date: run go generate ./openapi, then go test ./internal/arch -update")
	}
}

// TestGeneratedContract holds that package api was generated from the
// contract as it stands.
func TestGeneratedContract(t *testing.T) {
	t.Parallel()
	generated, err := api.GetSpec()
	if err != nil {
		t.Fatalf("contract in package api: %v", err)
	}
	if diff := cmp.Diff(canonical(t, contract(t)), canonical(t, generated)); diff != "" {
		t.Errorf("package api was generated from another contract: run go generate ./openapi (-contract +generated):\n%s", diff)
	}
}

func contract(t *testing.T) *openapi3.T {
	t.Helper()
	doc, err := openapi3.NewLoader().LoadFromFile(filepath.Join(root(t), "openapi", "rockledger.yaml"))
	if err != nil {
		t.Fatalf("contract: %v", err)
	}
	return doc
}

func contractSum(t *testing.T) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("version " + contract(t).Info.Version + "\n")
	for _, name := range []string{"rockledger.yaml", "oapi-codegen.yaml"} {
		text, err := os.ReadFile(filepath.Join(root(t), "openapi", name))
		if err != nil {
			t.Fatal(err)
		}
		sum := sha256.Sum256(text)
		b.WriteString(hex.EncodeToString(sum[:]) + "  " + name + "\n")
	}
	return b.String()
}

func firstLine(text string) string {
	line, _, _ := strings.Cut(text, "\n")
	return line
}

// sumOf returns the line of a file in spec.sum.
func sumOf(text, name string) string {
	for line := range strings.Lines(text) {
		if strings.HasSuffix(strings.TrimSpace(line), name) {
			return line
		}
	}
	return ""
}

// canonical prints the contract, with operation ids as the generator spells
// them.
func canonical(t *testing.T, doc *openapi3.T) string {
	t.Helper()
	for _, path := range doc.Paths.Map() {
		for _, op := range path.Operations() {
			op.OperationID = strings.ToUpper(op.OperationID[:1]) + op.OperationID[1:]
		}
	}
	text, err := json.Marshal(doc)
	if err != nil {
		t.Fatal(err)
	}
	var b bytes.Buffer
	if err := json.Indent(&b, text, "", " "); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

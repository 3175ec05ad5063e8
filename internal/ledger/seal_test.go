package ledger_test

import (
	"crypto/sha256"
	"encoding/hex"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"rockledger/internal/fault"
	"rockledger/internal/ledger"
)

// The inputs and roots are those of the certificate-transparency reference
// tests (RFC 6962), from memory; the roots were worked out again by a
// recursion after section 2.1 in another language.
func TestTreeRoot(t *testing.T) {
	t.Parallel()
	inputs := []string{"", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f"}
	roots := []string{
		"e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
		"6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
		"fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
		"aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
		"d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
		"4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
		"76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
		"ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
		"5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
	}
	var tree ledger.Tree
	for n, want := range roots {
		if got := tree.Root(); hex.EncodeToString(got[:]) != want {
			t.Errorf("root of %d inputs = %x, want %s", n, got, want)
		}
		if n < len(inputs) {
			data, err := hex.DecodeString(inputs[n])
			if err != nil {
				t.Fatal(err)
			}
			tree.Add(data)
		}
	}
}

// root is RFC 6962, section 2.1, word for word.
func root(list [][]byte) [sha256.Size]byte {
	if len(list) == 0 {
		return sha256.Sum256(nil)
	}
	if len(list) == 1 {
		return sha256.Sum256(append([]byte{0}, list[0]...))
	}
	k := 1
	for 2*k < len(list) {
		k *= 2
	}
	left, right := root(list[:k]), root(list[k:])
	return sha256.Sum256(append(append([]byte{1}, left[:]...), right[:]...))
}

func TestTreeIsThatOfTheRecursion(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		list := rapid.SliceOfN(rapid.SliceOf(rapid.Byte()), 0, 70).Draw(t, "list")
		var tree ledger.Tree
		for _, data := range list {
			tree.Add(data)
		}
		if got, want := tree.Root(), root(list); got != want {
			t.Errorf("Root() of %d = %x, want %x", len(list), got, want)
		}
	})
}

func seal() ledger.Seal {
	var tree ledger.Tree
	tree.Add(ledger.Leaf(7, 3, sha256.Sum256([]byte("a"))))
	tree.Add(ledger.Leaf(7, 4, sha256.Sum256([]byte("b"))))
	return ledger.Seal{
		GroupID: entry().GroupID, Era: 1, Number: 1, At: entry().At, Count: 2, First: 3, Last: 4, Until: 9, Root: tree.Root(),
	}
}

// Text and hash were written out and worked out in another language, after RFC
// 8785 and RFC 6962.
func TestSealText(t *testing.T) {
	t.Parallel()
	s := seal()
	want := `{"at":"2026-05-03T09:30:00.000001Z","count":2,"era":1,"first":"3","group_id":"0190f5e4-0000-7000-8000-000000000001",` +
		`"last":"4","number":1,"root":"c0946b74449c972ca1f1554bd49edeabe4fb738adef9dc2cd41fa610cbf6b143","until":"9"}`
	if got, err := s.Text(); err != nil || got != want {
		t.Errorf("Text() = %s, %v, want %s", got, err, want)
	}
	hash, err := s.Hash()
	if got := hex.EncodeToString(hash[:]); err != nil || got != "afb8dab4aa661b3ca5e30132561f646a3226753c91eb10bbe7733a524f24106e" {
		t.Errorf("Hash() = %s, %v", got, err)
	}
	s.At = time.Time{}
	if _, err := s.Text(); fault.KindOf(err) != fault.Invalid {
		t.Errorf("Text() without an instant: error %v, want Invalid", err)
	}
}

func TestSealHashHoldsAll(t *testing.T) {
	t.Parallel()
	base := seal()
	first, _ := base.Hash()
	for name, change := range map[string]func(*ledger.Seal){
		"group":    func(s *ledger.Seal) { s.GroupID = entry().RowID },
		"era":      func(s *ledger.Seal) { s.Era++ },
		"number":   func(s *ledger.Seal) { s.Number++ },
		"at":       func(s *ledger.Seal) { s.At = s.At.Add(time.Second) },
		"count":    func(s *ledger.Seal) { s.Count++ },
		"first":    func(s *ledger.Seal) { s.First++ },
		"last":     func(s *ledger.Seal) { s.Last++ },
		"until":    func(s *ledger.Seal) { s.Until++ },
		"root":     func(s *ledger.Seal) { s.Root[0]++ },
		"previous": func(s *ledger.Seal) { s.Previous = &ledger.Digest{} },
	} {
		s := seal()
		change(&s)
		if got, err := s.Hash(); err != nil || got == first {
			t.Errorf("Hash() with another %s = %x, %v, want another hash", name, got, err)
		}
	}
}

func TestSparseLeavesAbsentOut(t *testing.T) {
	t.Parallel()
	got, err := ledger.Sparse(map[string]any{"b": nil, "a": map[string]any{"inner": nil}, "c": ""})
	if want := `{"a":{"inner":null},"c":""}`; err != nil || got != want {
		t.Errorf("Sparse() = %s, %v, want %s", got, err, want)
	}
	if _, err := ledger.Sparse(3); fault.KindOf(err) != fault.Invalid {
		t.Errorf("Sparse(3): error %v, want Invalid", err)
	}
}

func TestDiffering(t *testing.T) {
	t.Parallel()
	later := ledger.Later{"mistaken": "false", "sum": ledger.Anything}
	for _, tt := range []struct {
		name, entry, row string
		want             []string
	}{
		{"the same", `{"a":1}`, `{"a":1}`, nil},
		{"a value", `{"a":1,"b":2}`, `{"a":2,"b":2}`, []string{"a"}},
		{"null is absent", `{"a":1,"b":null}`, `{"a":1}`, nil},
		{"no is not not known", `{"a":1}`, `{"a":1,"found":false}`, []string{"found"}},
		{"came, went", `{"a":1}`, `{"b":1}`, []string{"a", "b"}},
		{"a later column at its default", `{"a":1}`, `{"a":1,"mistaken":false}`, nil},
		{"a later column changed", `{"a":1}`, `{"a":1,"mistaken":true}`, []string{"mistaken"}},
		{"what cannot be compared", `{"a":1}`, `{"a":1,"sum":"x"}`, nil},
	} {
		if got, err := ledger.Differing(tt.entry, tt.row, later); err != nil || !cmp.Equal(got, tt.want) {
			t.Errorf("%s: Differing() = %v, %v, want %v", tt.name, got, err, tt.want)
		}
	}
	if _, err := ledger.Differing(`[]`, `{}`, nil); fault.KindOf(err) != fault.Invalid {
		t.Errorf("Differing() of no object: error %v, want Invalid", err)
	}
}

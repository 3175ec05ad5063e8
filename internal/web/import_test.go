package web

import (
	"bytes"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/fault"
)

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

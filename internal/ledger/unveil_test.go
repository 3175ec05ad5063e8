package ledger_test

import (
	"encoding/json"
	"testing"

	"pgregory.net/rapid"

	"rockledger/internal/ledger"
)

type noted struct {
	ID     string  `json:"id"`
	Notes  string  `json:"notes"`
	Reason *string `json:"reason"`
}

var notedNames = []string{"notes", "reason"}

// Unveil gives back exactly what was veiled, and never what was not.
func TestUnveilIsWhatWasVeiled(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		row := rapid.Custom(func(t *rapid.T) noted {
			n := noted{ID: "1", Notes: rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "notes")}
			if rapid.Bool().Draw(t, "has reason") {
				reason := rapid.SampledFrom([]string{"", "a", "b"}).Draw(t, "reason")
				n.Reason = &reason
			}
			return n
		})
		then, now, salt := row.Draw(t, "then"), row.Draw(t, "now"), []byte("salt")
		text, err := ledger.Veil(then, notedNames, func() ([]byte, error) { return salt, nil })
		if err != nil {
			t.Fatal(err)
		}
		words, err := ledger.WordsOf(now, notedNames, salt)
		if err != nil {
			t.Fatal(err)
		}
		got, err := words.Unveil(text, notedNames, "instead")
		if err != nil {
			t.Fatal(err)
		}
		blank := func(n noted) bool { return n.Notes == "" && orBlank(n.Reason) == "" }
		want := then
		if !blank(then) && (then.Notes != now.Notes || orBlank(then.Reason) != orBlank(now.Reason)) {
			instead := "instead"
			want = noted{then.ID, instead, &instead}
		}
		var read noted
		decode(t, got, &read)
		if read.ID != want.ID || read.Notes != want.Notes || orBlank(read.Reason) != orBlank(want.Reason) {
			t.Errorf("Unveil(%s) = %s, want %+v", text, got, want)
		}
	})
}

func TestUnveilWithoutSalt(t *testing.T) {
	t.Parallel()
	text, err := ledger.Veil(noted{ID: "1", Notes: "a"}, notedNames, func() ([]byte, error) { return []byte("salt"), nil })
	if err != nil {
		t.Fatal(err)
	}
	words, err := ledger.WordsOf(noted{ID: "1", Notes: "a"}, notedNames, nil)
	if err != nil {
		t.Fatal(err)
	}
	var read noted
	got, err := words.Unveil(text, notedNames[:1], "instead")
	if err != nil {
		t.Fatal(err)
	}
	if decode(t, got, &read); read.Notes != "instead" {
		t.Errorf("Unveil without a salt = %s, want what stands instead", got)
	}
	open := `{"id":"1","notes":"a"}`
	if got, err := words.Unveil(open, notedNames, "instead"); err != nil || got != open {
		t.Errorf("Unveil of what has no veil = %s, %v, want it as it is", got, err)
	}
	if _, err := words.Unveil("[]", notedNames, ""); err == nil {
		t.Error("Unveil takes what is no object")
	}
}

func orBlank(text *string) string {
	if text == nil {
		return ""
	}
	return *text
}

func decode(t interface{ Fatal(...any) }, text string, into any) {
	if err := json.Unmarshal([]byte(text), into); err != nil {
		t.Fatal(err)
	}
}

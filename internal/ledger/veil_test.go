package ledger_test

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"rockledger/internal/ledger"
)

func TestVeil(t *testing.T) {
	t.Parallel()
	salt := func() ([]byte, error) { return bytes.Repeat([]byte{7}, 32), nil }
	row := map[string]any{"id": 1, "name": "A. Tester", "contact": "", "ended_on": nil}
	// Worked out with another program: HMAC-SHA-256 (RFC 2104) of {"name":"A. Tester"} under 32 bytes 07.
	want := `{"id":1,"private":"98af8ff8bf0f0fe86287f15b8b48fc5414c43a0b0e410c336e2d26fafbc9d18b"}`
	got, err := ledger.Veil(row, []string{"name", "contact"}, salt)
	if err != nil || got != want {
		t.Errorf("Veil() = %s, %v, want %s", got, err, want)
	}
	if !ledger.Veiled(got) || ledger.Veiled(`{"id":1}`) || ledger.Veiled("x") {
		t.Error("Veiled() does not tell a veiled text from another")
	}
	row["name"] = ""
	refuse := func() ([]byte, error) { return nil, errors.New("not to be asked") }
	if got, err := ledger.Veil(row, []string{"name"}, refuse); err != nil || got != `{"contact":"","id":1,"private":""}` {
		t.Errorf("Veil() of nothing to veil = %s, %v", got, err)
	}
	row["name"] = "A. Tester"
	if _, err := ledger.Veil(row, []string{"name"}, refuse); err == nil {
		t.Error("Veil() swallows the error of its salt")
	}
	none := func() ([]byte, error) { return nil, nil }
	if got, err := ledger.Veil(row, []string{"name"}, none); err != nil || strings.Contains(got, "Tester") || !strings.Contains(got, "without-salt") {
		t.Errorf("Veil() without a salt = %s, %v", got, err)
	}
}

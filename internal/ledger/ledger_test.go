package ledger_test

import (
	"encoding/hex"
	"encoding/json"
	"math"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/fault"
	"rockledger/internal/ledger"
)

func TestCanonical(t *testing.T) {
	t.Parallel()
	tests := []struct{ name, in, want string }{
		{
			"RFC 8785, section 3.2.2 and 3.2.4",
			`{"numbers": [333333333.33333329, 1E30, 4.50, 2e-3, 0.000000000000000000000000001],
			  "string": "\u20ac$\u000F\u000aA'\u0042\u0022\u005c\\\"\/", "literals": [null, true, false]}`,
			`{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],"string":"€$\u000f\nA'B\"\\\\\"/"}`,
		},
		{
			"RFC 8785, section 3.2.3, order of names",
			`{"\u20ac": "Euro Sign", "\r": "Carriage Return", "\ufb33": "Hebrew Letter Dalet With Dagesh", "1": "One",
			  "\ud83d\ude00": "Emoji: Grinning Face", "\u0080": "Control", "\u00f6": "Latin Small Letter O With Diaeresis"}`,
			"{\"\\r\":\"Carriage Return\",\"1\":\"One\",\"\u0080\":\"Control\",\"ö\":\"Latin Small Letter O With Diaeresis\"," +
				"\"€\":\"Euro Sign\",\"😀\":\"Emoji: Grinning Face\",\"\ufb33\":\"Hebrew Letter Dalet With Dagesh\"}",
		},
		{"nothing", `null`, `null`},
		{"characters special to HTML stay", `"<a&b>"`, `"<a&b>"`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			t.Parallel()
			got, err := ledger.Canonical(json.RawMessage(tt.in))
			if err != nil {
				t.Fatal(err)
			}
			if got != tt.want {
				t.Errorf("Canonical(%s) = %s, want %s", tt.in, got, tt.want)
			}
		})
	}
}

// RFC 8785, Appendix B: number serialisation samples, by IEEE 754 bits.
func TestCanonicalNumbers(t *testing.T) {
	t.Parallel()
	tests := []struct {
		bits uint64
		want string
	}{
		{0x0000000000000000, "0"},
		{0x8000000000000000, "0"},
		{0x0000000000000001, "5e-324"},
		{0x8000000000000001, "-5e-324"},
		{0x7fefffffffffffff, "1.7976931348623157e+308"},
		{0xffefffffffffffff, "-1.7976931348623157e+308"},
		{0x4340000000000000, "9007199254740992"},
		{0xc340000000000000, "-9007199254740992"},
		{0x4430000000000000, "295147905179352830000"},
		{0x44b52d02c7e14af5, "9.999999999999997e+22"},
		{0x44b52d02c7e14af6, "1e+23"},
		{0x44b52d02c7e14af7, "1.0000000000000001e+23"},
		{0x444b1ae4d6e2ef4e, "999999999999999700000"},
		{0x444b1ae4d6e2ef4f, "999999999999999900000"},
		{0x444b1ae4d6e2ef50, "1e+21"},
		{0x3eb0c6f7a0b5ed8c, "9.999999999999997e-7"},
		{0x3eb0c6f7a0b5ed8d, "0.000001"},
		{0x41b3de4355555553, "333333333.3333332"},
		{0x41b3de4355555554, "333333333.33333325"},
		{0x41b3de4355555555, "333333333.3333333"},
		{0x41b3de4355555556, "333333333.3333334"},
		{0x41b3de4355555557, "333333333.33333343"},
		{0xbecbf647612f3696, "-0.0000033333333333333333"},
		{0x43143ff3c1cb0959, "1424953923781206.2"},
	}
	for _, tt := range tests {
		v := math.Float64frombits(tt.bits)
		if got, err := ledger.Canonical(v); err != nil || got != tt.want {
			t.Errorf("Canonical(%016x) = %v, %v, want %v", tt.bits, got, err, tt.want)
		}
	}
}

func TestCanonicalRejects(t *testing.T) {
	t.Parallel()
	// NaN and infinity: RFC 8785, section 3.2.2.3, must be an error.
	for _, v := range []any{math.NaN(), math.Inf(1), make(chan int), json.RawMessage(`{"a":`), json.RawMessage(`"\ud800"`), json.RawMessage(`{"a":1,"a":1}`)} {
		if got, err := ledger.Canonical(v); fault.KindOf(err) != fault.Invalid || err == nil {
			t.Errorf("Canonical(%v) = %q, %v, want an Invalid error", v, got, err)
		}
	}
}

func TestCanonicalIsStable(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		v := rapid.MapOf(rapid.String(), rapid.Float64()).Draw(t, "v")
		once, err := ledger.Canonical(v)
		if err != nil {
			t.Fatal(err)
		}
		twice, err := ledger.Canonical(json.RawMessage(once))
		if err != nil || twice != once {
			t.Errorf("Canonical(Canonical(%v)) = %s, %v, want %s", v, twice, err, once)
		}
		var back map[string]float64
		if err := json.Unmarshal([]byte(once), &back); err != nil || len(back) != len(v) {
			t.Errorf("Canonical(%v) = %s does not read back: %v", v, once, err)
		}
	})
}

func entry() ledger.Entry {
	return ledger.Entry{
		GroupID: uuid.MustParse("0190f5e4-0000-7000-8000-000000000001"),
		At:      time.Date(2026, time.May, 3, 10, 30, 0, 1_999, time.FixedZone("", 3600)),
		Who:     "command line: invented",
		What:    "import",
		Noun:    "site",
		RowID:   uuid.MustParse("0190f5e4-0000-7000-8000-000000000002"),
		After:   `{"name":"Example Crag"}`,
	}
}

func TestEntryText(t *testing.T) {
	t.Parallel()
	// Written out by hand after RFC 8785.
	want := `{"after":"{\"name\":\"Example Crag\"}","at":"2026-05-03T09:30:00.000001Z","before":null,` +
		`"group_id":"0190f5e4-0000-7000-8000-000000000001","noun":"site","row_id":"0190f5e4-0000-7000-8000-000000000002",` +
		`"what":"import","who":"command line: invented"}`
	got, err := entry().Text()
	if err != nil || got != want {
		t.Errorf("Text() = %s, %v, want %s", got, err, want)
	}
	e := entry()
	e.At = time.Time{}
	if _, err := e.Text(); fault.KindOf(err) != fault.Invalid {
		t.Errorf("Text() without an instant: error %v, want Invalid", err)
	}
	e = entry()
	e.Who = "\xff"
	if _, err := e.Text(); fault.KindOf(err) != fault.Invalid || err == nil {
		t.Errorf("Text() of no Unicode: error %v, want Invalid", err)
	}
}

// An entry's text is what Canonical makes of its members.
func TestEntryTextIsCanonical(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		e := entry()
		e.Who, e.What, e.Noun = rapid.String().Draw(t, "who"), rapid.String().Draw(t, "what"), rapid.String().Draw(t, "noun")
		e.Before, e.After = rapid.String().Draw(t, "before"), rapid.String().Draw(t, "after")
		orNull := func(text string) any {
			if text == "" {
				return nil
			}
			return text
		}
		want, err := ledger.Canonical(map[string]any{
			"group_id": e.GroupID, "at": "2026-05-03T09:30:00.000001Z", "who": e.Who, "what": e.What, "noun": e.Noun,
			"row_id": e.RowID, "before": orNull(e.Before), "after": orNull(e.After),
		})
		if err != nil {
			t.Fatal(err)
		}
		if got, err := e.Text(); err != nil || got != want {
			t.Errorf("Text() = %s, %v, want %s", got, err, want)
		}
	})
}

func TestEntryHash(t *testing.T) {
	t.Parallel()
	first, err := entry().Hash()
	if err != nil {
		t.Fatal(err)
	}
	changes := map[string]func(*ledger.Entry){
		"group":  func(e *ledger.Entry) { e.GroupID = e.RowID },
		"at":     func(e *ledger.Entry) { e.At = e.At.Add(time.Microsecond) },
		"who":    func(e *ledger.Entry) { e.Who = "token:1" },
		"what":   func(e *ledger.Entry) { e.What = "inspection" },
		"noun":   func(e *ledger.Entry) { e.Noun = "sector" },
		"row":    func(e *ledger.Entry) { e.RowID = e.GroupID },
		"before": func(e *ledger.Entry) { e.Before = "{}" },
		"after":  func(e *ledger.Entry) { e.After = strings.ToLower(e.After) },
	}
	for name, change := range changes {
		e := entry()
		change(&e)
		if got, err := e.Hash(); err != nil || got == first {
			t.Errorf("Hash() with another %s = %x, %v, want another hash", name, got, err)
		}
	}
	e := entry()
	e.At = e.At.UTC()
	if got, _ := e.Hash(); !cmp.Equal(got, first) {
		t.Errorf("Hash() in another zone = %s, want %s", hex.EncodeToString(got[:]), hex.EncodeToString(first[:]))
	}
}

func BenchmarkHash(b *testing.B) {
	e := entry()
	e.After = strings.Repeat(`{"name":"Example Crag","kind":"crag","lat":54.1,"lon":-2.3}`, 8)
	for b.Loop() {
		if _, err := e.Hash(); err != nil {
			b.Fatal(err)
		}
	}
}

package calendar_test

import (
	"encoding/json"
	"testing"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

func TestSpanString(t *testing.T) {
	t.Parallel()
	for _, tc := range []struct{ from, to, want string }{
		{"2025-05-02", "2025-05-02", "2 May 2025"},
		{"2003-06-01", "2003-08-31", "between 1 June and 31 August 2003"},
		{"2013-12-01", "2015-02-28", "between 1 December 2013 and 28 February 2015"},
		{"2009-05-01", "2009-05-31", "May 2009"},
		{"2009-05-03", "2009-05-31", "between 3 and 31 May 2009"},
		{"2014-01-01", "2014-12-31", "2014"},
		{"2014-01-01", "2014-12-30", "between 1 January and 30 December 2014"},
		{"", "", "not known"},
	} {
		s := calendar.Span{From: day(t, tc.from), To: day(t, tc.to), Words: "as written"}
		if got := s.String(); got != tc.want {
			t.Errorf("String(%v, %v) = %q, want %q", tc.from, tc.to, got, tc.want)
		}
	}
}

func TestSpanKnown(t *testing.T) {
	t.Parallel()
	d := day(t, "2025-05-02")
	for _, tc := range []struct {
		span         calendar.Span
		known, exact bool
	}{
		{calendar.Exactly(d), true, true},
		{calendar.Span{From: d, To: d + 1}, true, false},
		{calendar.Exactly(0), false, false},
		{calendar.Span{Words: "?"}, false, false},
	} {
		if tc.span.Known() != tc.known || tc.span.Exact() != tc.exact {
			t.Errorf("%v: known %v, exact %v, want %v, %v", tc.span, tc.span.Known(), tc.span.Exact(), tc.known, tc.exact)
		}
	}
}

func TestSpanValidate(t *testing.T) {
	t.Parallel()
	d := day(t, "2025-05-02")
	for _, tc := range []struct {
		name  string
		span  calendar.Span
		field string
		code  fault.Code
	}{
		{"not known", calendar.Span{Words: "?"}, "", ""},
		{"one day", calendar.Exactly(d), "", ""},
		{"no beginning", calendar.Span{To: d}, "from", fault.Required},
		{"no end", calendar.Span{From: d}, "to", fault.Required},
		{"wrong way round", calendar.Span{From: d, To: d - 1}, "to", fault.Order},
	} {
		t.Run(tc.name, func(t *testing.T) {
			t.Parallel()
			e, ok := fault.As(tc.span.Validate())
			if !ok {
				if tc.code != "" {
					t.Fatalf("Validate() = nil, want %v", tc.code)
				}
				return
			}
			if len(e.Violations) != 1 || e.Violations[0].Field != tc.field || e.Violations[0].Code != tc.code {
				t.Errorf("Validate() = %v, want %v %v", e.Violations, tc.field, tc.code)
			}
		})
	}
}

func TestSpanJSON(t *testing.T) {
	t.Parallel()
	for want, span := range map[string]calendar.Span{
		`{}`:            {},
		`{"words":"?"}`: {Words: "?"},
		`{"from":"1996-01-01","to":"2000-12-31","words":"c. 1998"}`: {From: day(t, "1996-01-01"), To: day(t, "2000-12-31"), Words: "c. 1998"},
	} {
		got, err := json.Marshal(span)
		if err != nil || string(got) != want {
			t.Errorf("Marshal(%v) = %s, %v, want %s", span, got, err, want)
		}
		var back calendar.Span
		if err := json.Unmarshal(got, &back); err != nil || back != span {
			t.Errorf("Unmarshal(%s) = %v, %v, want %v", got, back, err, span)
		}
	}
}

package httpapi_test

import (
	"encoding/csv"
	"net/http"
	"strings"
	"testing"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestReports(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	reader := tokens[registry.RoleReader]

	var overdue api.OverdueReport
	cautioned(t, s.get(t, "/v1/reports/overdue", reader, &overdue))
	if len(overdue.Lines) == 0 || overdue.Overdue+overdue.FirstRound != len(overdue.Lines) {
		t.Errorf("overdue = %d and %d in %d lines", overdue.Overdue, overdue.FirstRound, len(overdue.Lines))
	}
	if h := overdue.Heading; h.Group != "fell-end" || h.AsOf.String() != "2026-05-03" || h.Recomputed {
		t.Errorf("heading = %+v, want today's of fell-end", h)
	}
	for _, l := range overdue.Lines {
		if l.Reason == "" || l.DueState == "" || l.Landowner != "Invented Estate" {
			t.Errorf("line %+v without reason, due state or landowner", l)
		}
	}

	var later api.OverdueReport
	s.get(t, "/v1/reports/overdue?as_of=2031-05-03", reader, &later)
	if !later.Heading.Recomputed || later.Overdue != 3 {
		t.Errorf("five years on = %d overdue, recomputed %v, want 3, true", later.Overdue, later.Heading.Recomputed)
	}

	var suspect api.SuspectReport
	cautioned(t, s.get(t, "/v1/reports/suspect", reader, &suspect))
	if suspect.Suspect+suspect.OutOfUse != len(suspect.Lines) {
		t.Errorf("suspect = %d and %d in %d lines", suspect.Suspect, suspect.OutOfUse, len(suspect.Lines))
	}

	w := s.answer(t, call{method: http.MethodGet, target: "/v1/reports/suspect?as_of=1850-01-01", token: reader}, 422, nil)
	if got := fieldsOf(t, w.Body.Bytes()); len(got) != 1 || got[0] != "as_of out-of-range" {
		t.Errorf("as of 1850 = %v, want as_of out-of-range", got)
	}
}

// TestReportsByAccept holds that a report comes as asked for, as CSV with the
// caution in its last column, and in no third form.
func TestReportsByAccept(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	for _, name := range []string{"overdue", "suspect"} {
		c := call{method: http.MethodGet, target: "/v1/reports/" + name, token: tokens[registry.RoleReader], header: []string{"Accept", "text/csv"}}
		w := s.answer(t, c, http.StatusOK, nil)
		if got := w.Header().Get("Content-Type"); !strings.HasPrefix(got, "text/csv") {
			t.Errorf("%s: type %q, want text/csv", name, got)
		}
		if w.Header().Get("Vary") != "Accept" {
			t.Errorf("%s: Vary = %q, want Accept", name, w.Header().Get("Vary"))
		}
		rows, err := csv.NewReader(w.Body).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%s: %d rows, %v", name, len(rows), err)
		}
		last := len(rows[0]) - 1
		if rows[0][last] != "caution" || rows[1][last] != wording.Caution {
			t.Errorf("%s: last column %q %q, want the caution", name, rows[0][last], rows[1][last])
		}
		c.header = []string{"Accept", "application/pdf"}
		s.answer(t, c, http.StatusNotAcceptable, nil)
	}
}

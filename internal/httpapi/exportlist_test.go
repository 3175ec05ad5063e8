package httpapi_test

import (
	"net/http"
	"strings"
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func TestExportAnchorList(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	reader := tokens[registry.RoleReader]
	w := s.enter(t, tokens[registry.RoleSteward], "Venue,Bolt label,Hue\nGutter Edge,X9,red\n")
	_, done := countsOf(t, w.Body.Bytes())
	id := done.Id.String()
	for target, want := range map[string]string{
		"":                              "site,sector,route,position,type,metal,diameter,length,hole,glue,batch,set_on,set_by,last_inspected,state,lat,lon,landowner,notes,role,site_kind,id,caution",
		"?headings=ours":                "site,",
		"?headings=own":                 "Venue,Bolt label,Hue,sector,route,id,caution",
		"?import_id=" + id:              "Venue,Bolt label,Hue,sector,route,id,caution",
		"?headings=own&import_id=" + id: "Venue,Bolt label,Hue,sector,route,id,caution",
	} {
		w := s.answer(t, call{method: http.MethodGet, target: "/v1/exports/anchor-list" + target, token: reader}, http.StatusOK, nil)
		lines := strings.Split(strings.TrimSpace(w.Body.String()), "\n")
		if !strings.HasPrefix(lines[0], want) || len(lines) != 6 {
			t.Errorf("%s = %q and %d lines, want %q and 6", target, lines[0], len(lines), want)
		}
		if strings.Count(w.Body.String(), wording.Caution) != 1 || !strings.Contains(lines[1], wording.Caution) {
			t.Errorf("%s: the caution is not in the first row alone: %q", target, lines)
		}
		if got := w.Header().Get("Content-Type"); !strings.HasPrefix(got, "text/csv") {
			t.Errorf("%s: type %q, want text/csv", target, got)
		}
		if got := w.Header().Get("Content-Disposition"); !strings.Contains(got, ".csv") {
			t.Errorf("%s: disposition %q, want a file", target, got)
		}
	}
}

func TestExportAnchorListRejects(t *testing.T) {
	t.Parallel()
	s := newStack(t)
	reader := s.group(t, "fell-end")[registry.RoleReader]
	for target, status := range map[string]int{
		"?headings=own":                                http.StatusNotFound,
		"?import_id=" + uuid.NewString():               http.StatusNotFound,
		"?headings=theirs":                             http.StatusUnprocessableEntity,
		"?import_id=seven":                             http.StatusUnprocessableEntity,
		"?headings=ours&import_id=" + uuid.NewString(): http.StatusUnprocessableEntity,
	} {
		w := s.answer(t, call{method: http.MethodGet, target: "/v1/exports/anchor-list" + target, token: reader}, status, nil)
		if got := w.Header().Get("Content-Disposition"); got != "" {
			t.Errorf("%s: a problem as the file %q", target, got)
		}
	}
	c := call{method: http.MethodGet, target: "/v1/exports/anchor-list", token: reader, header: []string{"Accept", "application/json"}}
	s.answer(t, c, http.StatusNotAcceptable, nil)
	c.token, c.header = "", nil
	s.answer(t, c, http.StatusUnauthorized, nil)
}

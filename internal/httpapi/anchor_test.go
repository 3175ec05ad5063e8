package httpapi_test

import (
	"net/http"
	"net/http/httptest"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/api"
	"rockledger/internal/registry"
)

// anchorAt returns the anchor whose type was written as words.
func anchorAt(t *testing.T, s *stack, token, words string) api.AnchorLine {
	t.Helper()
	var list api.AnchorList
	s.get(t, "/v1/anchors", token, &list)
	for _, a := range list.Items {
		if a.FormText == words && a.Standing != api.StandingRemoved {
			return a
		}
	}
	t.Fatalf("no anchor of type %q in %+v", words, list.Items)
	return api.AnchorLine{}
}

func TestAnchors(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	reader := tokens[registry.RoleReader]
	glued := anchorAt(t, s, reader, "glue-in")
	for _, c := range []struct {
		name, query string
		want        int
	}{
		{"all of them", "", 4},
		{"of the site", "?site_id=" + glued.SiteId.String(), 4},
		{"of another site", "?site_id=" + newID(t).String(), 0},
		{"what was removed", "?standing=removed", 1},
		{"due by the end of next year", "?due_before=2028-01-01", 3},
		{"due before the list was entered", "?due_before=1990-01-01", 0},
		{"that can be of a grade", "?metal=1.4404", 2}, // 316L, and A4 that may be it
		{"by text, case folded", "?text=wet+corner", 2},
		{"by note", "?text=BUSH", 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			var list api.AnchorList
			w := s.get(t, "/v1/anchors"+c.query, reader, &list)
			cautioned(t, w)
			if len(list.Items) != c.want {
				t.Errorf("GET /v1/anchors%s = %d anchors, want %d: %s", c.query, len(list.Items), c.want, w.Body)
			}
		})
	}
}

func TestAnchorStory(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	reader := tokens[registry.RoleReader]
	line := anchorAt(t, s, reader, "glue-in")
	var story api.AnchorStory
	w := s.get(t, "/v1/anchors/"+line.Id.String(), reader, &story)
	cautioned(t, w)
	if got := w.Header().Get("ETag"); got != `"1"` {
		t.Errorf("ETag = %s, want \"1\"", got)
	}
	if story.Place.Site != "Gutter Edge" || story.Place.Landowner != "Invented Estate" || len(story.Place.Routes) != 1 {
		t.Errorf("place = %+v", story.Place)
	}
	if len(story.Installations) != 1 || len(story.Inspections) != 1 || len(story.Persons) != 1 {
		t.Errorf("story = %s, want one installation, one inspection, one person", w.Body)
	}
	if story.Assessment.StandingText == "" || story.Assessment.Reason == "" || len(story.History) == 0 {
		t.Errorf("assessment = %+v, history %v", story.Assessment, story.History)
	}
}

func TestAssessment(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	reader := tokens[registry.RoleReader]
	line := anchorAt(t, s, reader, "through bolt")
	var got api.Assessment
	w := s.get(t, "/v1/anchors/"+line.Id.String()+"/assessment", reader, &got)
	cautioned(t, w)
	if len(got.Findings) == 0 || len(got.Candidates) == 0 {
		t.Fatalf("assessment of one that spins = %s, want findings and dates", w.Body)
	}
	for _, f := range got.Findings {
		if f.Text == "" || f.Source == "" {
			t.Errorf("finding %+v without text or source", f)
		}
	}
	for _, c := range got.Candidates {
		if c.Text == "" || c.Source == "" {
			t.Errorf("date %+v without text or source", c)
		}
	}
	if got.Standing != line.Standing || got.DueOn != line.DueOn {
		t.Errorf("assessment says %v by %v, the list %v by %v", got.Standing, got.DueOn, line.Standing, line.DueOn)
	}
}

// patch sends a merge patch; no If-Match if etag is empty.
func (s *stack) patch(t *testing.T, target, token, etag, body string) *httptest.ResponseRecorder {
	t.Helper()
	c := call{
		method: http.MethodPatch, target: target, token: token, body: strings.NewReader(body),
		header: []string{"Content-Type", "application/merge-patch+json"},
	}
	if etag != "" {
		c.header = append(c.header, "If-Match", etag)
	}
	return s.do(t, c)
}

func TestChangeAnchor(t *testing.T) {
	t.Parallel()
	s, tokens := filled(t)
	steward := tokens[registry.RoleSteward]
	line := anchorAt(t, s, steward, "glue-in")
	target := "/v1/anchors/" + line.Id.String()

	for _, c := range []struct {
		name, etag, body string
		status           int
		want             []string
	}{
		{"no version stated", "", `{"notes":"x"}`, 428, nil},
		{"another version", `"7"`, `{"notes":"x"}`, 412, nil},
		{"a version that is none", `seven`, `{"notes":"x"}`, 400, []string{"If-Match malformed"}},
		{
			"every violation", `"1"`, `{"form":"nail","metal":["cheese"],"shank_diameter_mm":-3,"overall_length_mm":99999}`, 422,
			[]string{"form unknown", "shank_diameter_mm not-positive", "overall_length_mm out-of-range", "metal unknown"},
		},
		{"dates the wrong way round", `"1"`, `{"set_on":{"from":"2020-01-01","to":"2019-01-01"}}`, 422, []string{"set_on.to order"}},
		{"a date ahead", `"1"`, `{"set_on":{"from":"2027-01-01"}}`, 422, []string{"set_on date-ahead"}},
	} {
		w := s.patch(t, target, steward, c.etag, c.body)
		if diff := cmp.Diff(c.want, fieldsOf(t, w.Body.Bytes()), sorted(func(a, b string) bool { return a < b })); w.Code != c.status || diff != "" {
			t.Errorf("%s: %d %s, want %d (-want +got):\n%s", c.name, w.Code, w.Body, c.status, diff)
		}
	}

	w := s.patch(t, target, steward, `"1"`, `{"form":"staple","metal":["1.4462"],"shank_diameter_mm":null,"set_on":{"from":"2016-05-13"},"notes":null}`)
	if w.Code != http.StatusOK || w.Header().Get("ETag") != `"2"` {
		t.Fatalf("change = %d %s %s, want 200 and ETag \"2\"", w.Code, w.Header().Get("ETag"), w.Body)
	}
	cautioned(t, w)
	var story api.AnchorStory
	s.get(t, target, steward, &story)
	a := story.Anchor
	if a.Form != api.FormStaple || len(a.Metal) != 1 || a.Metal[0] != "1.4462" || a.ShankDiameterMm != nil ||
		a.SetOn.From.String() != "2016-05-13" || a.SetOn.To.String() != "2016-05-13" || a.MetalText != "316L" {
		t.Errorf("anchor after the change = %+v", a)
	}
	w = s.patch(t, target, steward, `"2"`, `{"metal_text":"A4"}`)
	s.get(t, target, steward, &story)
	if a := story.Anchor; w.Code != http.StatusOK || a.MetalText != "A4" || len(a.Metal) < 2 || slices.Contains(a.Metal, "1.4462") {
		t.Errorf("metal in other words = %d, %+v; want it read from them", w.Code, a)
	}
	if w := s.patch(t, target, tokens[registry.RoleRecorder], `"3"`, `{"notes":"x"}`); w.Code != http.StatusForbidden {
		t.Errorf("change by a recorder = %d, want 403", w.Code)
	}
}

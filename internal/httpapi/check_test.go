package httpapi_test

import (
	"context"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
)

const (
	someID    = "01932c4e-7a00-7000-8000-000000000001" // an id of version 7
	inspect   = "/v1/anchors/" + someID + "/inspections"
	oneAnchor = "/v1/anchors/" + someID
)

// checked runs one request of a steward through Check and returns what it
// objects to; nil: let through.
func checked(r *http.Request, role registry.Role) error {
	a := httpapi.New(httpapi.Options{Actor: func(context.Context) (registry.Actor, bool) {
		return registry.Actor{Role: role}, role != ""
	}})
	e := echo.New()
	var got error
	e.HTTPErrorHandler = func(err error, c echo.Context) {
		got = err
		_ = c.NoContent(http.StatusTeapot)
	}
	e.Use(a.Check(), func(echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error { return c.NoContent(http.StatusNoContent) }
	})
	a.Mount(e)
	e.ServeHTTP(httptest.NewRecorder(), r)
	return got
}

func request(t *testing.T, method, target, media, body string) *http.Request {
	t.Helper()
	r := httptest.NewRequestWithContext(t.Context(), method, target, strings.NewReader(body))
	if body == "" {
		r = httptest.NewRequestWithContext(t.Context(), method, target, http.NoBody)
	}
	if media != "" {
		r.Header.Set(echo.HeaderContentType, media)
	}
	return r
}

// short writes violations as "field code".
func short(err error) []string {
	e, ok := fault.As(err)
	if !ok {
		return nil
	}
	out := []string{}
	for _, v := range e.Violations {
		out = append(out, strings.TrimSpace(v.Field+" "+string(v.Code)))
	}
	return out
}

func TestCheck(t *testing.T) {
	t.Parallel()
	const json, patch = "application/json", "application/merge-patch+json"
	for _, c := range []struct {
		name                        string
		method, target, media, body string
		want                        []string
	}{
		{"a plain list", "GET", "/v1/sites", "", "", nil},
		{"every filter", "GET", "/v1/anchors?site_id=" + someID + "&route_id=" + someID + "&batch_id=" + someID +
			"&standing=suspect&due_before=2026-05-03&metal=1.4404&text=Gutter&limit=500&sector_id=" + someID +
			"&due_state=overdue&box=-3.5,54,-3,55", "", "", nil},
		{"limit too high", "GET", "/v1/sites?limit=501", "", "", []string{"limit out-of-range"}},
		{"limit no number", "GET", "/v1/sites?limit=ten", "", "", []string{"limit not-a-number"}},
		{"limit empty", "GET", "/v1/sites?limit=", "", "", []string{"limit blank"}},
		{
			"every violation at once", "GET", "/v1/anchors?limit=0&standing=safe&due_before=2026-02-30&site_id=7", "", "",
			[]string{"site_id malformed", "standing unknown", "due_before no-such-day", "limit out-of-range"},
		},
		{"the first day of all is not none", "GET", "/v1/reports/overdue?as_of=0001-01-01", "", "", []string{"as_of out-of-range"}},
		{"so it is in a body", "POST", inspect, json, `{"done_on":{"from":"0001-01-01"},"level":"hands-on"}`, []string{"done_on.from out-of-range"}},
		{"and as an instant", "POST", "/v1/anchors/" + someID + "/first-uses", json, `{"done_on":{"from":"2026-05-03"},"at":{"from":"0001-01-01T00:00:00Z"}}`, []string{"at.from out-of-range", "person_id required"}},
		{"a misspelt filter", "GET", "/v1/anchors?stnding=suspect", "", "", []string{"stnding not-allowed"}},
		{"a filter twice", "GET", "/v1/anchors?standing=suspect&standing=watch", "", "", []string{"standing ambiguous"}},
		{"the nil id names nothing", "GET", "/v1/sites/00000000-0000-0000-0000-000000000000", "", "", []string{"id malformed"}},
		{"no id", "GET", "/v1/sites/Gutter", "", "", []string{"id malformed"}},

		{"an inspection", "POST", inspect, json, `{"done_on":{"from":"2026-05-03"},"level":"hands-on"}`, nil},
		{"a character set is no matter", "POST", inspect, json + "; charset=utf-8", `{"done_on":{"from":"2026-05-03"},"level":"hands-on"}`, nil},
		{"everything missing", "POST", inspect, json, `{}`, []string{"done_on required", "level required"}},
		{"no body", "POST", inspect, json, "", []string{"required"}},
		{"no JSON", "POST", inspect, json, `{"done_on":`, []string{"malformed"}},
		{
			"wrong in depth", "POST", inspect, json,
			`{"done_on":{"from":"2026-13-01","until":"2026-05-03"},"level":"close","observations":["rust","dusty"],"ticked":"yes"}`,
			[]string{"done_on.from no-such-day", "done_on.until not-allowed", "level unknown", "observations[1] unknown", "ticked malformed"},
		},
		{
			"another case is another name", "POST", inspect, json,
			`{"done_on":{"from":"2026-05-03"},"level":"hands-on","LEVEL":"full"}`,
			[]string{"LEVEL not-allowed"},
		},
		{"null is no value", "POST", inspect, json, `{"done_on":null,"level":"hands-on"}`, []string{"done_on required"}},
		{"another media type", "POST", inspect, "text/plain", `{}`, []string{"Content-Type unknown"}},
		{"no media type", "POST", inspect, "", `{}`, []string{"Content-Type unknown"}},

		{"a patch", "PATCH", oneAnchor, patch, `{"form":null,"metal":["1.4404"],"set_on":null,"shank_diameter_mm":12}`, nil},
		{"an empty patch", "PATCH", oneAnchor, patch, `{}`, []string{"blank"}},
		{
			"a patch of what cannot be changed", "PATCH", oneAnchor, patch, `{"site_id":"` + someID + `","removed":true}`,
			[]string{"removed not-allowed", "site_id not-allowed"},
		},
		{"a number in quotes", "PATCH", oneAnchor, patch, `{"shank_diameter_mm":"12 mm"}`, []string{"shank_diameter_mm not-a-number"}},
		{
			"an address that is none of the statement's", "PATCH", "/v1/environments/" + someID, patch, `{"place_id":"` + someID + `","sea_km":"far"}`,
			[]string{"place_id not-allowed", "sea_km not-a-number"},
		},
		{"rules that are a list", "PUT", "/v1/house-rules", json, `[]`, []string{"malformed"}},
		{"a climate by half", "POST", "/v1/corrosion/estimate", json, `{"temperature_c":"mild","humidity_pct":75}`, []string{
			"chloride_mg_per_m2_day required", "sulphur_dioxide_mg_per_m2_day required", "temperature_c not-a-number",
		}},
		{"an upload without boundary", "POST", "/v1/imports", "multipart/form-data", `x`, []string{"Content-Type malformed"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			err := checked(request(t, c.method, c.target, c.media, c.body), registry.RoleSteward)
			got := short(err)
			less := func(a, b string) bool { return a < b }
			if diff := cmp.Diff(c.want, got, sorted(less)); diff != "" || (c.want == nil) != (err == nil) {
				t.Errorf("Check(%s %s %s) = %v (-want +got):\n%s", c.method, c.target, c.body, err, diff)
			}
		})
	}
}

// TestCheckRefuses holds that role and size are asked before a body is read.
func TestCheckRefuses(t *testing.T) {
	t.Parallel()
	long := `{"words":"` + strings.Repeat("x", httpapi.MaxBody) + `"}`
	for _, c := range []struct {
		name string
		r    *http.Request
		role registry.Role
		want fault.Kind
	}{
		{"a reader cannot import", request(t, "POST", "/v1/imports", "text/plain", "x"), registry.RoleReader, fault.Forbidden},
		{"a recorder cannot change an anchor", request(t, "PATCH", oneAnchor, "", "{"), registry.RoleRecorder, fault.Forbidden},
		{"a reader cannot record", request(t, "POST", inspect, "", "{"), registry.RoleReader, fault.Forbidden},
		{"nobody cannot read", request(t, "GET", "/v1/sites", "", ""), "", fault.Unauthenticated},
		{"a body too long", request(t, "POST", inspect, "application/json", long), registry.RoleOwner, fault.TooLarge},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Parallel()
			if got := fault.KindOf(checked(c.r, c.role)); got != c.want {
				t.Errorf("Check as %q = %v, want %v", c.role, got, c.want)
			}
		})
	}
	unknownLength := request(t, "POST", inspect, "application/json", long)
	unknownLength.ContentLength = -1
	if got := fault.KindOf(checked(unknownLength, registry.RoleOwner)); got != fault.TooLarge {
		t.Errorf("Check of a long body of unknown length = %v, want %v", got, fault.TooLarge)
	}
}

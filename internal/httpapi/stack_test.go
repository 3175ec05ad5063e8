package httpapi_test

import (
	"bytes"
	"encoding/json"
	"io"
	"log/slog"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/getkin/kin-openapi/routers/legacy"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/auth"
	"rockledger/internal/houserules"
	"rockledger/internal/pgtest"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/server"
	"rockledger/internal/web"
	"rockledger/internal/wording"
)

// today is the day of these tests.
var today = time.Date(2026, time.May, 3, 12, 0, 0, 0, time.UTC)

// gutter is a list of an invented crag: three anchors on two routes, and one
// removed.
const gutter = `Site,Sector,Route,Anchor,Type,Material,Diameter,Date set,Set by,Resin,Batch,Last checked,Condition,Landowner,Notes
Gutter Edge,Left Wall,Slate Rib,1,glue-in,316L,12 mm,12/05/2016,A. Tester,Invented Resin,L17-A,02/05/2025,ok,Invented Estate,
Gutter Edge,Left Wall,Slate Rib,2,through bolt,A4,10 mm,2014,A. Tester,,,02/05/2025,spins,Invented Estate,by the bush
Gutter Edge,Right Wall,Wet Corner,1,piton,?,,c. 1998,,,,,,Invented Estate,
Gutter Edge,Right Wall,Wet Corner,2,through bolt,BZP,10 mm,2001,,,,2012,REMOVED,Invented Estate,
`

// stack is the whole service on a database of the test's own.
type stack struct {
	echo   *echo.Echo
	admin  *postgres.Admin
	router routers.Router

	service *app.Service
}

func newStack(t *testing.T) *stack {
	t.Helper()
	db := pgtest.New(t)
	store := postgres.New(db.App)
	clock := func() time.Time { return today }
	service := app.New(store, clock)
	log := slog.New(slog.NewTextHandler(t.Output(), &slog.HandlerOptions{Level: slog.LevelError}))
	router, err := legacy.NewRouter(spec(t))
	if err != nil {
		t.Fatal(err)
	}
	return &stack{
		echo: server.New(server.Options{
			Service: service, Tokens: store, Log: log,
			Pages: web.New(web.Options{
				Service: service, Accounts: store, Sessions: postgres.NewWebSessions(db.App), Log: log,
				Cost: auth.Cost{MemoryKiB: 64, Passes: 1, Lanes: 1}, Now: clock,
			}),
			Ready: db.App.Ping,
		}),
		admin:  postgres.NewAdmin(db.Owner()),
		router: router,

		service: service,
	}
}

// group adds a group and returns a token for each role in it.
func (s *stack) group(t *testing.T, slug string) map[registry.Role]string {
	t.Helper()
	_, tokens := s.groupWithID(t, slug)
	return tokens
}

// groupWithID is group for a test that works on the group as its owner.
func (s *stack) groupWithID(t *testing.T, slug string) (uuid.UUID, map[registry.Role]string) {
	t.Helper()
	rules, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	g := registry.Group{ID: newID(t), Slug: slug, Name: slug + " (invented)", TimeZone: "Europe/London"}
	if err := s.admin.AddGroup(t.Context(), g, rules); err != nil {
		t.Fatal(err)
	}
	tokens := make(map[registry.Role]string)
	for _, role := range registry.Roles() {
		plain, hash := auth.NewToken()
		token := registry.Token{ID: newID(t), GroupID: g.ID, Name: string(role), Role: role, Hash: hash, CreatedAt: today}
		if err := s.admin.AddToken(t.Context(), token); err != nil {
			t.Fatal(err)
		}
		tokens[role] = plain
	}
	return g.ID, tokens
}

func newID(t *testing.T) uuid.UUID {
	t.Helper()
	id, err := uuid.NewV7()
	if err != nil {
		t.Fatal(err)
	}
	return id
}

// call is one request; header holds alternating names and values.
type call struct {
	method, target, token string
	body                  any // sent as JSON; an io.Reader as it is
	header                []string
}

// do sends a request and holds its answer against the contract.
func (s *stack) do(t *testing.T, c call) *httptest.ResponseRecorder {
	t.Helper()
	var body io.Reader = http.NoBody
	media := ""
	switch b := c.body.(type) {
	case nil:
	case io.Reader:
		body = b
	default:
		text, err := json.Marshal(b)
		if err != nil {
			t.Fatal(err)
		}
		body, media = bytes.NewReader(text), "application/json"
	}
	r := httptest.NewRequestWithContext(t.Context(), c.method, c.target, body)
	if media != "" {
		r.Header.Set("Content-Type", media)
	}
	if c.token != "" {
		r.Header.Set("Authorization", "Bearer "+c.token)
	}
	for i := 0; i+1 < len(c.header); i += 2 {
		r.Header.Set(c.header[i], c.header[i+1])
	}
	w := httptest.NewRecorder()
	s.echo.ServeHTTP(w, r)
	s.holdToContract(t, r, w)
	return w
}

// holdToContract fails the test if an answer is not one of those the contract
// has. What is no operation must be answered with a problem.
func (s *stack) holdToContract(t *testing.T, r *http.Request, w *httptest.ResponseRecorder) {
	t.Helper()
	route, params, err := s.router.FindRoute(r)
	if err != nil {
		var value any
		if err := json.Unmarshal(w.Body.Bytes(), &value); err != nil {
			t.Fatalf("%s %s = %d %s, want a problem", r.Method, r.URL, w.Code, w.Body)
		}
		if err := spec(t).Components.Schemas["Problem"].Value.VisitJSON(value); err != nil {
			t.Fatalf("%s %s: %v", r.Method, r.URL, err)
		}
		return
	}
	err = openapi3filter.ValidateResponse(t.Context(), &openapi3filter.ResponseValidationInput{
		RequestValidationInput: &openapi3filter.RequestValidationInput{Request: r, PathParams: params, Route: route},
		Status:                 w.Code,
		Header:                 w.Header(),
		Body:                   io.NopCloser(bytes.NewReader(w.Body.Bytes())),
		Options: &openapi3filter.Options{
			MultiError: true, IncludeResponseStatus: true,
			SchemaValidationOptions: []openapi3.SchemaValidationOption{openapi3.EnableFormatValidation()},
		},
	})
	if err != nil {
		t.Fatalf("%s %s = %d %s: not as in the contract: %v", r.Method, r.URL, w.Code, w.Body, err)
	}
	answer := route.Operation.Responses.Status(w.Code)
	if answer == nil || answer.Value.Content["application/json"] == nil {
		return
	}
	if answer.Value.Content["application/json"].Schema.Value.Properties["caution"] != nil {
		cautioned(t, w)
	}
}

// answer sends a request that must be answered with the given status, and
// reads the answer into out, if there is one to read into.
func (s *stack) answer(t *testing.T, c call, status int, out any) *httptest.ResponseRecorder {
	t.Helper()
	w := s.do(t, c)
	if w.Code != status {
		t.Fatalf("%s %s = %d %s, want %d", c.method, c.target, w.Code, w.Body, status)
	}
	if out != nil {
		if err := json.Unmarshal(w.Body.Bytes(), out); err != nil {
			t.Fatalf("%s %s: %v", c.method, c.target, err)
		}
	}
	return w
}

// get reads an answer of 200.
func (s *stack) get(t *testing.T, target, token string, out any) *httptest.ResponseRecorder {
	t.Helper()
	return s.answer(t, call{method: http.MethodGet, target: target, token: token}, http.StatusOK, out)
}

// enter imports a list as the owner of token.
func (s *stack) enter(t *testing.T, token, list string, fields ...string) *httptest.ResponseRecorder {
	t.Helper()
	body, media := form(t, list, fields...)
	return s.do(t, call{
		method: http.MethodPost, target: "/v1/imports", token: token, body: body, header: []string{"Content-Type", media},
	})
}

// form writes a multipart form with a list and further fields, given as
// alternating names and values.
func form(t *testing.T, list string, fields ...string) (io.Reader, string) {
	t.Helper()
	var b bytes.Buffer
	w := multipart.NewWriter(&b)
	part, err := w.CreateFormFile("file", "gutter.csv")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := io.Copy(part, strings.NewReader(list)); err != nil {
		t.Fatal(err)
	}
	for i := 0; i+1 < len(fields); i += 2 {
		if err := w.WriteField(fields[i], fields[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := w.Close(); err != nil {
		t.Fatal(err)
	}
	return &b, w.FormDataContentType()
}

// cautioned fails the test unless an answer carries the caution.
func cautioned(t *testing.T, w *httptest.ResponseRecorder) {
	t.Helper()
	if !strings.Contains(w.Body.String(), wording.Caution) {
		t.Errorf("answer without the caution: %s", w.Body)
	}
}

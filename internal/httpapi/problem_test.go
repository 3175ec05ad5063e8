package httpapi_test

import (
	"encoding/json"
	"errors"
	"net/http"
	"strings"
	"testing"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
	"rockledger/internal/httpapi"
)

// TestProblemFitsContract holds that a problem of every code is one of the
// contract's and says something.
func TestProblemFitsContract(t *testing.T) {
	t.Parallel()
	schema := spec(t).Components.Schemas["Problem"].Value
	for _, code := range fault.Codes() {
		err := fault.Reject(code, "for programmers")
		err.Violations = []fault.Violation{{Field: "form", Code: code, Values: map[string]string{"value": "x"}}}
		p := httpapi.NewProblem(http.StatusUnprocessableEntity, err)
		text, _ := json.Marshal(p)
		var value any
		if err := json.Unmarshal(text, &value); err != nil {
			t.Fatal(err)
		}
		if err := schema.VisitJSON(value, openapi3.MultiErrors()); err != nil {
			t.Errorf("problem of %q: %v", code, err)
		}
		if p.Detail == "" || p.Violations[0].Text == "" {
			t.Errorf("problem of %q says nothing: %s", code, text)
		}
	}
}

// TestProblemTellsNothing holds that what is ours is not told.
func TestProblemTellsNothing(t *testing.T) {
	t.Parallel()
	const secret = "relation anchor does not exist"
	for _, err := range []error{
		errors.New(secret),
		fault.Wrap(fault.Busy, errors.New(secret), "load anchor"),
		fault.Wrap(fault.NotFound, errors.New(secret), "anchor %s", secret),
		echo.NewHTTPError(http.StatusInternalServerError, secret),
	} {
		for _, status := range []int{http.StatusNotFound, http.StatusInternalServerError} {
			text, _ := json.Marshal(httpapi.NewProblem(status, err))
			if strings.Contains(string(text), secret) {
				t.Errorf("NewProblem(%d, %v) = %s", status, err, text)
			}
		}
	}
}

// TestProblemOfWaiting holds that whoever has to wait is told for what.
func TestProblemOfWaiting(t *testing.T) {
	t.Parallel()
	err := fault.New(fault.Busy, "busy").With("waits_for", "intake")
	if p := httpapi.NewProblem(http.StatusServiceUnavailable, err); !strings.Contains(p.Detail, "Another list of this group") {
		t.Errorf("detail %q, want it to say what is waited for", p.Detail)
	}
}

// TestProblemOfRouter names the answers that the router gives by itself.
func TestProblemOfRouter(t *testing.T) {
	t.Parallel()
	for err, want := range map[*echo.HTTPError]fault.Code{
		echo.ErrNotFound:                    fault.NotFoundCode,
		echo.ErrMethodNotAllowed:            fault.InvalidCode,
		echo.ErrStatusRequestEntityTooLarge: fault.TooLargeCode,
		echo.ErrBadRequest:                  fault.Malformed,
		echo.ErrInternalServerError:         fault.InternalCode,
	} {
		if got := httpapi.NewProblem(err.Code, err).Code; string(got) != string(want) {
			t.Errorf("code of %d = %q, want %q", err.Code, got, want)
		}
	}
}

// TestProblemOfList tells why a list cannot be read, in its own words.
func TestProblemOfList(t *testing.T) {
	t.Parallel()
	err := fault.New(fault.Invalid, "")
	err.Violations = []fault.Violation{{Field: "file", Code: fault.Malformed, Values: map[string]string{"why": "spreadsheet"}}}
	got := httpapi.NewProblem(http.StatusUnprocessableEntity, err).Violations[0].Text
	if !strings.HasPrefix(got, "The file is a spreadsheet") || !strings.HasSuffix(got, ".") {
		t.Errorf("text of an unreadable list = %q", got)
	}
}

package httpapi

import (
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"unicode"
	"unicode/utf8"

	"github.com/labstack/echo/v4"

	"rockledger/api"
	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

// ProblemType is the media type of problems, RFC 9457.
const ProblemType = "application/problem+json"

// NewProblem describes err for the caller under the given status: its code,
// what is wrong in words, what to do about it, and every violation. Nothing of
// an error that is ours, and no cause, gets into it; nor does any id, so that
// what is another group's looks like what never was.
func NewProblem(status int, err error) api.Problem {
	code := problemCode(status, err)
	p := api.Problem{
		Type:   "urn:rockledger:problem:" + string(code),
		Title:  http.StatusText(status),
		Status: status,
		Code:   api.Code(code),
	}
	e, ok := fault.As(err)
	if ok && e.Kind == fault.Busy {
		p.Detail = wording.Fault(code, e.Values)
		return p
	}
	if !ok || status >= http.StatusInternalServerError {
		p.Detail = wording.Fault(code, nil)
		return p
	}
	p.Detail = wording.Fault(code, e.Values)
	for _, v := range e.Violations {
		p.Violations = append(p.Violations, violationOut(v))
	}
	return p
}

func violationOut(v fault.Violation) api.Violation {
	return api.Violation{Field: v.Field, Code: api.Code(v.Code), Values: v.Values, Text: violationText(v)}
}

// problemCode is the code err carries. An answer the router gives by itself
// carries none: its status says which.
func problemCode(status int, err error) fault.Code {
	var h *echo.HTTPError
	if _, ours := fault.As(err); ours || !errors.As(err, &h) {
		return fault.CodeOf(err)
	}
	switch status {
	case http.StatusNotFound:
		return fault.NotFoundCode
	case http.StatusMethodNotAllowed:
		return fault.InvalidCode
	case http.StatusRequestEntityTooLarge:
		return fault.TooLargeCode
	}
	if status < http.StatusInternalServerError {
		return fault.Malformed
	}
	return fault.InternalCode
}

// WriteProblem answers with a problem.
func WriteProblem(c echo.Context, p api.Problem) error {
	body, err := json.Marshal(p)
	if err != nil {
		return fmt.Errorf("write problem: %w", err)
	}
	return c.Blob(p.Status, ProblemType, append(body, '\n'))
}

// violationText says what is wrong with one field.
func violationText(v fault.Violation) string {
	return wording.Violation(v)
}

// sentence gives a text its capital and its full stop.
func sentence(text string) string {
	first, size := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(first)) + text[size:] + "."
}

package httpapi

import (
	"bytes"
	"encoding/json"
	"io"
	"regexp"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/fault"
)

// withhold answers nothing to a request that is not as the contract has it, if
// its use case had nothing else against it.
func withhold(next api.StrictHandlerFunc, _ string) api.StrictHandlerFunc {
	return func(c echo.Context, request any) (any, error) {
		answer, err := next(c, request)
		if shape := app.Objection(c.Request().Context()); err == nil && shape != nil {
			return nil, shape
		}
		return answer, err
	}
}

// together returns what is wrong with a request's shape and with its meaning as
// one fault.Invalid. What its shape says of a field stands for what its meaning
// would: the value was not there to be judged. That somebody may not do it is
// all there is to say; any other failure tells nothing of what was sent.
func together(shape, meaning error) error {
	e, ok := fault.As(meaning)
	switch {
	case ok && e.Kind == fault.Forbidden:
		return meaning
	case !ok || e.Kind != fault.Invalid:
		return shape
	}
	f, _ := fault.As(shape)
	var c fault.Checks
	c.Nest("", shape)
	for _, v := range e.Violations {
		said := slices.ContainsFunc(f.Violations, func(s fault.Violation) bool { return stands(s, v) })
		if !said {
			c.Add(v)
		}
	}
	return c.Err()
}

// stands says whether what is wrong with a field's shape stands for what is
// wrong with its meaning: it is of the same field, of one within or around. That
// an unknown member does not belong says nothing of what is around it.
func stands(shape, meaning fault.Violation) bool {
	a, b := bare(shape.Field), bare(meaning.Field)
	return a == b || shape.Code != fault.NotAllowed && (within(a, b) || within(b, a))
}

var index = regexp.MustCompile(`\[[0-9]+\]`)

// bare is a field's name without places in lists.
func bare(field string) string { return index.ReplaceAllString(field, "") }

func within(part, whole string) bool { return strings.HasPrefix(part, whole+".") }

// body is a request's body with its value, as the generated handlers take it:
// they bind the members that they know, by their very names.
type body struct {
	io.Reader
	value any
}

func newBody(data []byte) body {
	b := body{Reader: bytes.NewReader(data)}
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	_ = d.Decode(&b.value) // it was decoded before
	return b
}

// ValidatedValue is what the body says.
func (b body) ValidatedValue() any { return b.value }

// Close has nothing to close.
func (b body) Close() error { return nil }

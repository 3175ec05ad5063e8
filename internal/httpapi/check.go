package httpapi

import (
	"bytes"
	"errors"
	"io"
	"maps"
	"mime"
	"net/http"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"time"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// MaxBody is the largest request body but for a list or a picture, in bytes: 1 MiB.
const MaxBody = 1 << 20

// MaxList is the largest request that hands in a list, in bytes: the longest
// list, and room for its mapping and the form around it.
const MaxList = exchange.MaxListBytes + MaxBody

var uuidForm = regexp.MustCompile(uuidPattern)

// uuidPattern takes every version of RFC 9562, but not the nil id, which would
// mean "not given".
const uuidPattern = `^[0-9a-fA-F]{8}-[0-9a-fA-F]{4}-[1-8][0-9a-fA-F]{3}-[89abAB][0-9a-fA-F]{3}-[0-9a-fA-F]{12}$`

// checker compares requests with the contract.
type checker struct {
	spec   *openapi3.T
	routes map[string]*routers.Route // "GET /v1/sites/:id"
}

func newChecker(spec *openapi3.T) *checker {
	c := &checker{spec: spec, routes: make(map[string]*routers.Route)}
	for path, item := range spec.Paths.Map() {
		for method, op := range item.Operations() {
			c.routes[method+" "+echoPath(path)] = &routers.Route{
				Spec: spec, Path: path, PathItem: item, Method: method, Operation: op,
			}
		}
	}
	return c
}

// echoPath writes "/v1/sites/{id}" as "/v1/sites/:id".
func echoPath(path string) string {
	return strings.NewReplacer("{", ":", "}", "").Replace(path)
}

// formats are the string formats as this API means them.
func formats() []openapi3.SchemaValidationOption {
	return []openapi3.SchemaValidationOption{
		openapi3.WithStringFormatValidator("uuid", openapi3.NewRegexpFormatValidator(uuidPattern)),
		openapi3.WithStringFormatValidator("date", openapi3.NewCallbackValidator(func(s string) error {
			day, err := calendar.ParseDate(s)
			if err == nil && day < earliest {
				err = tooEarly(s)
			}
			return err
		})),
		openapi3.WithStringFormatValidator("date-time", openapi3.NewCallbackValidator(func(s string) error {
			at, err := time.Parse(time.RFC3339Nano, s)
			switch {
			case err != nil:
				return fault.Reject(fault.Malformed, "instant %q", s)
			case at.Before(earliest.Time()):
				return tooEarly(s)
			}
			return nil
		})),
	}
}

// earliest is the first day that a request may name: long before any anchor, and
// after the day by which Go says "not given" (0001-01-01).
var earliest = calendar.NewDate(1000, time.January, 1)

func tooEarly(s string) error {
	return fault.Reject(fault.OutOfRange, "date %q: too early", s).With("from", earliest.String())
}

// Check returns the middleware that lets an operation's request through only
// if who is asking may use the operation and the request has the shape the
// contract asks for. Otherwise it returns fault.Forbidden, or fault.Invalid
// with every violation: where the request can be read all the same, what the
// use case has against it as well, which then writes nothing. It passes on what
// is no operation.
func (a *API) Check() echo.MiddlewareFunc {
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			route, ok := a.checker.routes[c.Request().Method+" "+c.Path()]
			if !ok {
				return namingMethods(c, next(c))
			}
			who, err := a.who(c.Request().Context())
			if err != nil {
				return err
			}
			if err := permit(who, app.Operation(route.Operation.OperationID)); err != nil {
				return err
			}
			readable, err := a.checker.check(c, route)
			if err == nil {
				return next(c)
			}
			if !readable {
				return err
			}
			r := c.Request()
			c.SetRequest(r.WithContext(app.Objecting(r.Context(), err)))
			return together(err, next(c))
		}
	}
}

// namingMethods lists, where the router objects to the method, those that there
// are.
func namingMethods(c echo.Context, err error) error {
	var h *echo.HTTPError
	if !errors.As(err, &h) || h.Code != http.StatusMethodNotAllowed {
		return err
	}
	return refuse(h.Code, "method", strings.Split(c.Response().Header().Get(echo.HeaderAllow), ", "))
}

// permit asks app's table before a body is read; the use case asks again.
func permit(who registry.Actor, op app.Operation) error {
	least, ok := app.MayRole(op)
	if ok && who.Role.Rank() >= least.Rank() {
		return nil
	}
	return fault.New(fault.Forbidden, "%s: role %q is not enough", op, who.Role).
		With("operation", string(op), "role", string(who.Role), "least", string(least))
}

// check compares one request with its operation. Afterwards the request's body
// carries the value that was checked, so that nothing else is bound. A request
// that is not as the contract has it may be readable nevertheless.
func (k *checker) check(c echo.Context, route *routers.Route) (readable bool, err error) {
	data, upload, err := prepareBody(c, route.Operation)
	if err != nil {
		return false, err
	}
	in := &openapi3filter.RequestValidationInput{
		Request:     c.Request(),
		PathParams:  pathParams(c),
		QueryParams: c.Request().URL.Query(),
		Route:       route,
		Options: &openapi3filter.Options{
			MultiError:              true,
			KeepValidatedValue:      true,
			SkipSettingDefaults:     true,
			ExcludeRequestBody:      upload,
			AuthenticationFunc:      openapi3filter.NoopAuthenticationFunc,
			SchemaValidationOptions: formats(),
		},
	}
	var v violations
	v.unknownQuery(c.Request().URL.Query(), route)
	v.unwritten(c.Request().URL.Query(), data)
	v.walk("", openapi3filter.ValidateRequest(c.Request().Context(), in))
	c.SetRequest(in.Request)
	err = v.err()
	if err != nil && !v.unreadable && len(data) > 0 {
		c.Request().Body = newBody(data)
	}
	return !v.unreadable, err
}

// prepareBody limits the body, wants one of the operation's media types, and
// reads it whole unless it is an upload.
func prepareBody(c echo.Context, op *openapi3.Operation) (data []byte, upload bool, err error) {
	r, body := c.Request(), op.RequestBody
	if body == nil {
		return nil, false, nil
	}
	upload = body.Value.Content["multipart/form-data"] != nil
	limit := limitOf(op.OperationID)
	if r.ContentLength > limit {
		return nil, upload, tooLarge(limit)
	}
	r.Body = http.MaxBytesReader(c.Response(), r.Body, limit)
	if err := checkMediaType(r, body.Value.Content); err != nil || upload {
		return nil, upload, err
	}
	if data, err = io.ReadAll(r.Body); err != nil {
		return nil, upload, bodyError(err)
	}
	r.Body = io.NopCloser(bytes.NewReader(data))
	return data, upload, nil
}

// limitOf is how many bytes the body of an operation's request may have.
func limitOf(operation string) int64 {
	switch app.Operation(operation) {
	case app.ImportList:
		return MaxList
	case app.AddPicture:
		return MaxPictureForm
	}
	return MaxBody
}

// checkMediaType wants one of the media types of content.
func checkMediaType(r *http.Request, content openapi3.Content) error {
	media, params, err := mime.ParseMediaType(r.Header.Get(echo.HeaderContentType))
	if err == nil && content[media] != nil {
		if strings.HasPrefix(media, "multipart/") && params["boundary"] == "" {
			return reject(echo.HeaderContentType, fault.Malformed)
		}
		return nil
	}
	return refuse(http.StatusUnsupportedMediaType, echo.HeaderContentType, slices.Sorted(maps.Keys(content)))
}

// bodyError says whose fault it is that a body could not be read.
func bodyError(err error) error {
	var big *http.MaxBytesError
	if errors.As(err, &big) {
		return tooLarge(big.Limit)
	}
	return fault.Wrap(fault.Invalid, err, "read request body").WithCode(fault.Malformed)
}

func pathParams(c echo.Context) map[string]string {
	params := make(map[string]string)
	for i, name := range c.ParamNames() {
		value := c.ParamValues()[i]
		if plain, err := url.PathUnescape(value); err == nil {
			value = plain
		}
		params[name] = value
	}
	return params
}

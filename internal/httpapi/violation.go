package httpapi

import (
	"errors"
	"fmt"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/getkin/kin-openapi/openapi3"
	"github.com/getkin/kin-openapi/openapi3filter"
	"github.com/getkin/kin-openapi/routers"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

// violations turns what the contract's validator says into ours. Its own texts
// are never passed on: they print schemas and values.
type violations struct {
	list  []fault.Violation
	other error // not a matter of what was sent
	// unreadable says that the request cannot be turned into values.
	unreadable bool
}

// err returns nil, or one fault.Invalid with every violation, those of the
// same field and code once.
func (v *violations) err() error {
	var c fault.Checks
	seen := make(map[string]bool)
	for _, x := range v.list {
		if key := x.Field + "\x00" + string(x.Code); !seen[key] {
			seen[key] = true
			c.Add(x)
		}
	}
	return errors.Join(v.other, c.Err())
}

func (v *violations) add(field string, code fault.Code, kv ...string) {
	x := fault.Violation{Field: field, Code: code}
	for pair := range slices.Chunk(kv, 2) {
		if x.Values == nil {
			x.Values = make(map[string]string)
		}
		x.Values[pair[0]] = pair[1]
	}
	v.list = append(v.list, x)
}

// unknownQuery adds each query parameter that the operation does not have: a
// misspelt filter must not answer everything. One given twice is ambiguous.
func (v *violations) unknownQuery(query url.Values, route *routers.Route) {
	for _, name := range slices.Sorted(maps.Keys(query)) {
		switch {
		case route.Operation.Parameters.GetByInAndName(openapi3.ParameterInQuery, name) == nil:
			v.add(name, fault.NotAllowed)
		case len(query[name]) > 1:
			v.add(name, fault.Ambiguous, "given", strconv.Itoa(len(query[name])))
		}
	}
}

// walk adds every violation in err, each under prefix.
func (v *violations) walk(prefix string, err error) {
	switch e := err.(type) { //nolint:errorlint // the validator's tree is walked node by node
	case nil:
	case openapi3.MultiError:
		for _, one := range e {
			v.walk(prefix, one)
		}
	case *openapi3filter.RequestError:
		v.request(e)
	case *openapi3.SchemaError:
		v.schema(prefix, e)
	default:
		v.unreadable = true
		v.other = errors.Join(v.other, fmt.Errorf("check request: %w", err))
	}
}

// legible are the parts of a schema that a value may break and still be read:
// a word of no list is a word, and a number out of range is a number.
var legible = []string{
	"required", "properties", "enum", "nullable",
	"minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum", "minLength", "maxLength",
}

func (v *violations) request(e *openapi3filter.RequestError) {
	field := ""
	if e.Parameter != nil {
		field = e.Parameter.Name
	}
	var inside openapi3.MultiError
	var one *openapi3.SchemaError
	if !errors.As(e.Err, &inside) && !errors.As(e.Err, &one) {
		v.unreadable = true
	}
	var unread *openapi3filter.ParseError
	switch {
	case errors.Is(e.Err, openapi3filter.ErrInvalidRequired):
		v.add(field, fault.Required)
	case errors.Is(e.Err, openapi3filter.ErrInvalidEmptyValue):
		v.add(field, fault.Blank)
	case errors.As(e.Err, &unread):
		v.add(field, unreadCode(e.Parameter))
	case e.Err == nil:
		v.add(field, fault.Malformed)
	default:
		v.walk(field, e.Err)
	}
}

// unreadCode says what a text that could not be read should have been.
func unreadCode(p *openapi3.Parameter) fault.Code {
	if p != nil && p.Schema != nil {
		if t := p.Schema.Value.Type; t.Is(openapi3.TypeInteger) || t.Is(openapi3.TypeNumber) {
			return fault.NotANumber
		}
	}
	return fault.Malformed
}

// schema adds what is wrong with one value.
func (v *violations) schema(prefix string, e *openapi3.SchemaError) {
	field := fieldName(prefix, e.JSONPointer())
	s := e.Schema
	v.unreadable = v.unreadable || field == "" && e.SchemaField != "properties" || !slices.Contains(legible, e.SchemaField)
	switch e.SchemaField {
	case "required":
		v.add(field, fault.Required)
	case "properties":
		v.unknownMembers(field, e)
	case "enum":
		v.add(field, fault.Unknown, "allowed", words(s.Enum))
	case "nullable":
		v.add(field, fault.Required)
	case "minimum", "maximum", "exclusiveMinimum", "exclusiveMaximum":
		v.add(field, fault.OutOfRange, limits(s.Min, s.Max)...)
	case "minLength":
		v.add(field, fault.Blank)
	case "maxLength":
		v.add(field, fault.TooLong, "max", number(s.MaxLength))
	case "minItems":
		v.add(field, fault.TooShort, "least", number(&s.MinItems))
	case "maxItems":
		v.add(field, fault.OutOfRange, "to", number(s.MaxItems), "of", "items")
	case "minProperties":
		v.add(field, fault.Blank)
	case "format":
		v.format(field, e)
	case "type":
		v.add(field, typeCode(s), wantedType(s)...)
	default:
		v.add(field, fault.Malformed)
	}
}

// unknownMembers adds each member of an object that its schema does not have.
func (v *violations) unknownMembers(field string, e *openapi3.SchemaError) {
	object, _ := e.Value.(map[string]any)
	for _, name := range slices.Sorted(maps.Keys(object)) {
		if e.Schema.Properties[name] == nil {
			v.add(fieldName(field, []string{name}), fault.NotAllowed)
		}
	}
}

// forms are an example of each format that has a name.
var forms = map[string]string{"uuid": wording.SomeID, "date-time": "2026-05-03T09:30:00Z"}

// format adds what the format's own check has against a value, or else an
// example of what is asked for.
func (v *violations) format(field string, e *openapi3.SchemaError) {
	f, ok := fault.As(e.Origin)
	switch {
	case ok && f.Code != fault.Malformed:
		v.list = append(v.list, fault.Violation{Field: field, Code: f.Code, Values: f.Values})
	case forms[e.Schema.Format] != "":
		v.add(field, fault.Malformed, "wanted", forms[e.Schema.Format])
	default:
		v.add(field, fault.Malformed)
	}
}

// wantedType is an example of a value of the type that is asked for; none for a
// number, whose code says it.
func wantedType(s *openapi3.Schema) []string {
	switch {
	case s.Type.Is(openapi3.TypeBoolean):
		return []string{"wanted", "true"}
	case s.Type.Is(openapi3.TypeString):
		return []string{"wanted", `"text in double quotes"`}
	case s.Type.Is(openapi3.TypeArray):
		return []string{"wanted", `[ … ], a list`}
	case s.Type.Is(openapi3.TypeObject):
		return []string{"wanted", `{ … }, an object`}
	}
	return nil
}

func typeCode(s *openapi3.Schema) fault.Code {
	switch {
	case s.Type.Is(openapi3.TypeNumber):
		return fault.NotANumber
	case s.Type.Is(openapi3.TypeInteger):
		return fault.NotWhole
	}
	return fault.Malformed
}

// fieldName writes a path as "observations[0].kind", after prefix.
func fieldName(prefix string, path []string) string {
	var b strings.Builder
	b.WriteString(prefix)
	for _, part := range path {
		if _, err := strconv.Atoi(part); err == nil {
			b.WriteString("[" + part + "]")
			continue
		}
		if b.Len() > 0 {
			b.WriteByte('.')
		}
		b.WriteString(part)
	}
	return b.String()
}

func words(list []any) string {
	out := make([]string, len(list))
	for i, w := range list {
		out[i] = fmt.Sprint(w)
	}
	return strings.Join(out, ", ")
}

func limits(from, to *float64) []string {
	var kv []string
	if from != nil {
		kv = append(kv, "from", strconv.FormatFloat(*from, 'f', -1, 64))
	}
	if to != nil {
		kv = append(kv, "to", strconv.FormatFloat(*to, 'f', -1, 64))
	}
	return kv
}

func number(n *uint64) string {
	if n == nil {
		return ""
	}
	return strconv.FormatUint(*n, 10)
}

// reject returns one fault.Invalid about one field.
func reject(field string, code fault.Code, kv ...string) error {
	var c fault.Checks
	c.Require(false, field, code, kv...)
	return c.Err()
}

// refuse returns an answer of a status of its own about one header, or the
// method, with the values it may have.
func refuse(status int, field string, allowed []string) error {
	err := reject(field, fault.Unknown, "allowed", strings.Join(allowed, ", "))
	return echo.NewHTTPError(status, http.StatusText(status)).SetInternal(err)
}

// tooLarge says how much is taken at most: of a request with a list or a
// picture, how long that may be.
func tooLarge(limit int64) error {
	told, what := limit, ""
	switch limit {
	case MaxList:
		told = exchange.MaxListBytes
	case MaxPictureForm:
		told, what = app.MaxPicture, "picture"
	}
	e := fault.New(fault.TooLarge, "request body of more than %d bytes", limit).
		With("limit", strconv.FormatInt(told>>20, 10)+" MiB")
	if what != "" {
		e = e.With("field", "file", "what", what)
	}
	return e
}

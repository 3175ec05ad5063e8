package web

import (
	"errors"
	"maps"
	"net/http"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

// form is what was typed into the fields of a form and what is wrong with it.
// A reader that cannot read its field keeps that as a violation and returns
// "not known".
type form struct {
	Values url.Values
	Wrong  []wrongField // in the order they were found, one a field
	Note   string       // why the form is shown again though nothing is wrong; blank: it is not
	refuse fault.Kind   // how the whole was refused, whatever the fields say; zero: it was not
	// Stored is what is stored by now in fields that say otherwise: somebody
	// changed it while the form was open.
	Stored map[string]string
	checks fault.Checks
	err    error // what was wrong, for those who want no form
}

// wrongField is a sentence about one field; without a name, about the form.
type wrongField struct{ Field, Text string }

// postedForm reads the form of a request, of at most maxFormBytes.
func postedForm(c echo.Context) (*form, error) { return postedUpTo(c, maxFormBytes) }

// postedUpTo reads the form of a request, of at most so many bytes.
func postedUpTo(c echo.Context, most int64) (*form, error) {
	c.Request().Body = http.MaxBytesReader(c.Response(), c.Request().Body, most)
	values, err := c.FormParams()
	if tooMuch := new(http.MaxBytesError); errors.As(err, &tooMuch) {
		return nil, fault.Wrap(fault.TooLarge, err, "read form")
	}
	if err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "read form").WithCode(fault.Malformed)
	}
	return formOf(c, values), nil
}

// formOf is the form of a request, of what was typed, with each text that holds a
// character which is none to read kept as wrong.
func formOf(c echo.Context, values url.Values) *form {
	f := &form{Values: values}
	for _, name := range slices.Sorted(maps.Keys(values)) {
		for _, text := range values[name] {
			f.checks.Text(name, text)
		}
	}
	if a, shown := againOf(c); shown {
		a.note(f)
	}
	return f
}

// newForm is a form with some fields filled in: alternating names and values.
func newForm(filled ...string) *form {
	f := &form{Values: url.Values{}}
	for i := 0; i+1 < len(filled); i += 2 {
		f.Values.Set(filled[i], filled[i+1])
	}
	return f
}

// text is what was typed into a field, spaces around it aside.
func (f *form) text(name string) string { return strings.TrimSpace(f.Values.Get(name)) }

// prose is text with the ends of lines as they are stored: browsers send two
// characters for each.
func (f *form) prose(name string) string { return strings.ReplaceAll(f.text(name), "\r\n", "\n") }

// has says whether a field of several choices has this one.
func (f *form) has(name, value string) bool {
	for _, v := range f.Values[name] {
		if v == value {
			return true
		}
	}
	return false
}

// wrong is the sentence about a field, blank if nothing is wrong with it.
func (f *form) wrong(name string) string {
	for _, w := range f.Wrong {
		if w.Field == name {
			return w.Text
		}
	}
	return ""
}

// date reads a day; none typed is "no date".
func (f *form) date(name string) calendar.Date {
	if f.text(name) == "" {
		return 0
	}
	d, err := calendar.ParseDate(f.text(name))
	f.checks.Nest(name, err)
	return d
}

// number reads a number with a decimal point or comma; nil: none typed.
func (f *form) number(name string) *float64 {
	text := f.text(name)
	if text == "" {
		return nil
	}
	v, err := strconv.ParseFloat(figures.Replace(text), 64)
	f.checks.Require(err == nil, name, fault.NotANumber, "text", text)
	if err != nil {
		return nil
	}
	return &v
}

// flag reads "yes" or "no"; anything else is not known.
func (f *form) flag(name string) *bool {
	text := f.text(name)
	if text != "yes" && text != "no" {
		return nil
	}
	yes := text == "yes"
	return &yes
}

// id reads an id; none, or a text that is none, is uuid.Nil.
func (f *form) id(name string) uuid.UUID {
	id, err := uuid.Parse(f.text(name))
	if err != nil {
		return uuid.Nil
	}
	return id
}

// refusals are the kinds of error that refuse what a form asks for, though nothing
// may be wrong in its fields. Whoever typed it must not lose it over that.
var refusals = map[fault.Kind]int{
	fault.Forbidden: http.StatusForbidden,
	fault.Conflict:  http.StatusConflict,
	fault.Stale:     http.StatusPreconditionFailed,
	fault.TooLarge:  http.StatusRequestEntityTooLarge,
	fault.Busy:      http.StatusServiceUnavailable,
}

// reject keeps what is wrong, in err and in fields that could not be read, and
// says whether there is anything: then the form is shown once more, as it was
// typed. An error of another kind than Invalid or one of refusals is the
// caller's to return.
func (f *form) reject(err error) (bool, error) {
	f.checks.Nest("", err)
	if err = f.checks.Err(); err == nil {
		return len(f.Wrong) > 0, nil
	}
	kind := fault.KindOf(err)
	_, refused := refusals[kind]
	if kind != fault.Invalid && !refused {
		return false, err
	}
	if refused {
		f.refuse = kind
	}
	f.mark(err)
	f.checks = fault.Checks{}
	return true, nil
}

// mark keeps what err says is wrong; what is wrong with no field, it says of the
// form.
func (f *form) mark(err error) {
	e, known := fault.As(err)
	if !known {
		return
	}
	list := e.Violations
	if len(list) == 0 {
		list = []fault.Violation{{Code: e.Code, Values: e.Values}}
	}
	for _, v := range list {
		if f.wrong(v.Field) == "" && v.Values["not_sent"] == "" { // the note says that
			f.Wrong = append(f.Wrong, wrongField{v.Field, wording.Violation(v)})
		}
	}
}

// renamed gives the violations of what was wrong the names that their fields
// have in a form. An error without violations is returned as it is.
func renamed(err error, names map[string]string) error {
	e, known := fault.As(err)
	if !known || len(e.Violations) == 0 {
		return err
	}
	var c fault.Checks
	for _, v := range e.Violations {
		if name, other := names[v.Field]; other {
			v.Field = name
		}
		c.Add(v)
	}
	return c.Err()
}

// lead is the sentence above what is wrong.
func (f *form) lead() string {
	if f.refuse != 0 {
		return wording.FormRefused
	}
	return wording.FormNotRead
}

// differing are the fields that say something else than is stored by now, in
// the order of their names.
func (f *form) differing() []string { return slices.Sorted(maps.Keys(f.Stored)) }

// status is that of how the form was refused, 412 for one that somebody else was
// quicker than, otherwise 422 for one with something wrong in it.
func (f *form) status() int {
	if status, refused := refusals[f.refuse]; refused {
		return status
	}
	if len(f.Wrong) == 0 && len(f.Stored) > 0 {
		return http.StatusPreconditionFailed
	}
	return statusOf(len(f.Wrong))
}

// newID makes an id for what a form is about to record. It travels in the form,
// so that the form sent twice records once.
func newID() (string, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return "", fault.Wrap(fault.Internal, err, "make an id")
	}
	return id.String(), nil
}

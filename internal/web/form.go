package web

import (
	"errors"
	"net/http"
	"net/url"
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

// formOf is the form of a request, of what was typed.
func formOf(c echo.Context, values url.Values) *form {
	f := &form{Values: values}
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

// reject keeps what is wrong, in err and in fields that could not be read, and
// says whether there is anything. An error of another kind than Invalid is the
// caller's to return.
func (f *form) reject(err error) (bool, error) {
	f.checks.Nest("", err)
	err = f.checks.Err()
	if err == nil || fault.KindOf(err) != fault.Invalid {
		return false, err
	}
	e, _ := fault.As(err)
	for _, v := range e.Violations {
		if f.wrong(v.Field) == "" && v.Values["not_sent"] == "" { // the note says that
			f.Wrong = append(f.Wrong, wrongField{v.Field, wording.Violation(v)})
		}
	}
	f.checks = fault.Checks{}
	return true, nil
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

// status is 422 for a form with something wrong in it.
func (f *form) status() int { return statusOf(len(f.Wrong)) }

// newID makes an id for what a form is about to record. It travels in the form,
// so that the form sent twice records once.
func newID() (string, error) {
	id, err := uuid.NewV7()
	if err != nil {
		return "", fault.Wrap(fault.Internal, err, "make an id")
	}
	return id.String(), nil
}

package web

import (
	"context"
	"errors"
	"io"
	"maps"
	"mime"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
	"rockledger/internal/wording"
)

// maxAgainBytes is how much of a form that was sent without a session is kept for
// after the sign-in, in bytes as sent.
const maxAgainBytes = 256 << 10

// maxAgainUpload is how much of a form with files is read for the rest of it.
const maxAgainUpload = 32 << 20

// typedPrefix and fileField name what was typed in the form that signs in: they
// part it from that form's own fields.
const (
	typedPrefix = "typed."
	fileField   = "typed-file"
)

// again is a form that was sent by somebody who is not signed in any more. It
// travels through the form that signs in, and nothing keeps it but the browser
// it was typed in.
type again struct {
	Action  string     // path and query that it was sent to; blank: there is none
	Values  url.Values // as typed, passwords aside
	Files   []string   // the fields of files, which have to be chosen again
	TooLong bool       // it was too long to be kept
}

// sentTo reads a form that came without a session.
func sentTo(c echo.Context) again {
	a := again{Action: c.Request().URL.RequestURI(), Values: url.Values{}}
	kind, params, _ := mime.ParseMediaType(c.Request().Header.Get(echo.HeaderContentType)) // what is no media type has no fields
	var err error
	if kind == echo.MIMEMultipartForm {
		err = a.readParts(c, params["boundary"])
	} else {
		c.Request().Body = http.MaxBytesReader(c.Response(), c.Request().Body, maxAgainBytes)
		if _, err = c.FormParams(); err == nil {
			a.Values = c.Request().PostForm
		}
	}
	if err != nil {
		a.Values, a.Files, a.TooLong = url.Values{}, nil, true
	}
	maps.DeleteFunc(a.Values, func(name string, _ []string) bool { return strings.Contains(name, "password") })
	return a
}

var errTooLong = errors.New("more than is kept")

// readParts reads the fields of a form with files and passes over what is in
// the files.
func (a *again) readParts(c echo.Context, boundary string) error {
	c.Request().Body = http.MaxBytesReader(c.Response(), c.Request().Body, maxAgainUpload)
	if boundary == "" {
		return http.ErrMissingBoundary
	}
	parts, err := c.Request().MultipartReader()
	for left := int64(maxAgainBytes); err == nil; {
		part, end := parts.NextPart()
		if end != nil {
			return notEnd(end)
		}
		if part.FileName() != "" {
			a.Files = append(a.Files, part.FormName())
			_, err = io.Copy(io.Discard, part)
			continue
		}
		text, bad := io.ReadAll(io.LimitReader(part, left+1))
		if left -= int64(len(text)); left < 0 {
			return errTooLong
		}
		a.Values.Add(part.FormName(), string(text))
		err = bad
	}
	return err
}

func notEnd(err error) error {
	if errors.Is(err, io.EOF) {
		return nil
	}
	return err
}

// typedBefore reads, of the form that signs in, what was typed before.
func typedBefore(sent url.Values) again {
	a := again{Values: url.Values{}, Files: sent[fileField], TooLong: sent.Get("typed-too-long") != ""}
	if action := sent.Get("typed-to"); localPath(action) == action {
		a.Action = action
	}
	for name, values := range sent {
		if field, typed := strings.CutPrefix(name, typedPrefix); typed {
			a.Values[field] = values
		}
	}
	return a
}

// help says above the form that signs in what becomes of what was typed.
func (a again) help() string {
	switch {
	case a.Action == "":
		return ""
	case a.TooLong:
		return wording.AgainTooLong
	case a.empty() && len(a.Files) > 0:
		return wording.AgainOnlyFile
	case a.empty():
		return wording.AgainNothing
	}
	return wording.AgainSignIn
}

// hidden are the fields that carry it through the form that signs in, in the
// order of their names.
func (a again) hidden() []option {
	if a.Action == "" {
		return nil
	}
	fields := []option{{Value: "typed-to", Text: a.Action}}
	if a.TooLong {
		fields = append(fields, option{Value: "typed-too-long", Text: "yes"})
	}
	for _, name := range a.Files {
		fields = append(fields, option{Value: fileField, Text: name})
	}
	for _, name := range slices.Sorted(maps.Keys(a.Values)) {
		for _, v := range a.Values[name] {
			fields = append(fields, option{Value: typedPrefix + name, Text: v})
		}
	}
	return fields
}

// empty says whether nothing was typed that could be shown: a button alone, or
// one with the version of what it changes.
func (a again) empty() bool {
	_, version := a.Values["version"]
	return a.Action == "" || len(a.Values) == 0 || version && len(a.Values) == 1
}

type againKey struct{}

// againOf is the form that the request shows again; false: it was sent by a
// person.
func againOf(c echo.Context) (again, bool) {
	a, ok := c.Request().Context().Value(againKey{}).(again)
	return a, ok
}

// showAgain answers with the form as it was typed, as if it had been sent, by
// whoever has just signed in: the same checks of origin, membership and role, and
// an actor who can change nothing.
func (p *Pages) showAgain(c echo.Context, a again) error {
	u, err := url.Parse(a.Action)
	if err != nil {
		return fault.Wrap(fault.NotFound, err, "address of a form")
	}
	r := c.Request().Clone(context.WithValue(c.Request().Context(), againKey{}, a))
	body := a.Values.Encode()
	r.URL, r.RequestURI, r.ContentLength = u, a.Action, int64(len(body))
	r.Body = io.NopCloser(strings.NewReader(body))
	r.Form, r.PostForm, r.MultipartForm = nil, nil, nil
	r.Header.Set(echo.HeaderContentType, echo.MIMEApplicationForm)
	inner := c.Echo().NewContext(r, c.Response())
	c.Echo().Router().Find(r.Method, echo.GetPath(r), inner)
	if err := inner.Handler()(inner); err != nil {
		c.Echo().HTTPErrorHandler(err, inner)
	}
	return nil
}

// note marks a form that is shown again, and the files that have to be chosen
// once more.
func (a again) note(f *form) {
	f.Note = wording.NotSentYet
	for _, name := range a.Files {
		f.Wrong = append(f.Wrong, wrongField{name, wording.AgainFile})
	}
}

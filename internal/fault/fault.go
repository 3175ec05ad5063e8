// Package fault says what kind of failure an error is, under which code it is
// told to people and programs, and which fields it concerns.
//
// It holds no sentences for readers: those are found in the wording catalogue
// by code and values. It knows nothing of HTTP beyond the distinctions a caller
// can act on.
package fault

import (
	"context"
	"errors"
	"fmt"
	"maps"
)

// Kind says what a caller can do about an error.
type Kind int

// The kinds of failure. Internal is the zero value, so that an error nobody
// classified is never shown to a caller as the caller's own fault, nor its text
// leaked.
const (
	Internal        Kind = iota // ours; only logged
	Invalid                     // what was sent cannot be right
	Unauthenticated             // nobody is signed in
	Forbidden                   // signed in, but may not
	NotFound                    // no such thing in this group
	Conflict                    // it contradicts what is stored
	Stale                       // it changed since it was read
	Unstated                    // the version that was read was not stated
	TooLarge                    // more bytes than are accepted
	TooMany                     // more requests than are accepted
	Busy                        // not now; try again
)

// String returns the kind in words, the same as its own code.
func (k Kind) String() string { return string(k.Code()) }

// Code returns the code an error of this kind carries when it has none of its
// own. A kind outside the list counts as Internal.
func (k Kind) Code() Code {
	if k < Internal || k > Busy {
		return kindCodes[Internal]
	}
	return kindCodes[k]
}

var kindCodes = [...]Code{
	Internal:        InternalCode,
	Invalid:         InvalidCode,
	Unauthenticated: UnauthenticatedCode,
	Forbidden:       ForbiddenCode,
	NotFound:        NotFoundCode,
	Conflict:        ConflictCode,
	Stale:           StaleCode,
	Unstated:        UnstatedCode,
	TooLarge:        TooLargeCode,
	TooMany:         TooManyCode,
	Busy:            BusyCode,
}

// Violation is one thing wrong with one field.
type Violation struct {
	// Field is the JSON name, nested ones as "fittings[0].metal". Empty: the
	// whole.
	Field string `json:"field"`
	Code  Code   `json:"code"`
	// Values are what the sentence for Code needs. Nil: nothing.
	Values map[string]string `json:"values,omitempty"`
}

// Error is a classified failure. It is not changed after it was made.
type Error struct {
	Kind Kind
	Code Code
	// Msg is for logs and programmers; it is safe to show.
	Msg string
	// Values are what the sentence for Code needs. Nil: nothing.
	Values map[string]string
	// Violations lists every field in the wrong, in the order they were found.
	// Nil: the failure concerns no single field.
	Violations []Violation
	// Err is the cause; it is logged and never shown. Nil: none.
	Err error
}

// New returns an error of kind k with k's own code.
func New(k Kind, format string, args ...any) *Error {
	return &Error{Kind: k, Code: k.Code(), Msg: fmt.Sprintf(format, args...)}
}

// Wrap returns an error of kind k with k's own code, caused by err.
func Wrap(k Kind, err error, format string, args ...any) *Error {
	e := New(k, format, args...)
	e.Err = err
	return e
}

// Reject returns an error of kind Invalid with the given code: one value, one
// reason.
func Reject(code Code, format string, args ...any) *Error {
	e := New(Invalid, format, args...)
	e.Code = code
	return e
}

// WithCode returns a copy of e that carries code.
func (e *Error) WithCode(code Code) *Error {
	c := *e
	c.Code = code
	return &c
}

// With returns a copy of e that also carries the given values, as alternating
// names and values; a name without a value gets an empty one.
func (e *Error) With(kv ...string) *Error {
	c := *e
	c.Values = maps.Clone(e.Values)
	for name, value := range pairs(kv) {
		if c.Values == nil {
			c.Values = make(map[string]string)
		}
		c.Values[name] = value
	}
	return &c
}

// Error returns Msg, followed by the cause where there is one.
func (e *Error) Error() string {
	switch {
	case e.Err == nil:
		return e.Msg
	case e.Msg == "":
		return e.Err.Error()
	}
	return e.Msg + ": " + e.Err.Error()
}

// Unwrap returns the cause, nil if there is none.
func (e *Error) Unwrap() error { return e.Err }

// As returns the outermost classified error in err's chain.
func As(err error) (*Error, bool) {
	var e *Error
	ok := errors.As(err, &e)
	return e, ok
}

// KindOf returns the kind of the outermost classified error in err's chain.
// Without one, a cancelled or timed-out context is Busy (nothing is wrong with
// the request; it may be tried again) and everything else, nil too, Internal.
func KindOf(err error) Kind {
	if e, ok := As(err); ok {
		return e.Kind
	}
	if errors.Is(err, context.Canceled) || errors.Is(err, context.DeadlineExceeded) {
		return Busy
	}
	return Internal
}

// CodeOf returns the code of the outermost classified error in err's chain, or
// that of its kind.
func CodeOf(err error) Code {
	if e, ok := As(err); ok && e.Code != "" {
		return e.Code
	}
	return KindOf(err).Code()
}

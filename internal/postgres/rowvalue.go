package postgres

import (
	"encoding"
	"encoding/hex"
	"encoding/json"
	"math"
	"reflect"
	"strconv"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/ledger"
)

var (
	jsonMarshaler = reflect.TypeFor[json.Marshaler]()
	textMarshaler = reflect.TypeFor[encoding.TextMarshaler]()
)

// appenderOf returns how a value of a row is written canonically.
func appenderOf(t reflect.Type) appender {
	if a := simple(t); a != nil {
		return a
	}
	switch {
	case marshals(t):
		return appendCanonical
	case t.Kind() == reflect.Pointer:
		return orNone(appenderOf(t.Elem()))
	case t.Kind() == reflect.Slice && t.Elem().Kind() != reflect.Uint8:
		return each(appenderOf(t.Elem()))
	case t.Kind() == reflect.Struct:
		return coderOf(t).appendWhole
	}
	return appendCanonical
}

// simple values have one text.
func simple(t reflect.Type) appender {
	switch t {
	case reflect.TypeFor[word]():
		return appendWord
	case reflect.TypeFor[uuid.UUID]():
		return appendUUID
	case reflect.TypeFor[calendar.Date]():
		return appendDate
	case reflect.TypeFor[time.Time]():
		return appendInstant
	}
	if marshals(t) {
		return nil
	}
	switch t.Kind() {
	case reflect.Bool:
		return appendBool
	case reflect.Int:
		return appendInt
	case reflect.Float64:
		return appendFloat
	case reflect.String:
		return appendString
	default:
		return nil
	}
}

// marshals says that a type, which is no pointer, has a text of its own.
func marshals(t reflect.Type) bool {
	if t.Kind() == reflect.Pointer {
		return false
	}
	p := reflect.PointerTo(t)
	return p.Implements(jsonMarshaler) || p.Implements(textMarshaler)
}

// valueOf is a value of type T, which is copied only where it has no address.
func valueOf[T any](v reflect.Value) T {
	if v.CanAddr() {
		return *v.Addr().Interface().(*T) //nolint:forcetypeassert // chosen by type
	}
	return v.Interface().(T) //nolint:forcetypeassert // chosen by type
}

func appendWord(b []byte, v reflect.Value) ([]byte, error) {
	if v.Len() == 0 {
		return append(b, "null"...), nil
	}
	return appendString(b, v)
}

func appendUUID(b []byte, v reflect.Value) ([]byte, error) {
	id := valueOf[uuid.UUID](v)
	b = append(b, '"')
	for i, from := range [...]int{0, 4, 6, 8, 10} {
		if i > 0 {
			b = append(b, '-')
		}
		b = hex.AppendEncode(b, id[from:[...]int{4, 6, 8, 10, 16}[i]])
	}
	return append(b, '"'), nil
}

func appendDate(b []byte, v reflect.Value) ([]byte, error) {
	if v.IsZero() {
		return append(b, "null"...), nil
	}
	return calendar.Date(v.Int()).Time().AppendFormat(b, `"`+time.DateOnly+`"`), nil //nolint:gosec // chosen by type
}

func appendInstant(b []byte, v reflect.Value) ([]byte, error) {
	at := valueOf[time.Time](v)
	if year := at.Year(); at.Location() == time.UTC && year > 0 && year < 10_000 {
		return at.AppendFormat(b, `"`+time.RFC3339Nano+`"`), nil
	}
	text, err := at.MarshalJSON() // which refuses what RFC 3339 cannot say
	return append(b, text...), err
}

func appendBool(b []byte, v reflect.Value) ([]byte, error) {
	return strconv.AppendBool(b, v.Bool()), nil
}

// exact is the bound below which each whole number is one double.
const exact = 1 << 53

func appendInt(b []byte, v reflect.Value) ([]byte, error) {
	if n := v.Int(); -exact < n && n < exact {
		return strconv.AppendInt(b, n, 10), nil
	}
	return appendCanonical(b, v)
}

// appendFloat writes a double as ECMAScript does, whose numbers between a
// millionth and 10^21 have no exponent.
func appendFloat(b []byte, v reflect.Value) ([]byte, error) {
	x := v.Float()
	switch size := math.Abs(x); {
	case size == math.Trunc(size) && size < exact:
		return strconv.AppendInt(b, int64(x), 10), nil
	case size >= 1e-6 && size < 1e21:
		return strconv.AppendFloat(b, x, 'f', -1, 64), nil
	}
	return appendCanonical(b, v)
}

func appendString(b []byte, v reflect.Value) ([]byte, error) {
	s := v.String()
	if !plain(s) {
		text, err := ledger.Canonical(s)
		return append(b, text...), err
	}
	return append(append(append(b, '"'), s...), '"'), nil
}

// plain says that a text stands in JSON as it is.
func plain(s string) bool {
	ascii := true
	for i := range len(s) {
		switch c := s[i]; {
		case c < ' ' || c == '"' || c == '\\':
			return false
		case c >= utf8.RuneSelf:
			ascii = false
		}
	}
	return ascii || utf8.ValidString(s)
}

func orNone(write appender) appender {
	return func(b []byte, v reflect.Value) ([]byte, error) {
		if v.IsNil() {
			return append(b, "null"...), nil
		}
		return write(b, v.Elem())
	}
}

func each(write appender) appender {
	return func(b []byte, v reflect.Value) ([]byte, error) {
		if v.IsNil() {
			return append(b, "null"...), nil
		}
		b = append(b, '[')
		for i := range v.Len() {
			if i > 0 {
				b = append(b, ',')
			}
			var err error
			if b, err = write(b, v.Index(i)); err != nil {
				return nil, err
			}
		}
		return append(b, ']'), nil
	}
}

// appendCanonical writes anything else.
func appendCanonical(b []byte, v reflect.Value) ([]byte, error) {
	text, err := ledger.Canonical(v.Interface())
	return append(b, text...), err
}

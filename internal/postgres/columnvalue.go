package postgres

import (
	"encoding/json"
	"reflect"
	"time"
	"unicode/utf8"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgtype"

	"rockledger/internal/calendar"
)

// columnOf says how values of a type are sent: as what they are or, if they are
// lists or have no type of the database's own, as texts that it reads. Types of
// pgx are NULL where they are zero.
func columnOf(t reflect.Type) column {
	of := t
	if t.Kind() == reflect.Pointer {
		of = t.Elem()
	}
	switch of {
	case reflect.TypeFor[word]():
		return column{sent: "text[]", gather: gathered(t, wordValue)}
	case reflect.TypeFor[uuid.UUID]():
		return column{sent: "uuid[]", gather: gathered(t, uuidValue)}
	case reflect.TypeFor[calendar.Date]():
		return column{sent: "date[]", gather: gathered(t, dateValue)}
	case reflect.TypeFor[time.Time]():
		return column{sent: "timestamptz[]", gather: gathered(t, instantValue)}
	}
	if marshals(of) {
		return jsonColumn(t)
	}
	switch of.Kind() {
	case reflect.String:
		return column{sent: "text[]", gather: gathered(t, textValue)}
	case reflect.Bool:
		return column{sent: "bool[]", gather: gathered(t, boolValue)}
	case reflect.Int, reflect.Int64:
		return column{sent: "int8[]", gather: gathered(t, intValue)}
	case reflect.Float64:
		return column{sent: "float8[]", gather: gathered(t, floatValue)}
	case reflect.Slice:
		return listColumn(t)
	}
	return jsonColumn(t)
}

// gathered makes a column of values that value gives, or NULL for a nil pointer.
func gathered[T any](t reflect.Type, value func(reflect.Value) (T, error)) gatherer {
	pointer := t.Kind() == reflect.Pointer
	return func(rows reflect.Value, index []int) (any, error) {
		out := make(pgtype.FlatArray[T], rows.Len())
		for i := range out {
			v := rows.Index(i).FieldByIndex(index)
			if pointer {
				if v.IsNil() {
					continue
				}
				v = v.Elem()
			}
			var err error
			if out[i], err = value(v); err != nil {
				return nil, err
			}
		}
		return out, nil
	}
}

func wordValue(v reflect.Value) (pgtype.Text, error) {
	return orNull(valid(v.String())), nil
}

func textValue(v reflect.Value) (pgtype.Text, error) {
	return pgtype.Text{String: valid(v.String()), Valid: true}, nil
}

// valid puts in a letter for each byte that belongs to none, as JSON does: the
// ledger's text has it so.
func valid(s string) string {
	if utf8.ValidString(s) {
		return s
	}
	return string([]rune(s))
}

func uuidValue(v reflect.Value) (pgtype.UUID, error) {
	return pgtype.UUID{Bytes: [16]byte(v.Bytes()), Valid: true}, nil
}

func dateValue(v reflect.Value) (pgtype.Date, error) {
	d := calendar.Date(v.Int()) //nolint:gosec // chosen by type
	return pgtype.Date{Time: d.Time(), Valid: !d.IsZero()}, nil
}

func instantValue(v reflect.Value) (pgtype.Timestamptz, error) {
	return pgtype.Timestamptz{Time: v.Interface().(time.Time), Valid: true}, nil //nolint:forcetypeassert // chosen by type
}

func boolValue(v reflect.Value) (pgtype.Bool, error) {
	return pgtype.Bool{Bool: v.Bool(), Valid: true}, nil
}

func intValue(v reflect.Value) (pgtype.Int8, error) {
	return pgtype.Int8{Int64: v.Int(), Valid: true}, nil
}

func floatValue(v reflect.Value) (pgtype.Float8, error) {
	return pgtype.Float8{Float64: v.Float(), Valid: true}, nil
}

// listColumn is a column of lists: those of ids and of texts are arrays.
func listColumn(t reflect.Type) column {
	switch elem := t.Elem(); {
	case elem == reflect.TypeFor[uuid.UUID]():
		return column{sent: "text[]", read: "::uuid[]", gather: gathered(t, listOf(func(b []byte, v reflect.Value) []byte {
			id := uuid.UUID(v.Bytes())
			return append(b, id.String()...)
		}))}
	case elem.Kind() == reflect.String && !marshals(elem):
		return column{sent: "text[]", read: "::text[]", gather: gathered(t, listOf(appendItem))}
	}
	return jsonColumn(t)
}

// listOf writes lists as PostgreSQL reads an array; a nil one is NULL.
func listOf(write func(b []byte, v reflect.Value) []byte) func(reflect.Value) (pgtype.Text, error) {
	return func(v reflect.Value) (pgtype.Text, error) {
		if v.IsNil() {
			return pgtype.Text{}, nil
		}
		b := []byte{'{'}
		for i := range v.Len() {
			if i > 0 {
				b = append(b, ',')
			}
			b = write(b, v.Index(i))
		}
		return pgtype.Text{String: string(append(b, '}')), Valid: true}, nil
	}
}

// appendItem quotes a text of an array, since without quotes "null" and spaces
// at its ends mean something else.
func appendItem(b []byte, v reflect.Value) []byte {
	b = append(b, '"')
	s := valid(v.String())
	for i := range len(s) {
		if c := s[i]; c == '"' || c == '\\' {
			b = append(b, '\\')
		}
		b = append(b, s[i])
	}
	return append(b, '"')
}

// jsonColumn is a column of JSON, NULL for JSON's null. What writes itself as
// JSON is kept in the order that it has, since values are kept in their rule's
// order; other structs as the ledger has them.
func jsonColumn(t reflect.Type) column {
	write := appenderOf(t)
	if marshals(t) {
		write = appendOwn
	}
	return column{sent: "text[]", read: "::json", gather: func(rows reflect.Value, index []int) (any, error) {
		return gatherJSON(rows, index, write)
	}}
}

func gatherJSON(rows reflect.Value, index []int, write appender) (any, error) {
	out := make(pgtype.FlatArray[pgtype.Text], rows.Len())
	var b []byte
	for i := range out {
		var err error
		if b, err = write(b[:0], rows.Index(i).FieldByIndex(index)); err != nil {
			return nil, err
		}
		if text := string(b); text != "null" {
			out[i] = pgtype.Text{String: text, Valid: true}
		}
	}
	return out, nil
}

// appendOwn writes what a value itself gives for JSON or for a text.
func appendOwn(b []byte, v reflect.Value) ([]byte, error) {
	m, ok := v.Interface().(json.Marshaler)
	if !ok {
		return appendCanonical(b, v)
	}
	text, err := m.MarshalJSON()
	return append(b, text...), err
}

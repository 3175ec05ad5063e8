package postgres

import (
	"encoding/json"
	"fmt"
	"reflect"
	"strings"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5/pgtype"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
)

// Row structs have one tag: the column's name, as their JSON name. It serves
// to read rows, to write them (as JSON), and for the ledger's text.

// inventoryKey is what every inventory row begins with. Version counts from 1;
// 0 is a row not yet stored.
type inventoryKey struct {
	ID      uuid.UUID `json:"id"`
	Version int       `json:"version"`
}

func (k inventoryKey) rowID() uuid.UUID    { return k.ID }
func (k *inventoryKey) key() *inventoryKey { return k }

// word is a value of a closed list: NULL in the database when it is empty,
// which means not known.
type word string

// Scan reads a text column.
func (w *word) Scan(src any) error {
	switch v := src.(type) {
	case nil:
		*w = ""
	case string:
		*w = word(v)
	default:
		return fmt.Errorf("scan word: cannot read %T", src)
	}
	return nil
}

// MarshalJSON writes null for an empty word.
func (w word) MarshalJSON() ([]byte, error) {
	if w == "" {
		return []byte("null"), nil
	}
	return json.Marshal(string(w)) //nolint:wrapcheck // for encoding/json itself
}

// grades returns the set as it is stored: NULL when nothing is known.
func grades(s metal.Set) metal.Set {
	if !s.Known() {
		return nil
	}
	return s
}

// texts returns a list as it is stored in a column that is never NULL.
func texts[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}

// fromTexts is the way back: nil for none.
func fromTexts[T ~string](list []string) []T {
	if len(list) == 0 {
		return nil
	}
	out := make([]T, len(list))
	for i, v := range list {
		out[i] = T(v)
	}
	return out
}

// uuidArray is ids as an argument of a statement that is given many: of a
// uuid.UUID pgx makes a text, by way of an error for each, which was a third of
// the work of assessing anew.
func uuidArray(list []uuid.UUID) pgtype.FlatArray[pgtype.UUID] {
	if list == nil {
		return nil
	}
	out := make(pgtype.FlatArray[pgtype.UUID], len(list))
	for i, id := range list {
		out[i] = pgtype.UUID{Bytes: id, Valid: true}
	}
	return out
}

// span puts an uncertain date together from its three columns.
func span(from, to calendar.Date, words string) calendar.Span {
	return calendar.Span{From: from, To: to, Words: words}
}

// columns lists the columns of row struct R, in the order of its fields.
func columns[R any]() []string { return columnsOf(reflect.TypeFor[R]()) }

func columnsOf(t reflect.Type) []string {
	var names []string
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			names = append(names, columnsOf(f.Type)...)
			continue
		}
		names = append(names, f.Tag.Get("json"))
	}
	return names
}

// selectList writes the columns of R for a SELECT, each with the table's alias.
func selectList[R any](alias string) string {
	return alias + "." + strings.Join(columns[R](), ", "+alias+".")
}

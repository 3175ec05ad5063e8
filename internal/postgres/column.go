package postgres

import (
	"reflect"
	"strings"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
)

// Rows are sent as one array for each column. Reading rows out of JSON took the
// database longer than entering them: it has to find each member by its name
// and to read each value from a text, 41 of 47 µs for a row of a list and 20 of
// 48 for an installation.

// column is one column of the rows of a table, and how it is sent.
type column struct {
	name   string
	index  []int  // of the field in the row struct
	sent   string // type of the array
	read   string // cast that makes the column's value of an element, where that is a text; or ""
	gather gatherer
}

// gatherer makes the array of a column from a slice of row structs.
type gatherer func(rows reflect.Value, index []int) (any, error)

// source is how the rows of a table come into a statement: FROM it, as r.
type source struct {
	columns []column
	fromSQL string
	listSQL string // the columns of r, in the order of the fields
}

func sourceOf(t reflect.Type) source {
	s := source{columns: columnsIn(t, nil)}
	var sent, names, list []string
	for _, c := range s.columns {
		sent = append(sent, "@"+columnArg(c.name)+"::"+c.sent)
		names = append(names, c.name)
		list = append(list, c.value())
	}
	s.fromSQL = "unnest(" + strings.Join(sent, ", ") + ") AS r (" + strings.Join(names, ", ") + ")"
	s.listSQL = strings.Join(list, ", ")
	return s
}

// value is the column's value in a row of the source.
func (c *column) value() string { return "r." + c.name + c.read }

// first is the column's value in the only row sent, for a statement that finds a
// stored row by it: a source would be joined, and the index be left aside.
func (c *column) first() string {
	return "(@" + columnArg(c.name) + "::" + c.sent + ")[1]" + c.read
}

// columnArg names the argument with a column of all rows, as no other is named.
func columnArg(column string) string { return "each_" + column }

func columnsIn(t reflect.Type, within []int) []column {
	var out []column
	for i := range t.NumField() {
		f := t.Field(i)
		index := append(within[:len(within):len(within)], i)
		if f.Anonymous {
			out = append(out, columnsIn(f.Type, index)...)
			continue
		}
		c := columnOf(f.Type)
		c.name, c.index = f.Tag.Get("json"), index
		out = append(out, c)
	}
	return out
}

// args are the arrays of rows, a slice of the row struct. Errors are Invalid:
// what JSON cannot hold.
func (s *source) args(name string, group uuid.UUID, rows any) (pgx.StrictNamedArgs, error) {
	v := reflect.ValueOf(rows)
	args := make(pgx.StrictNamedArgs, len(s.columns)+2)
	args["group_id"] = group
	for i := range s.columns {
		c := &s.columns[i]
		values, err := c.gather(v, c.index)
		if err != nil {
			return nil, fault.Wrap(fault.Invalid, err, "write column %s of %s", c.name, name)
		}
		args[columnArg(c.name)] = values
	}
	return args, nil
}

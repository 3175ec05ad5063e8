package postgres

import (
	"reflect"
	"slices"
	"strings"
	"sync"

	"rockledger/internal/fault"
)

// Rows are written as JSON for the ledger, and a long list has hundreds of
// thousands of them. Hence what a row struct is made of is looked up once and its
// text is put together without reading it again.

// form is one way to write a row.
type form int

const (
	// whole is the canonical text, as ledger.Canonical gives it.
	whole form = iota
	// sparse is the canonical text without the row's members that are null.
	sparse
	// unsaid is sparse, without the members that are empty texts: what is veiled.
	unsaid
)

// textOf writes a row struct. Errors are Invalid: what JSON cannot hold.
func textOf(r any, f form) (string, error) {
	v := structOf(r)
	c := coderOf(v.Type())
	text, err := c.appendTo(make([]byte, 0, c.size), v, f)
	if err != nil {
		return "", unwritten(v.Type(), err)
	}
	return string(text), nil
}

func unwritten(row reflect.Type, err error) error {
	return fault.Wrap(fault.Invalid, err, "write %v as JSON", row)
}

// structOf is a row struct, or the one that a pointer to it points to: of that no
// value must be copied to be written.
func structOf(r any) reflect.Value { return reflect.Indirect(reflect.ValueOf(r)) }

// coder writes structs of one type, which have no member twice.
type coder struct {
	members memberList
	size    int // bytes that a text is likely to need
}

// memberList is in the order of their names.
type memberList []member

// member is one field of a struct, those of embedded structs too.
type member struct {
	index     []int
	head      string // its name with quotes and a colon
	omitEmpty bool
	canonical appender
}

func (m *member) name() string { return m.head[len(`"`) : len(m.head)-len(`":`)] }

// appender adds the text of a value to b.
type appender func(b []byte, v reflect.Value) ([]byte, error)

var coders sync.Map // *coder by reflect.Type of a struct

func coderOf(t reflect.Type) *coder {
	if c, ok := coders.Load(t); ok {
		return c.(*coder) //nolint:forcetypeassert // nothing else is put there
	}
	c := newCoder(t)
	coders.Store(t, c)
	return c
}

func newCoder(t reflect.Type) *coder {
	c := &coder{members: membersOf(t, nil)}
	slices.SortFunc(c.members, func(a, b member) int { return strings.Compare(a.head, b.head) })
	for _, m := range c.members {
		c.size += len(m.head) + len(`"00000000-0000-0000-0000-000000000000",`)
	}
	return c
}

// membersOf follows the rules of encoding/json for the tags that rows have.
func membersOf(t reflect.Type, within []int) []member {
	var out []member
	for i := range t.NumField() {
		f := t.Field(i)
		index := append(slices.Clone(within), i)
		tag := f.Tag.Get("json")
		switch name, options, _ := strings.Cut(tag, ","); {
		case tag == "-":
		case f.Anonymous && tag == "":
			out = append(out, membersOf(f.Type, index)...)
		case f.IsExported():
			if name == "" {
				name = f.Name
			}
			m := member{index: index, head: `"` + name + `":`, omitEmpty: options == "omitempty"}
			m.canonical = appenderOf(f.Type)
			out = append(out, m)
		}
	}
	return out
}

func (c *coder) appendTo(b []byte, v reflect.Value, f form) ([]byte, error) {
	b, err := c.members.appendTo(append(b, '{'), v, f)
	if err != nil {
		return nil, err
	}
	return append(b, '}'), nil
}

// appendTo adds members to an object that was begun.
func (list memberList) appendTo(b []byte, v reflect.Value, f form) ([]byte, error) {
	for i := range list {
		m, before := &list[i], len(b)
		value := v.FieldByIndex(m.index)
		if m.omitEmpty && isEmpty(value) {
			continue
		}
		b = append(continued(b), m.head...)
		at := len(b)
		var err error
		if b, err = m.canonical(b, value); err != nil {
			return nil, err
		}
		if f.leavesOut(b[at:]) {
			b = b[:before]
		}
	}
	return b, nil
}

// leavesOut says that a member of this value is not written.
func (f form) leavesOut(value []byte) bool {
	return f != whole && string(value) == "null" || f == unsaid && string(value) == `""`
}

// continued adds a comma, unless b ends with the beginning of an object.
func continued(b []byte) []byte {
	if b[len(b)-1] == '{' {
		return b
	}
	return append(b, ',')
}

// appendWhole writes a struct inside a row, canonically.
func (c *coder) appendWhole(b []byte, v reflect.Value) ([]byte, error) {
	return c.appendTo(b, v, whole)
}

// isEmpty says what encoding/json calls empty.
func isEmpty(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.Slice, reflect.Map, reflect.Array:
		return v.Len() == 0
	case reflect.Struct:
		return false
	default:
		return v.IsZero()
	}
}

package postgres

import (
	"reflect"
	"slices"
	"strings"
	"sync"

	"rockledger/internal/ledger"
)

// veiler writes structs of one type with some of their members veiled.
type veiler struct {
	before, after memberList // that are told, by where they stand to the veil
	hidden        memberList
	size          int // bytes that a text is likely to need
}

// veilerKey is what a veiler is for. noun is empty where nothing is hidden.
type veilerKey struct {
	noun string
	row  reflect.Type
}

var veilers sync.Map // *veiler by veilerKey

func veilerOf(key veilerKey) *veiler {
	if v, ok := veilers.Load(key); ok {
		return v.(*veiler) //nolint:forcetypeassert // nothing else is put there
	}
	v := newVeiler(key)
	veilers.Store(key, v)
	return v
}

const veilHead = `"` + ledger.VeilMember + `":`

func newVeiler(key veilerKey) *veiler {
	c := coderOf(key.row)
	v := &veiler{size: c.size + len(veilHead)}
	for _, m := range c.members {
		switch {
		case slices.Contains(veiled[key.noun], m.name()):
			v.hidden = append(v.hidden, m)
		case strings.Compare(m.head, veilHead) < 0:
			v.before = append(v.before, m)
		default:
			v.after = append(v.after, m)
		}
	}
	return v
}

// veilText is the text of a row in the ledger, what it may not hold veiled: what
// ledger.Veil makes of it, byte for byte. r is a row
// struct or a pointer to one. Errors are Invalid, and those of salt.
func veilText(noun string, r any, salt func() ([]byte, error)) (string, error) {
	if hiddenIn(noun, r) == nil {
		noun = ""
	}
	row := structOf(r)
	v := veilerOf(veilerKey{noun, row.Type()})
	text := make([]byte, 0, v.size)
	veil, err := v.veil(text, row, salt)
	if err != nil {
		return "", err
	}
	if text, err = v.before.appendTo(append(text, '{'), row, sparse); err != nil {
		return "", unwritten(row.Type(), err)
	}
	text = append(append(append(append(continued(text), veilHead...), '"'), veil...), '"')
	if text, err = v.after.appendTo(text, row, sparse); err != nil {
		return "", unwritten(row.Type(), err)
	}
	return string(append(text, '}')), nil
}

// veil binds what is hidden, in a text of its own that room is lent to. It is
// empty where that is.
func (v *veiler) veil(room []byte, row reflect.Value, salt func() ([]byte, error)) (string, error) {
	hidden, err := v.hidden.appendTo(append(room, '{'), row, unsaid)
	if err != nil {
		return "", unwritten(row.Type(), err)
	}
	if len(hidden) == len("{") {
		return "", nil
	}
	key, err := salt()
	if err != nil {
		return "", err
	}
	return ledger.Bind(append(hidden, '}'), key), nil
}

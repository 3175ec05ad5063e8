package fault

import (
	"iter"
	"slices"
	"strings"
)

// Checks gathers every violation of one value. The zero value is ready for use.
type Checks struct {
	violations []Violation
	err        error // first nested error that is no violation
}

// Require adds a violation of field unless ok holds. The values for its
// sentence follow as alternating names and values.
func (c *Checks) Require(ok bool, field string, code Code, kv ...string) {
	if ok {
		return
	}
	v := Violation{Field: field, Code: code}
	for name, value := range pairs(kv) {
		if v.Values == nil {
			v.Values = make(map[string]string)
		}
		v.Values[name] = value
	}
	c.Add(v)
}

// Add adds a violation as it is.
func (c *Checks) Add(v Violation) { c.violations = append(c.violations, v) }

// Nest adds what is wrong with a part: err's violations with prefix and a full
// stop before their fields, or, if err is Invalid without any, one violation of
// prefix itself with err's code and values. An error of another kind is not a
// matter of the input: Err returns the first of those in place of the
// violations. A nil err adds nothing.
func (c *Checks) Nest(prefix string, err error) {
	if err == nil {
		return
	}
	e, ok := As(err)
	switch {
	case !ok || e.Kind != Invalid:
		if c.err == nil {
			c.err = err
		}
	case len(e.Violations) == 0:
		c.Add(Violation{Field: prefix, Code: e.Code, Values: e.Values})
	default:
		for _, v := range e.Violations {
			v.Field = join(prefix, v.Field)
			c.Add(v)
		}
	}
}

// Err returns nil if nothing was added, otherwise one Invalid error with every
// violation in the order they were added.
func (c *Checks) Err() error {
	if c.err != nil {
		return c.err
	}
	if len(c.violations) == 0 {
		return nil
	}
	e := New(Invalid, "%s", summary(c.violations))
	e.Violations = slices.Clone(c.violations)
	return e
}

// join writes "outline.type", but "metal[0]".
func join(prefix, field string) string {
	if prefix == "" || field == "" || field[0] == '[' {
		return prefix + field
	}
	return prefix + "." + field
}

// summary is the text for logs: "label blank, embedment_mm not-positive".
func summary(vs []Violation) string {
	parts := make([]string, len(vs))
	for i, v := range vs {
		parts[i] = strings.TrimSpace(v.Field + " " + string(v.Code))
	}
	return strings.Join(parts, ", ")
}

// pairs yields alternating names and values.
func pairs(kv []string) iter.Seq2[string, string] {
	return func(yield func(string, string) bool) {
		for pair := range slices.Chunk(kv, 2) {
			value := ""
			if len(pair) == 2 {
				value = pair[1]
			}
			if !yield(pair[0], value) {
				return
			}
		}
	}
}

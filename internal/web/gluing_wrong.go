package web

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"rockledger/internal/fault"
)

// indexed takes the field of a violation apart: "installations[2].set_at".
var indexed = regexp.MustCompile(`^(installations|anchors)\[(\d+)\]\.?(.*)$`)

// inForm gives the violations of a gluing session the names that their fields
// have in the form. A line's violation of something that was typed for all
// lines is one of the row for all.
func (r *gluingReader) inForm(err error) error {
	e, known := fault.As(err)
	if !known || e.Kind != fault.Invalid {
		return err
	}
	var c fault.Checks
	for _, v := range e.Violations {
		v.Field = r.fieldInForm(v.Field)
		c.Add(v)
	}
	if len(e.Violations) == 0 {
		c.Nest("", err)
	}
	return c.Err()
}

func (r *gluingReader) fieldInForm(field string) string {
	field = strings.TrimPrefix(field, "session.")
	m := indexed.FindStringSubmatch(field)
	if m == nil {
		if field == "batch_text" {
			return "batch_id"
		}
		return strings.TrimSuffix(field, ".c")
	}
	name := m[3]
	switch name {
	case "", "anchor_id", "site_id", "id", "set_on":
		name = "position_id"
	case "product_id":
		name = "hardware_id"
	}
	n, _ := strconv.Atoi(m[2])
	if own := lineField(n, name); r.text(own) == "" && forAll(name) && r.text(allField(name)) != "" {
		return allField(name)
	}
	return lineField(n, name)
}

// byLine gives violations that count installations and new anchors the numbers
// of their lines.
func (r *gluingReader) byLine(err error) error {
	e, known := fault.As(err)
	if !known || e.Kind != fault.Invalid {
		return err
	}
	var c fault.Checks
	for _, v := range e.Violations {
		if m := indexed.FindStringSubmatch(v.Field); m != nil {
			of := r.lines
			if m[1] == "anchors" {
				of = r.news
			}
			if k, err := strconv.Atoi(m[2]); err == nil && k < len(of) {
				v.Field = fmt.Sprintf("%s[%d].%s", m[1], of[k], m[3])
			}
		}
		c.Add(v)
	}
	if len(e.Violations) == 0 {
		c.Nest("", err)
	}
	return r.inForm(c.Err())
}

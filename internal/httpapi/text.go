package httpapi

import (
	"bytes"
	"encoding/json"
	"maps"
	"net/url"
	"slices"
	"strconv"

	"rockledger/internal/fault"
)

// unwritten adds each text of a query or of a JSON body that holds a character
// that is none to read. Bytes that are no text, and halves of a character
// (\ud800), have become U+FFFD by the time a body is decoded: they would be kept
// as something else than what was sent.
func (v *violations) unwritten(query url.Values, body []byte) {
	var c fault.Checks
	for _, name := range slices.Sorted(maps.Keys(query)) {
		for _, text := range query[name] {
			c.Text(name, text)
		}
	}
	d := json.NewDecoder(bytes.NewReader(body))
	d.UseNumber()
	var value any
	if err := d.Decode(&value); err == nil { // what is no JSON is the contract's to refuse
		unwrittenIn(&c, nil, value)
	}
	if e, bad := fault.As(c.Err()); bad {
		v.list = append(v.list, e.Violations...)
	}
}

func unwrittenIn(c *fault.Checks, path []string, value any) {
	switch value := value.(type) {
	case string:
		c.Text(fieldName("", path), value)
	case []any:
		for i, one := range value {
			unwrittenIn(c, append(slices.Clone(path), strconv.Itoa(i)), one)
		}
	case map[string]any:
		for _, name := range slices.Sorted(maps.Keys(value)) {
			unwrittenIn(c, append(slices.Clone(path), name), value[name])
		}
	}
}

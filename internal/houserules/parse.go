package houserules

import (
	"bytes"
	"encoding/json"
	"maps"
	"slices"
	"strings"

	"rockledger/internal/fault"
)

// Parse reads house rules as JSON and checks them. Rows that did not exist yet
// when the first house rules were stored, and are missing, are taken from the
// defaults and named in Completed; an interval that the group's shortest one
// forbids is raised to that.
//
// Errors are Invalid and list every violation, keyed by path
// ("longest_interval_months.form.staple"): a row that is missing
// (fault.Required) or unknown (fault.Unknown), a number that is not whole or
// not positive or beyond what the table allows, a word outside its list, a
// blank source. Due soon must be shorter than the shortest interval, no
// interval may fall below that, and a row for what is not known may lie neither
// above the longest nor below the shortest row of its table. Shares that weigh
// more must be larger, and none above 100 %.
func Parse(data []byte) (Rules, error) { return parse(data, defaultLeaves()) }

// parse takes what is missing from the given leaves.
func parse(data []byte, defaults map[string]any) (Rules, error) {
	tree, err := decode(data)
	if err != nil {
		return Rules{}, err
	}
	leaves := make(map[string]any)
	flatten("", tree, leaves)
	completed := complete(tree, leaves, defaults)

	var c fault.Checks
	checkShape(&c, leaves)
	if err := c.Err(); err != nil {
		return Rules{}, err
	}
	whole, err := json.Marshal(tree)
	if err != nil {
		return Rules{}, fault.Wrap(fault.Invalid, err, "read house rules").WithCode(fault.Malformed)
	}
	r := Rules{Completed: completed}
	if err := json.Unmarshal(whole, &r); err != nil {
		return Rules{}, fault.Wrap(fault.Invalid, err, "read house rules").WithCode(fault.Malformed)
	}
	if err := r.validate(); err != nil {
		return Rules{}, err
	}
	return r, nil
}

func decode(data []byte) (map[string]any, error) {
	d := json.NewDecoder(bytes.NewReader(data))
	d.UseNumber()
	var tree map[string]any
	if err := d.Decode(&tree); err != nil {
		return nil, fault.Wrap(fault.Invalid, err, "read house rules: want one JSON object").WithCode(fault.Malformed)
	}
	if d.More() {
		return nil, fault.Reject(fault.Malformed, "read house rules: something follows the JSON object")
	}
	return tree, nil
}

// flatten gathers the leaves under their paths. A leaf is an object with a
// value, or anything that is no object.
func flatten(path string, node any, leaves map[string]any) {
	object, ok := node.(map[string]any)
	if _, leaf := object["value"]; !ok || leaf || len(object) == 0 {
		leaves[path] = node
		return
	}
	for name, child := range object {
		flatten(strings.TrimPrefix(path+"."+name, "."), child, leaves)
	}
}

// checkShape compares the leaves with those the rules must have.
func checkShape(c *fault.Checks, leaves map[string]any) {
	want := shape()
	for _, path := range slices.Sorted(maps.Keys(leaves)) {
		check, ok := want[path]
		if !ok {
			c.Require(false, path, fault.Unknown)
			continue
		}
		check(c, path, leaves[path])
	}
	for _, path := range slices.Sorted(maps.Keys(want)) {
		_, ok := leaves[path]
		c.Require(ok, path, fault.Required)
	}
}

// leafCheck looks at one leaf as decoded.
type leafCheck func(c *fault.Checks, path string, leaf any)

// number wants {"value": whole and positive, "source": words}.
func number(c *fault.Checks, path string, leaf any) {
	value := unwrap(c, path, leaf)
	if value != nil {
		wholePositive(c, path+".value", value)
	}
}

// temperature wants {"value": whole degrees Celsius that rock can have, "source":
// words}; zero and below are among them.
func temperature(c *fault.Checks, path string, leaf any) {
	value := unwrap(c, path, leaf)
	if value == nil {
		return
	}
	path += ".value"
	n, ok := value.(json.Number)
	if !ok {
		c.Require(false, path, fault.NotANumber)
		return
	}
	i, err := n.Int64()
	c.Require(err == nil, path, fault.NotWhole)
	c.Require(err != nil || i >= -coldest && i <= coldest, path, fault.OutOfRange, "from", "-40", "to", "40")
}

// coldest bounds a temperature of the house rules either way, degC.
const coldest = 40

func wholePositive(c *fault.Checks, path string, value any) {
	n, ok := value.(json.Number)
	if !ok {
		c.Require(false, path, fault.NotANumber)
		return
	}
	i, err := n.Int64()
	c.Require(err == nil, path, fault.NotWhole)
	c.Require(err != nil || i > 0, path, fault.NotPositive)
	c.Require(err != nil || i <= longest, path, fault.OutOfRange, "to", "1200")
}

// longest is the largest number any row may hold: a hundred years in months.
const longest = 1200

// oneOf wants {"value": one of the words, "source": words}.
func oneOf(words ...string) leafCheck {
	return func(c *fault.Checks, path string, leaf any) {
		value := unwrap(c, path, leaf)
		if value == nil {
			return
		}
		word, _ := value.(string)
		c.Require(slices.Contains(words, word), path+".value", fault.Unknown, "allowed", strings.Join(words, ", "))
	}
}

// unwrap returns the leaf's value, or nil after saying what is wrong with the
// leaf.
func unwrap(c *fault.Checks, path string, leaf any) any {
	object, ok := leaf.(map[string]any)
	if !ok || object["value"] == nil {
		c.Require(false, path+".value", fault.Required)
		return nil
	}
	source, _ := object["source"].(string)
	c.Require(strings.TrimSpace(source) != "", path+".source", fault.Blank)
	for _, name := range slices.Sorted(maps.Keys(object)) {
		c.Require(name == "value" || name == "source", path+"."+name, fault.Unknown)
	}
	return object["value"]
}

package exchange

import (
	"errors"
	"io"
	"slices"
	"strings"

	"go.yaml.in/yaml/v3"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// MaxMappingBytes is how long a mapping file may be.
const MaxMappingBytes = 64 << 10

// Mapping overrules what would be guessed of a list. The zero value overrules
// nothing.
type Mapping struct {
	// Columns says which heading is which field; case and spaces do not matter.
	Columns map[string]Field `yaml:"columns"`
	// Site is the one site of a list that has no column for it.
	Site string `yaml:"site"`
	// SiteKind is the kind of every site of the list, SiteKinds of a named one.
	SiteKind  registry.SiteKind            `yaml:"site_kind"`
	SiteKinds map[string]registry.SiteKind `yaml:"site_kinds"`
	// DateOrder is "day-first" or "month-first"; empty: decided column by
	// column.
	DateOrder string `yaml:"date_order"`
}

// The orders a mapping can name.
const (
	dayFirst   = "day-first"
	monthFirst = "month-first"
)

// ParseMapping reads a mapping file in YAML:
//
//	columns: {Bolt no.: position, Size: diameter, Colour: ignore}
//	site: Marrow Pot
//	site_kind: cave
//	site_kinds: {Old Hole: quarry}
//	date_order: month-first
//
// An empty file is the mapping that overrules nothing. Errors are Invalid and
// list every violation, under "columns" or the name of the key.
func ParseMapping(data []byte) (Mapping, error) {
	var m Mapping
	if len(data) > MaxMappingBytes {
		return m, unreadable("columns", fault.TooLong, "mapping-too-long", "limit", "64 KiB")
	}
	d := yaml.NewDecoder(strings.NewReader(string(data)))
	d.KnownFields(true)
	if err := d.Decode(&m); err != nil && !errors.Is(err, io.EOF) {
		return Mapping{}, unreadable("columns", fault.Malformed, "mapping-malformed", "text", err.Error())
	}
	return m, m.validate()
}

func (m *Mapping) validate() error {
	var c fault.Checks
	taken := map[Field]bool{}
	for _, heading := range sortedKeys(m.Columns) {
		f := m.Columns[heading]
		key := "columns." + heading
		c.Require(slices.Contains(Fields(), f), key, fault.Unknown, "value", string(f), "allowed", joinFields(Fields()))
		c.Require(f == FieldNone || !taken[f], key, fault.Duplicate, "value", string(f))
		taken[f] = true
	}
	checkKind(&c, "site_kind", m.SiteKind)
	for _, site := range sortedKeys(m.SiteKinds) {
		checkKind(&c, "site_kinds."+site, m.SiteKinds[site])
	}
	orders := []string{"", dayFirst, monthFirst}
	c.Require(slices.Contains(orders, m.DateOrder), "date_order", fault.Unknown, "value", m.DateOrder, "allowed", dayFirst+", "+monthFirst)
	return c.Err()
}

func checkKind(c *fault.Checks, key string, kind registry.SiteKind) {
	ok := kind == "" || slices.Contains(registry.SiteKinds(), kind)
	c.Require(ok, key, fault.Unknown, "value", string(kind), "allowed", "crag, sea-cliff, quarry, cave")
}

// field returns the field that the mapping names for a heading.
func (m *Mapping) field(heading string) (Field, bool) {
	for _, name := range sortedKeys(m.Columns) {
		if registry.Fold(name) == registry.Fold(heading) {
			return m.Columns[name], true
		}
	}
	return "", false
}

// kind returns the kind that the mapping names for a site, "" for none.
func (m *Mapping) kind(site string) registry.SiteKind {
	for _, name := range sortedKeys(m.SiteKinds) {
		if registry.Fold(name) == registry.Fold(site) && m.SiteKinds[name] != "" {
			return m.SiteKinds[name]
		}
	}
	return m.SiteKind
}

// order returns the order the mapping names, or the one most of the decidable
// texts are in.
func (m *Mapping) order(texts []string) calendar.Order {
	switch m.DateOrder {
	case dayFirst:
		return calendar.DayFirst
	case monthFirst:
		return calendar.MonthFirst
	}
	return calendar.Decide(texts)
}

func sortedKeys[V any](m map[string]V) []string {
	keys := make([]string, 0, len(m))
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

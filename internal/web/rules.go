package web

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"

	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/wording"
)

// rulesPage shows the house rules in force, every number with its source.
type rulesPage struct {
	Frame    frame
	Notice   string
	Version  int
	Parts    []rulesPart
	Unfold   string // link to the page with nothing folded up; empty: this is it
	Change   string // form that changes them; empty: whoever asks may not
	Versions []rulesVersion
}

// rulesPart is what house rules say of one thing, in one or more tables.
type rulesPart struct {
	ID, Heading string
	Tables      []rulesTable
	Open        bool // not folded up
}

// count says how many numbers and words the part has.
func (p rulesPart) count() string {
	n := 0
	for _, t := range p.Tables {
		n += len(t.Rows)
	}
	return wording.RulesIn(n)
}

// editable says whether a form may change anything of the part.
func (p rulesPart) editable() bool {
	for _, r := range rowsIn([]rulesPart{p}) {
		if r.Raw != "" {
			return true
		}
	}
	return false
}

// rulesTable is one table of the house rules.
type rulesTable struct {
	Heading string // blank: that of its part
	Source  string // of every row; blank: each row has its own
	Rows    []ruleRow
}

// ruleRow is one number or word of the house rules.
type ruleRow struct {
	Name, Value, Source string

	Path    string   // in the text of the rules, "longest_interval_months.form.piton"
	Raw     string   // the value as a form has it; blank: it is several words
	Unit    string   // of a number; blank: none, or in the name
	Options []option // of one word; nil: it is a number, or several words
	Default string   // what the shipped rules say, with their source; blank: nothing
	Differs bool     // from what the shipped rules say
	InForce string   // in a form: what is in force, where something else was typed
}

func (p *Pages) houseRules(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	text, version, err := p.service.HouseRules(c.Request().Context(), who)
	if err != nil {
		return err
	}
	parts, err := rulesParts(text)
	if err != nil {
		return err
	}
	if err := besideDefaults(parts); err != nil {
		return err
	}
	for i := range parts {
		parts[i].Open = unfolded(c)
	}
	page := rulesPage{Frame: p.framed(c, "House rules"), Notice: notice(c), Version: version, Parts: parts, Unfold: unfoldHref(c)}
	if allowed(c, app.SetHouseRules) {
		page.Change = page.Frame.Base + "/house-rules/change"
		if page.Versions, err = p.rulesVersions(c, who); err != nil {
			return err
		}
	}
	return ok(c, rulesView(page))
}

// rowsIn lists the rows of parts, in order.
func rowsIn(parts []rulesPart) []*ruleRow {
	var rows []*ruleRow
	for _, p := range parts {
		for _, t := range p.Tables {
			for k := range t.Rows {
				rows = append(rows, &t.Rows[k])
			}
		}
	}
	return rows
}

// byPath finds rows by their path.
func byPath(parts []rulesPart) map[string]*ruleRow {
	rows := make(map[string]*ruleRow)
	for _, r := range rowsIn(parts) {
		rows[r.Path] = r
	}
	return rows
}

// shippedRows are the rows of the shipped rules by path; they must not be
// changed.
var shippedRows = sync.OnceValues(func() (map[string]*ruleRow, error) {
	text, err := app.DefaultHouseRules()
	if err != nil {
		return nil, err
	}
	var w rulesWalk
	err = w.walk(nil, nil, "", text)
	return byPath(w.parts), err
})

// besideDefaults names the shipped default of each row that differs from it.
func besideDefaults(parts []rulesPart) error {
	shipped, err := shippedRows()
	if err != nil {
		return fmt.Errorf("read the shipped house rules: %w", err)
	}
	for _, r := range rowsIn(parts) {
		if d := shipped[r.Path]; d != nil {
			r.Default, r.Differs = wording.RuleDefault(d.Value, d.Source), d.Value != r.Value
		}
	}
	return nil
}

// rulesParts reads house rules as tables, whatever tables they have: a number or
// word is an object with a value and its source, a table an object of those.
func rulesParts(text []byte) ([]rulesPart, error) {
	var w rulesWalk
	if err := w.walk(nil, nil, "", text); err != nil {
		return nil, fmt.Errorf("read house rules: %w", err)
	}
	for i := range w.parts {
		for j := range w.parts[i].Tables {
			w.parts[i].Tables[j].shareSource()
		}
	}
	return w.parts, nil
}

// shareSource names a source that all rows have once, above them.
func (t *rulesTable) shareSource() {
	first := t.Rows[0].Source
	for _, r := range t.Rows {
		if r.Source != first {
			return
		}
	}
	t.Source = first
	for i := range t.Rows {
		t.Rows[i].Source = ""
	}
}

// rulesWalk gathers tables in the order of the text.
type rulesWalk struct{ parts []rulesPart }

// walk visits one object, under the headings and names of those around it. Unit
// is that of its numbers.
func (w *rulesWalk) walk(path, names []string, unit string, text json.RawMessage) error {
	list, err := membersOf(text)
	if err != nil {
		return err
	}
	for _, m := range list {
		name, own := nameAndUnit(m.name)
		if own == "" {
			own = unit
		}
		under := append(names[:len(names):len(names)], m.name)
		if row, ok := numberOf(m.value); ok {
			row.Name, row.Path, row.Unit = name, strings.Join(under, "."), own
			row.Options = ruleOptions(row.Path)
			if own != "" && row.Value != "" {
				row.Value += " " + own
			}
			w.add(path, row)
			continue
		}
		if bytes.HasPrefix(bytes.TrimSpace(m.value), []byte("{")) {
			if err := w.walk(append(path[:len(path):len(path)], name), under, own, m.value); err != nil {
				return err
			}
		}
	}
	return nil
}

// add puts a row under its headings.
func (w *rulesWalk) add(path []string, row ruleRow) {
	heading, table := "In general", ""
	if len(path) > 0 {
		heading, table = path[0], strings.Join(path[1:], ", ")
	}
	i := slices.IndexFunc(w.parts, func(p rulesPart) bool { return p.Heading == heading })
	if i < 0 {
		i = len(w.parts)
		w.parts = append(w.parts, rulesPart{ID: fmt.Sprintf("rules-%d", i+1), Heading: heading})
	}
	part := &w.parts[i]
	if n := len(part.Tables); n == 0 || part.Tables[n-1].Heading != table {
		part.Tables = append(part.Tables, rulesTable{Heading: table})
	}
	last := &part.Tables[len(part.Tables)-1]
	last.Rows = append(last.Rows, row)
}

// numberOf reads a value with its source.
func numberOf(text json.RawMessage) (ruleRow, bool) {
	var n struct {
		Value  json.RawMessage `json:"value"`
		Source *string         `json:"source"`
	}
	if json.Unmarshal(text, &n) != nil || n.Value == nil || n.Source == nil {
		return ruleRow{}, false
	}
	var word string
	if json.Unmarshal(n.Value, &word) == nil {
		return ruleRow{Value: strings.ToLower(wording.Label(word)), Raw: word, Source: *n.Source}, true
	}
	var list []string
	if json.Unmarshal(n.Value, &list) == nil {
		return ruleRow{Value: wording.SettlingKinds(list), Source: *n.Source}, true
	}
	return ruleRow{Value: string(n.Value), Raw: string(n.Value), Source: *n.Source}, true
}

// ruleOptions are the words that a row may hold one of, as choices.
func ruleOptions(path string) []option {
	var options []option
	for _, word := range app.RuleChoices(path) {
		options = append(options, option{Value: word, Text: wording.Label(word)})
	}
	return options
}

// member is one member of a JSON object.
type member struct {
	name  string
	value json.RawMessage
}

// membersOf lists the members of a JSON object in order.
func membersOf(text json.RawMessage) ([]member, error) {
	d := json.NewDecoder(bytes.NewReader(text))
	if _, err := d.Token(); err != nil {
		return nil, err
	}
	var list []member
	for d.More() {
		name, err := d.Token()
		if err != nil {
			return nil, err
		}
		m := member{name: fmt.Sprint(name)}
		if err := d.Decode(&m.value); err != nil {
			return nil, err
		}
		list = append(list, m)
	}
	_, err := d.Token() // the end, without which it was cut off
	return list, err
}

// units are what the last word of a name says its numbers are counted in.
var units = map[string]string{
	"months": "months", "days": "days", "years": "years", "pct": "%", "percent": "%", "mm": "mm", "km": "km", "kn": "kN", "um": "µm", "c": "°C",
}

// nameAndUnit says the name of a table or number, and the unit at its end.
func nameAndUnit(name string) (words, unit string) {
	i := strings.LastIndex(name, "_")
	return wording.RuleName(name), units[name[i+1:]]
}

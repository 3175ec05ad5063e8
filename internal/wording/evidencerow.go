package wording

import (
	"encoding/json"
	"maps"
	"regexp"
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// rowNames are what the ids in rows of the log stand for.
type rowNames map[string]string

func namesIn(s *registry.AnchorStory) rowNames {
	n := make(rowNames)
	for id, name := range s.Persons {
		n[id.String()] = name
	}
	for id, p := range s.Products {
		n[id.String()] = p.Name
	}
	for id, b := range s.Batches {
		n[id.String()] = b.Text
	}
	for _, r := range s.Routes {
		n[r.ID.String()] = r.Name
	}
	for _, f := range s.Facts.Fittings {
		n[f.ID.String()] = lower(Label(f.Kind))
	}
	n[s.Facts.Site.ID.String()] = s.Facts.Site.Name
	n[s.Facts.Position.ID.String()] = s.Facts.Position.Label
	delete(n, uuid.Nil.String())
	return n
}

// unsaid are members of rows that say nothing to a reader: they serve to keep
// and find rows, or stand beside them anyway.
var unsaid = map[string]bool{
	"id": true, "version": true, "text_key": true, "hash": true, "recorded_at": true, "anchor_id": true, "rank": true,
	"private": true, // the veil over words, which stand beside it
}

// row says what is filled in of a row: "form: wedge anchor". Ids that stand for
// nothing known are left out.
func (n rowNames) row(text string) []string {
	members := membersOf(text)
	var said []string
	for _, name := range slices.Sorted(maps.Keys(members)) {
		if v := n.value(name, members[name]); v != "" && !unsaid[name] {
			said = append(said, member(name)+": "+v)
		}
	}
	return said
}

// difference says what reads otherwise in a later row: "notes: “a”, before not
// recorded".
func (n rowNames) difference(before, after string) []string {
	was, is := membersOf(before), membersOf(after)
	names := maps.Clone(was)
	maps.Copy(names, is)
	var said []string
	for _, name := range slices.Sorted(maps.Keys(names)) {
		if same := string(was[name]) == string(is[name]); same && sealed(is[name]) && string(was["private"]) != string(is["private"]) {
			said = append(said, member(name)+": changed; "+registry.WordsSealed)
			continue
		} else if unsaid[name] || same {
			continue
		}
		said = append(said, member(name)+": "+n.orNothing(name, is[name])+", before "+n.orNothing(name, was[name]))
	}
	return said
}

// sealed says that a member's words are not known any more.
func sealed(v json.RawMessage) bool { return string(v) == `"`+registry.WordsSealed+`"` }

func (n rowNames) orNothing(name string, v json.RawMessage) string {
	if text := n.value(name, v); text != "" {
		return text
	}
	if isID(v) {
		return "another"
	}
	return "not recorded"
}

func membersOf(text string) map[string]json.RawMessage {
	var members map[string]json.RawMessage
	if json.Unmarshal([]byte(text), &members) != nil {
		return nil // what the log cannot hold
	}
	return members
}

// units are the suffixes of members that carry a unit.
var units = []struct{ suffix, unit string }{
	{"_mm", " in mm"}, {"_kn", " in kN"}, {"_nm", " in Nm"}, {"_km", " in km"}, {"_ml", " in mL"}, {"_c", " in °C"}, {"_id", ""},
}

// member names a member of a row: "overall length in mm".
func member(name string) string {
	for _, u := range units {
		if stem, ok := strings.CutSuffix(name, u.suffix); ok {
			name = stem + u.unit
			break
		}
	}
	return strings.ReplaceAll(name, "_", " ")
}

func isID(v json.RawMessage) bool {
	var text string
	return json.Unmarshal(v, &text) == nil && uuid.Validate(text) == nil
}

// value says a member's value; empty for none, and for an id of nothing known.
func (n rowNames) value(name string, v json.RawMessage) string {
	var any any
	if json.Unmarshal(v, &any) != nil {
		return ""
	}
	return n.said(name, any)
}

func (n rowNames) said(name string, v any) string {
	switch v := v.(type) {
	case nil:
		return ""
	case string:
		if v == registry.WordsSealed {
			return v
		}
		if own.MatchString(name) && strings.TrimSpace(v) != "" {
			return "“" + v + "”"
		}
		return n.text(v)
	case bool:
		if v {
			return "yes"
		}
		return "no"
	case []any:
		if name == "metal" { // one of them
			return strings.Join(n.each(name, v), " or ")
		}
		return strings.Join(n.each(name, v), ", ")
	case map[string]any:
		var parts []string
		for _, name := range slices.Sorted(maps.Keys(v)) {
			if text := n.said(name, v[name]); text != "" {
				parts = append(parts, member(name)+" "+text)
			}
		}
		return strings.Join(parts, " ")
	}
	number, _ := json.Marshal(v) //nolint:errchkjson // it was read from JSON
	return string(number)
}

func (n rowNames) each(name string, list []any) []string {
	var out []string
	for _, v := range list {
		if text := n.said(name, v); text != "" {
			out = append(out, strings.Trim(text, "“”")) // grades and the like
		}
	}
	return out
}

// own are members that hold what somebody wrote, in their own words.
var own = regexp.MustCompile(`(^|_)(words|notes|name|maker|label|title|text|reason|how_to|source)$`)

var isoDate = regexp.MustCompile(`^\d{4}-\d{2}-\d{2}$`)

// text says a text: a date in words, a value of a closed list by its name, an id
// by what it stands for, and else the text itself in quotation marks.
func (n rowNames) text(v string) string {
	if name, ok := labels[v]; ok {
		return lower(name)
	}
	switch {
	case strings.TrimSpace(v) == "":
		return ""
	case uuid.Validate(v) == nil:
		return n[v]
	case isoDate.MatchString(v):
		if d, err := calendar.ParseDate(v); err == nil {
			return d.Words()
		}
	case kebab.MatchString(v):
		return strings.ReplaceAll(v, "-", " ")
	}
	return "“" + v + "”"
}

// kebab is how values of closed lists are written.
var kebab = regexp.MustCompile(`^[a-z]+(-[a-z]+)*$`)

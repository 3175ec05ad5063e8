package wording

import (
	"fmt"
	"slices"
	"strings"

	"rockledger/internal/registry"
)

// Work says what an anchor asks for.
func Work(k registry.WorkKind) string {
	switch k {
	case registry.WorkReplace:
		return "Replace"
	case registry.WorkRepair:
		return "Repair"
	case registry.WorkInspect:
		return "Inspect"
	}
	return "Work " + notKnown
}

// WorkCount says how many anchors ask for a kind of work: "3 to replace".
func WorkCount(k registry.WorkKind, n int) string {
	return fmt.Sprintf("%d to %s", n, strings.ToLower(Work(k)))
}

// Kit says one thing to bring and how many of it: "2 anchors: glue-in, single
// shank; titanium; shank 12 mm".
func Kit(k registry.KitLine) string {
	one, several := kitNames(k)
	text := count(k.Count, one, several)
	var more []string
	if k.Kind == registry.KitAnchor {
		more = append(more, kitForm(k.Form))
	}
	switch {
	case k.MetalOpen:
		more = append(more, "metal open until the environment of its place is recorded")
	case k.Metal.Known():
		more = append(more, kitMetal(k))
	}
	if k.Shank != nil {
		more = append(more, "shank "+Length(k.Shank))
	}
	if len(more) == 0 {
		return text
	}
	return text + ": " + strings.Join(more, "; ")
}

// kitNames names a thing to bring, one of it and several.
func kitNames(k registry.KitLine) (one, several string) {
	switch k.Kind {
	case registry.KitAnchor:
		return "anchor", "anchors"
	case registry.KitFitting:
		name := strings.ToLower(Label(k.Fitting))
		return name, name + "s"
	case registry.KitNut:
		return "nut with its washer", "nuts with their washers"
	case registry.KitAdhesive:
		return "portion of adhesive for one bonded anchor", "portions of adhesive, each for one bonded anchor"
	case registry.KitHole:
		return "hole to drill, and the old one to fill", "holes to drill, and the old ones to fill"
	case registry.KitTools:
		return "anchor to inspect: tools for a hands-on inspection", "anchors to inspect: tools for a hands-on inspection"
	case registry.KitMarking:
		return "tape, tag or sign for an anchor that is out of use and not marked", "tapes, tags or signs for anchors that are out of use and not marked"
	case registry.KitMending:
		return "anchor to repair: tools, and what its findings ask for", "anchors to repair: tools, and what their findings ask for"
	}
	return Label(k.Kind), Label(k.Kind)
}

func kitForm(f registry.Form) string {
	if f == "" {
		return "form to be chosen at the rock"
	}
	return strings.ToLower(Label(f))
}

// kitMetal names every grade that suits.
func kitMetal(k registry.KitLine) string {
	names := make([]string, len(k.Metal))
	for i, g := range k.Metal {
		names[i] = grade(g)
	}
	return strings.Join(names, " or ")
}

// Also names findings beside one that was said in full: "Also: loose nut; worn."
func Also(findings []registry.Finding) string {
	return "Also: " + strings.Join(namesOf(findings), "; ") + "."
}

// AlsoFolded names findings that are folded up beside one that was said in full,
// and counts those noted or settled among them: "Also: worn; 1 thing noted or
// settled."
func AlsoFolded(findings []registry.Finding, notes int) string {
	names := namesOf(findings)
	if notes > 0 {
		names = append(names, NotesBeside(notes))
	}
	return "Also: " + strings.Join(names, "; ") + "."
}

// FindingNames names findings where there is no room to say them, most of them
// at most, and counts the others: "Loose nut; worn; and 2 more."; blank for none.
func FindingNames(findings []registry.Finding, most int) string {
	names := namesOf(findings)
	if len(names) == 0 {
		return ""
	}
	if more := len(names) - most; more > 0 {
		names = append(names[:most], fmt.Sprintf("and %d more", more))
	}
	return capital(strings.Join(names, "; ")) + "."
}

// namesOf are the kinds of findings by name, each once.
func namesOf(findings []registry.Finding) []string {
	var names []string
	for _, f := range findings {
		if name := lower(Rule(f.Rule)); !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// landWork are the counts of records made of what was done on somebody's land.
var landWork = map[string][2]string{
	"installation": {"anchor set", "anchors set"},
	"inspection":   {"inspection", "inspections"},
	"maintenance":  {"record of maintenance", "records of maintenance"},
	"marking":      {"marking put up or taken away", "markings put up or taken away"},
	"removal":      {"removal", "removals"},
	"settlement":   {"finding settled", "findings settled"},
	"first-use":    {"first use allowed", "first uses allowed"},
	"retraction":   {"record taken back", "records taken back"},
}

// LandWork says how much of a kind of work was done on somebody's land: "3
// inspections".
func LandWork(kind string, n int) string {
	names, ok := landWork[kind]
	if !ok {
		name := strings.ReplaceAll(kind, "-", " ")
		names = [2]string{name, name + "s"}
	}
	return count(n, names[0], names[1])
}

package app

import (
	"slices"
	"strings"

	"rockledger/internal/registry"
)

// assemblies joins the new belay positions of a route whose labels differ only
// in left and right. How they share the load is not known.
func (in *intake) assemblies() []registry.Assembly {
	found := make(map[within]*registry.Assembly)
	sides := make(map[within][]string)
	var order []within
	for _, e := range in.entries {
		p := &e.facts.Position
		base, side := sideOf(p.Label)
		if p.Role != registry.Belay || side == "" || e.route == nil {
			continue
		}
		key := within{e.route.ID, registry.Fold(base)}
		a := found[key]
		if a == nil {
			a = &registry.Assembly{ID: newID(), SiteID: p.SiteID, Name: assemblyName(base)}
			found[key], order = a, append(order, key)
		}
		if !slices.Contains(a.PositionIDs, p.ID) {
			a.PositionIDs, sides[key] = append(a.PositionIDs, p.ID), append(sides[key], side)
		}
	}
	var out []registry.Assembly
	for _, key := range order {
		if slices.Contains(sides[key], "left") && slices.Contains(sides[key], "right") {
			out = append(out, *found[key])
		}
	}
	return out
}

func assemblyName(base string) string {
	if base == "" {
		return "belay"
	}
	return base
}

// sideOf splits a label into what comes before its last word and that word, if
// it says left or right; otherwise side is empty.
func sideOf(label string) (base, side string) {
	words := strings.Fields(label)
	if len(words) == 0 {
		return "", ""
	}
	last := len(words) - 1
	base = strings.Join(words[:last], " ")
	switch strings.ToLower(strings.Trim(words[last], "()")) {
	case "l", "left":
		return base, "left"
	case "r", "right":
		return base, "right"
	}
	return label, ""
}

package corrosion

import (
	"slices"

	"rockledger/internal/metal"
)

// Sameness is whether parts are of one material.
type Sameness string

// The answers.
const (
	SameGrade      Sameness = "same-grade"
	SameGroup      Sameness = "same-group" // grades differ or may differ, the group does not
	Different      Sameness = "different"
	SameIsNotKnown Sameness = "not-known"
)

// OneMaterial returns whether the metal parts of an anchor, or of what hangs
// linked to it, are of one material, as the standard asks of a two-point belay
// and its rope attachment. Parts of stainless steel of the same galvanic group,
// as a bolt of 1.4404 with a hanger of 1.4401, are of the same group; whether
// that is one material, the words of the standard seen do not say.
//
// A part that is not known makes the answer not known, unless the others differ
// already; so does a part that can be of several groups. Fewer than two parts are
// of the same grade.
//
// Source: EN 959:2018, 4.2.7 and 4.2.8.
func OneMaterial(parts ...metal.Set) Sameness {
	if len(parts) < 2 {
		return SameGrade
	}
	answer := SameGrade
	var shared []Material
	for _, part := range parts {
		groups := groupsOf(part)
		switch {
		case len(groups) == 0:
			answer = SameIsNotKnown
			continue
		case shared == nil:
			shared = groups
		}
		shared = slices.DeleteFunc(shared, func(m Material) bool { return !slices.Contains(groups, m) })
		if len(shared) == 0 {
			return Different
		}
		_, single := part.Single()
		switch {
		case len(groups) > 1:
			answer = SameIsNotKnown
		case answer == SameGrade && (!single || !part.Equal(parts[0])):
			answer = SameGroup
		}
	}
	return answer
}

// groupsOf returns the galvanic groups a metal can be of, none if it is not
// known.
func groupsOf(set metal.Set) []Material {
	var groups []Material
	for _, g := range set {
		if m, ok := MaterialOf(g); ok && !slices.Contains(groups, m) {
			groups = append(groups, m)
		}
	}
	return groups
}

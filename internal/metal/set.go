package metal

import (
	"slices"
	"strconv"

	"rockledger/internal/fault"
)

// Set is what a metal can be: grades in ascending order, each once. Empty means
// not known, never "no metal". Make one with NewSet; it is not changed after
// that.
type Set []Grade

// NewSet returns the set of the given grades, in any order and number. Grades
// are not looked up: see Validate.
func NewSet(grades ...Grade) Set {
	if len(grades) == 0 {
		return nil
	}
	s := slices.Clone(grades)
	slices.Sort(s)
	return Set(slices.Compact(s))
}

// SetFromStrings returns the set of the grades with the given ids, as Strings
// gives them.
func SetFromStrings(ids []string) Set {
	grades := make([]Grade, len(ids))
	for i, id := range ids {
		grades[i] = Grade(id)
	}
	return NewSet(grades...)
}

// Known reports whether anything is known of the metal.
func (s Set) Known() bool { return len(s) > 0 }

// Contains reports whether the metal can be g.
func (s Set) Contains(g Grade) bool {
	_, ok := slices.BinarySearch(s, g)
	return ok
}

// Single returns the grade if it is known which one it is.
func (s Set) Single() (Grade, bool) {
	if len(s) != 1 {
		return "", false
	}
	return s[0], true
}

// Union returns the grades of either set. A set that is not known adds nothing.
func (s Set) Union(other Set) Set { return NewSet(slices.Concat(s, other)...) }

// Equal reports whether both sets hold the same grades.
func (s Set) Equal(other Set) bool { return slices.Equal(s, other) }

// Within reports whether every grade of s is one of other. A set that is not
// known is within any.
func (s Set) Within(other Set) bool {
	return !slices.ContainsFunc(s, func(g Grade) bool { return !other.Contains(g) })
}

// Strings returns the ids in order, never nil.
func (s Set) Strings() []string {
	ids := make([]string, len(s))
	for i, g := range s {
		ids[i] = string(g)
	}
	return ids
}

// Validate reports, as fault.Invalid with fault.Unknown, each grade that is
// not in the table, as field "[0]", "[1]" and so on.
func (s Set) Validate() error {
	var c fault.Checks
	for i, g := range s {
		_, ok := Lookup(g)
		c.Require(ok, "["+strconv.Itoa(i)+"]", fault.Unknown, "grade", string(g))
	}
	return c.Err()
}

package exchange

import (
	"cmp"
	"slices"
	"strings"

	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// understand finds out what each column holds: by the mapping, then by its
// heading, the surest first, then by its cells.
func (s *sheet) understand(mapping *Mapping) error {
	s.columns, s.units = map[Field]int{}, map[Field]quantity.Unit{}
	taken := make([]bool, len(s.headings))
	if err := s.mapped(mapping, taken); err != nil {
		return err
	}
	s.byName(taken)
	for _, c := range s.claims(taken) {
		if _, full := s.columns[c.field]; !full && !taken[c.at] {
			s.take(c.field, c.at)
			taken[c.at] = true
		}
	}
	s.byCells(taken)
	return s.enough(mapping)
}

func (s *sheet) take(f Field, at int) {
	s.columns[f] = at
	s.units[f] = readHeading(s.headings[at]).unit
}

// mapped takes the columns that the mapping names.
func (s *sheet) mapped(mapping *Mapping, taken []bool) error {
	var c fault.Checks
	for _, name := range sortedKeys(mapping.Columns) {
		at := slices.IndexFunc(s.headings, func(h string) bool { return registry.Fold(h) == registry.Fold(name) })
		if at < 0 {
			c.Require(false, "columns."+name, fault.NoSuchReference, "why", "no-such-heading", "text", name)
			continue
		}
		taken[at] = true
		if f := mapping.Columns[name]; f != FieldNone {
			s.take(f, at)
		}
	}
	return c.Err()
}

// claim is a column that may hold a field.
type claim struct {
	guess
	at      int
	heading string
}

// claims lists what the headings may mean, the surest first. The order of the
// columns decides only between headings that are the same.
func (s *sheet) claims(taken []bool) []claim {
	var claims []claim
	for at, h := range s.headings {
		if taken[at] {
			continue
		}
		for _, g := range readHeading(h).guesses() {
			if g.field == FieldNone {
				continue
			}
			if g.score = s.weigh(g, at); g.score > 0 {
				claims = append(claims, claim{g, at, registry.Fold(h)})
			}
		}
	}
	slices.SortStableFunc(claims, func(a, b claim) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.heading, b.heading), cmp.Compare(a.field, b.field), cmp.Compare(a.at, b.at))
	})
	return claims
}

// weigh holds a guess against the cells: one that is less than sure is dropped
// if they speak against it; ids must look like ids; cells full of types are no
// names of positions.
func (s *sheet) weigh(g guess, at int) int {
	if g.field == FieldID {
		if n, share := s.share(at, isID); n == 0 || share < mostCells {
			return 0
		}
		return g.score
	}
	if g.field == FieldPosition {
		if n, share := s.share(at, isType); n >= enoughCells && share >= mostCells {
			return g.score / 3
		}
		return g.score
	}
	test, ok := recognisers[g.field]
	if !ok || g.score >= sure {
		return g.score
	}
	n, share := s.share(at, test)
	switch {
	case n >= enoughCells && share < fewCells:
		return 0
	case share >= mostCells:
		return g.score + 5 // borne out
	}
	return g.score
}

// byCells takes columns whose heading says nothing for the fields still free
// that their cells are full of.
func (s *sheet) byCells(taken []bool) {
	for _, f := range guessable {
		if _, full := s.columns[f.field]; full {
			continue
		}
		best, bestShare := -1, 0.0
		for at, h := range s.headings {
			if taken[at] || f.nameless && !isNameless(h) || readHeading(h).blocked() {
				continue
			}
			if n, share := s.share(at, recognisers[f.field]); n >= enoughCells && share >= mostCells && share > bestShare {
				best, bestShare = at, share
			}
		}
		if best >= 0 {
			s.take(f.field, best)
			taken[best] = true
			s.guessed = append(s.guessed, f.field)
		}
	}
}

// enough wants a site, and positions or routes.
func (s *sheet) enough(mapping *Mapping) error {
	_, site := s.columns[FieldSite]
	_, route := s.columns[FieldRoute]
	_, position := s.columns[FieldPosition]
	if site || mapping.Site != "" {
		if route || position {
			return nil
		}
		return unreadable("columns", fault.Required, "no-positions", "fields", "position, route", "text", s.seen())
	}
	if route || position {
		return unreadable("columns", fault.Required, "no-site", "fields", "site", "text", s.seen())
	}
	return unreadable("columns", fault.Required, "no-headings", "fields", "site, position, route")
}

// seen names the headings, for whoever looks for the one that is missing.
func (s *sheet) seen() string {
	const most = 20 // a list has more only by mistake
	var names []string
	for _, h := range s.headings[:min(len(s.headings), most)] {
		if h != "" {
			names = append(names, "“"+h+"”")
		}
	}
	return strings.Join(names, ", ")
}

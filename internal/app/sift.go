package app

import (
	"cmp"
	"iter"
	"slices"

	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// pieceRows is how many rows of a long list are entered in one transaction.
const pieceRows = 1000

// sifted is a long list of which the rows that need no look at the register are
// decided on.
type sifted struct {
	list   registry.List
	rest   []int // the other rows, route by route, by index
	size   int   // of a piece, rows
	report report.Import
}

// sift decides on the rows of which the list alone says what becomes of them.
// What is left is about a spot of its own each, and is cut into pieces of up to
// size rows.
func sift(in *intake, size int) sifted {
	s := sifted{list: in.list, size: size}
	left := make(map[int]bool)
	for i := range in.list.Rows {
		if row := &in.list.Rows[i]; !in.settled(row) {
			s.rest = append(s.rest, i)
			left[row.Line] = true
		}
	}
	in.report.Doubts = slices.DeleteFunc(in.report.Doubts, func(d registry.Doubt) bool { return left[d.Line] })
	in.tell()
	s.report = in.report.Long()
	s.arrange()
	return s
}

// arrange puts the rows of one site together, and of one route in it, in the
// order in which the list names them first, so that few pieces part what
// belongs together. Rows of one route stay in their order.
func (s *sifted) arrange() {
	first := make(map[string]int)
	rank := func(name string, i int) int {
		if at, ok := first[name]; ok {
			return at
		}
		first[name] = i
		return i
	}
	type place struct{ index, site, route int }
	places := make([]place, len(s.rest))
	for n, i := range s.rest {
		row := &s.list.Rows[i]
		places[n] = place{i, rank(registry.Fold(row.Site), i), rank(routeOf(row), i)}
	}
	slices.SortFunc(places, func(a, b place) int {
		return cmp.Or(cmp.Compare(a.site, b.site), cmp.Compare(a.route, b.route), cmp.Compare(a.index, b.index))
	})
	for n, p := range places {
		s.rest[n] = p.index
	}
}

// routeOf names a row's route with its sector and site; never as a site is.
func routeOf(row *registry.ListRow) string {
	spot := registry.ListRow{Site: row.Site, Sector: row.Sector, Route: row.Route}
	return spot.Key()
}

// cuts returns the rows of each piece, by index.
func (s *sifted) cuts() [][]int {
	var out [][]int
	for rest := s.rest; len(rest) > 0; {
		n := s.cut(rest)
		out, rest = append(out, rest[:n]), rest[n:]
	}
	return out
}

// cut returns how many of the rows make the next piece: as many as it may have,
// less where that would part a route that fits into half a piece.
func (s *sifted) cut(rest []int) int {
	if len(rest) <= s.size {
		return len(rest)
	}
	next := routeOf(&s.list.Rows[rest[s.size]])
	n := s.size
	for n > s.size/2 && routeOf(&s.list.Rows[rest[n-1]]) == next {
		n--
	}
	if n == s.size/2 {
		return s.size
	}
	return n
}

// pieces returns the rows with what was doubted of them, piece by piece.
func (s *sifted) pieces() iter.Seq[registry.Piece] {
	return func(yield func(registry.Piece) bool) {
		doubts := byLine(s.list.Doubts)
		for _, cut := range s.cuts() {
			var p registry.Piece
			for _, i := range cut {
				row := s.list.Rows[i]
				p.Rows = append(p.Rows, registry.NewPieceRow(row))
				p.Doubts = append(p.Doubts, doubts[row.Line]...)
			}
			if !yield(p) {
				return
			}
		}
	}
}

// byLine parts doubts, which are ordered by line.
func byLine(doubts []registry.Doubt) map[int][]registry.Doubt {
	out := make(map[int][]registry.Doubt)
	for from := 0; from < len(doubts); {
		to := from + 1
		for to < len(doubts) && doubts[to].Line == doubts[from].Line {
			to++
		}
		out[doubts[from].Line], from = doubts[from:to], to
	}
	return out
}

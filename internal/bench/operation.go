package bench

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"rockledger/internal/demo"
	"rockledger/internal/postgres"
)

// operation is something that is timed.
type operation struct {
	name   string
	what   string
	atMost float64 // bound on the time at the largest size by that at the smallest; 0: none
	writes bool
	// prepare takes what the next call is about and returns the call. It is not
	// timed.
	prepare func(s *subject) call
	// lots marks what goes through a group once, in lots: one client calls it as
	// often as the rounds share it out. Anything else is called for as long as a
	// turn lasts.
	lots bool
	// alone marks what is several transactions, so that pgbench has nothing to
	// set beside it: it is called once in each round.
	alone bool
}

// rehearsals is how many calls pgbench repeats the statements of.
func (op *operation) rehearsals() int {
	if op.lots {
		return 1
	}
	return 8
}

// lotCalls is how many lots each turn goes through: lot 0 is rehearsed.
func lotCalls(made *demo.Synthetic, rounds int) int {
	_, all := made.Group(made.Groups - 1)
	return (len(all)/lot - 1) / rounds
}

// call does the operation once; rows is how many it came to.
type call func(ctx context.Context, store *postgres.Store) (rows int, err error)

// read makes an operation of a read about a probe.
func read(fn func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error)) func(*subject) call {
	return func(s *subject) call {
		p, _ := s.probe()
		return func(ctx context.Context, store *postgres.Store) (int, error) { return fn(ctx, store, p) }
	}
}

func (b *bench) operations() []operation {
	return append(reads(), []operation{
		{
			name: reassessChanged, what: fmt.Sprintf("a group assessed anew, %d at a time, all of it changed", lot), writes: true,
			lots: true, prepare: b.reassess(reassessChanged),
		},
		{
			name: reassessSame, what: fmt.Sprintf("the same once more, nothing changed (%d at a time)", lot), writes: true,
			lots: true, prepare: b.reassess(reassessSame),
		},
		b.change(),
		{
			name: "notice", what: fmt.Sprintf("a notice issued and up to %d of its hits assessed anew, %d at a time", HitLot, lot), writes: true, alone: true,
			prepare: read(b.Recall),
		},
	}...)
}

// change records one inspection.
func (b *bench) change() operation {
	return operation{
		name: "change", what: "one inspection recorded, with the new assessment", writes: true,
		prepare: func(s *subject) call {
			p, _ := s.probe()
			return func(ctx context.Context, store *postgres.Store) (int, error) {
				return 1, b.Inspect(ctx, store, p.Group, p.Anchor)
			}
		},
	}
}

func reads() []operation {
	return []operation{
		{name: "point", what: "one anchor's line (page of 1)", prepare: read(func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
			lines, err := store.Anchors(ctx, p.Group, p.All, p.Alone)
			return len(lines), err
		})},
		{name: "story", what: "one anchor's story, all on record", prepare: read(func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
			_, err := store.AnchorStory(ctx, p.Group, p.Anchor)
			return 1, err
		})},
		{name: "page", what: "page of 100 anchors", atMost: 1.5, prepare: read(func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
			lines, err := store.Anchors(ctx, p.Group, p.All, p.Page)
			return len(lines), err
		})},
		{name: "overdue", what: "page of 100 overdue anchors", atMost: 1.5, prepare: read(func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
			lines, err := store.Anchors(ctx, p.Group, p.Late, p.Page)
			return len(lines), err
		})},
		{name: "overdue-report", what: "all overdue anchors of a group, with reasons", prepare: read(func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
			lines, err := store.OverdueLines(ctx, p.Group, p.AsOf)
			return len(lines), err
		})},
		{name: "notice-preview", what: "what a notice about 30 batches would hit", prepare: read(func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
			reach, err := store.NoticeReach(ctx, p.Group, p.Recall)
			return len(reach.Anchors), err
		})},
		{name: "box", what: "anchors in a box, about 200", prepare: read(func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error) {
			lines, err := store.Anchors(ctx, p.Group, p.Near, p.Whole)
			return len(lines), err
		})},
	}
}

// The two kinds of going through a group.
const (
	reassessChanged = "reassess-changed"
	reassessSame    = "reassess-same"
)

// lot is how many anchors are assessed anew in one transaction.
const lot = 500

// reassess goes through the last group of a register, lot by lot. Lot 0 is only
// ever rehearsed, which is taken back; the second kind meets what the first has
// assessed.
func (b *bench) reassess(kind string) func(*subject) call {
	return func(s *subject) call {
		group, part := s.nextLot(kind)
		return func(ctx context.Context, store *postgres.Store) (int, error) {
			return len(part), b.Reassess(ctx, store, group, part)
		}
	}
}

func (s *subject) nextLot(kind string) (group uuid.UUID, anchors []uuid.UUID) {
	group, all := s.demo.Group(s.demo.Groups - 1)
	n := s.lots[kind]
	s.lots[kind]++
	if kind == reassessSame {
		n = 1 + n%(s.lots[reassessChanged]-1)
	}
	return group, all[n*lot : (n+1)*lot]
}

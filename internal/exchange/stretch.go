package exchange

import (
	"runtime"
	"sync"

	"rockledger/internal/registry"
)

const (
	// mostHands is how many goroutines at most read one list: other requests
	// want a processor too. Default of this project.
	mostHands = 4
	// worthHands is of how many bytes a list is worth more than one.
	worthHands = 64 << 10
)

// handsFor says how many goroutines read a list of so many bytes.
func handsFor(size int) int {
	if size < worthHands {
		return 1
	}
	return min(mostHands, runtime.GOMAXPROCS(0))
}

// each reads every row that is not blank, in as many stretches as the reader has
// hands, side by side. read must write to nothing but the hand it is given and
// the hand's row; of other rows nothing may be read. What was doubted of a row
// comes out in the order in which it was, whoever read it.
func (r *reader) each(read func(hand *reader, i int)) {
	hands := make([]*reader, max(1, min(len(r.hands), len(r.list.Rows))))
	stretches(len(hands), len(r.list.Rows), func(n, from, to int) {
		hand := r.hand(n)
		hands[n] = hand
		for i := from; i < to; i++ {
			if !r.list.Rows[i].Blank {
				read(hand, i)
			}
		}
	})
	for _, hand := range hands {
		r.list.Doubts = append(r.list.Doubts, hand.list.Doubts...)
		r.points = append(r.points, hand.points...)
	}
}

// hand returns a reader of the same rows with doubts, points and a memory of its
// own.
func (r *reader) hand(n int) *reader {
	return &reader{
		sheet: r.sheet, mapping: r.mapping, asOf: r.asOf, orders: r.orders, list: registry.List{Rows: r.list.Rows},
		recall: r.hands[n],
	}
}

// stretches cuts n things into as many stretches as there are hands and does
// them side by side. A panic is the caller's: it is not lost with a goroutine,
// and does not end the program where the caller would have caught it.
func stretches(hands, n int, do func(hand, from, to int)) {
	var (
		all   sync.WaitGroup
		cause = make([]any, hands)
	)
	for hand := range hands - 1 {
		all.Go(func() {
			defer func() { cause[hand] = recover() }()
			do(hand, hand*n/hands, (hand+1)*n/hands)
		})
	}
	func() {
		defer all.Wait()
		do(hands-1, (hands-1)*n/hands, n)
	}()
	for _, c := range cause {
		if c != nil {
			panic(c)
		}
	}
}

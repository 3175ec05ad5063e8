package app

import (
	"context"
	"time"

	"rockledger/internal/fault"
)

// Defaults of this project. 5,000 rows, which are entered at once, take about
// half of readAloneFrom.
const (
	// readAloneFrom is of how many bytes a file is read alone: read, it takes up
	// some ten times as much.
	readAloneFrom = 1 << 20
	// readingWait is how long a long list waits for the one before it.
	readingWait = 20 * time.Second
)

// ReadAlone waits until no other long list is in memory, before one of size
// bytes is read; whoever calls it calls done once the list is of no more use. A
// shorter one need not wait. Where the list before takes longer than 20 s it is
// fault.Busy.
func (s *Service) ReadAlone(ctx context.Context, size int) (done func(), err error) {
	if size < readAloneFrom {
		return func() {}, nil
	}
	ctx, stop := context.WithTimeout(ctx, s.readingWait)
	defer stop()
	select {
	case s.reading <- struct{}{}:
		return func() { <-s.reading }, nil
	case <-ctx.Done():
		return nil, fault.Wrap(fault.Busy, ctx.Err(), "another long list is being read").With("waits_for", "reading")
	}
}

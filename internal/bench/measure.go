package bench

import (
	"context"
	"errors"
	"slices"
	"sync"
	"time"
)

// entry is one operation on one register while it is measured.
type entry struct {
	*subject
	scripts        []string
	calls          int // of a turn; 0: as many as its time allows
	rows           int
	store, pgbench []time.Duration // for each round the mean time of a call
}

// measure times one operation on all registers: in each round each register
// has its turn, through the store and then with pgbench.
func (b *bench) measure(ctx context.Context, op operation, subjects []*subject) ([]Operation, error) {
	entries := make([]*entry, len(subjects))
	for i, s := range subjects {
		e := &entry{subject: s}
		entries[i] = e
		switch {
		case op.alone:
			e.calls = 1
			continue
		case op.lots:
			e.calls = lotCalls(s.demo, b.Rounds)
		}
		var err error
		if e.scripts, err = b.rehearse(ctx, op, s); err != nil {
			return nil, err
		}
	}
	for range b.Rounds {
		for _, e := range entries {
			if err := b.round(ctx, op, e); err != nil {
				return nil, err
			}
		}
	}
	made := make([]Operation, len(entries))
	for i, e := range entries {
		made[i] = newOperation(op, e)
	}
	return made, nil
}

// round is one turn of each.
func (b *bench) round(ctx context.Context, op operation, e *entry) error {
	took, err := b.turn(ctx, op, e)
	if err != nil {
		return err
	}
	e.store = append(e.store, took)
	if b.pgbench == "" || op.alone {
		return nil
	}
	took, err = b.repeat(ctx, e)
	e.pgbench = append(e.pgbench, took)
	return err
}

// turn calls the operation through the store and returns the mean time of a
// call.
func (b *bench) turn(ctx context.Context, op operation, e *entry) (time.Duration, error) {
	if e.calls > 0 {
		t := &tally{op: op, e: e}
		for range e.calls {
			if err := t.once(ctx); err != nil {
				return 0, err
			}
		}
		return t.mean(), nil
	}
	// The statements of a new connection are prepared before it counts.
	if _, err := b.crowd(ctx, op, e, 200*time.Millisecond); err != nil {
		return 0, err
	}
	return b.crowd(ctx, op, e, time.Duration(b.Seconds)*time.Second)
}

// crowd lets all clients call the operation for a while.
func (b *bench) crowd(ctx context.Context, op operation, e *entry, lasts time.Duration) (time.Duration, error) {
	t := &tally{op: op, e: e}
	until := time.Now().Add(lasts)
	errs := make([]error, b.Clients)
	var wg sync.WaitGroup
	for i := range errs {
		wg.Go(func() {
			for errs[i] == nil && time.Now().Before(until) {
				errs[i] = t.once(ctx)
			}
		})
	}
	wg.Wait()
	return t.mean(), errors.Join(errs...)
}

// tally adds up the calls of a turn.
type tally struct {
	op operation
	e  *entry

	mu    sync.Mutex
	calls int
	took  time.Duration
}

// once prepares a call and times it.
func (t *tally) once(ctx context.Context) error {
	t.mu.Lock()
	call := t.op.prepare(t.e.subject)
	t.mu.Unlock()
	began := time.Now()
	rows, err := call(ctx, t.e.subject.store)
	took := time.Since(began)
	t.mu.Lock()
	defer t.mu.Unlock()
	t.calls++
	t.took += took
	t.e.rows = rows
	return err
}

func (t *tally) mean() time.Duration {
	if t.calls == 0 {
		return 0
	}
	return t.took / time.Duration(t.calls)
}

// median is that of the values, of an even number the mean of the middle two;
// 0 of none.
func median(values []time.Duration) time.Duration {
	if len(values) == 0 {
		return 0
	}
	sorted := slices.Sorted(slices.Values(values))
	n := len(sorted)
	return (sorted[(n-1)/2] + sorted[n/2]) / 2
}

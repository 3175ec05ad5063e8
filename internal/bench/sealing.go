package bench

import (
	"context"
	"errors"
	"fmt"
	"sync"
	"time"

	"rockledger/internal/postgres"
)

// Sealing is the rate of many writers with and without the ledger being sealed
// beside them, changes a second, medians of interleaved rounds.
type Sealing struct {
	Writers   int     `json:"writers"`
	EveryMS   int64   `json:"every_ms"` // between two rounds of sealing
	WithoutPS float64 `json:"without_per_s"`
	WithPS    float64 `json:"with_per_s"`
	Lost      float64 `json:"lost"` // share of the rate
	Seals     int     `json:"seals"`
}

const (
	// sealWriters is how many write at once.
	sealWriters = 8
	// sealPause is much shorter than in a service, which seals every 5 s.
	sealPause = 250 * time.Millisecond
)

// sealing has the writers record inspections, by turns without a sealer and with
// one.
func (b *bench) sealing(ctx context.Context, s *subject) (*Sealing, error) {
	pool, err := open(ctx, s.url, sealWriters+1, nil)
	if err != nil {
		return nil, err
	}
	defer pool.Close()
	crew := *b
	crew.Clients = sealWriters
	subject := *s
	subject.pool, subject.store = pool, postgres.New(pool)
	op := b.change()
	r := &Sealing{Writers: sealWriters, EveryMS: sealPause.Milliseconds()}
	var without, with []time.Duration
	if _, err := crew.crowd(ctx, op, &entry{subject: &subject}, 200*time.Millisecond); err != nil {
		return nil, err
	}
	for range max(b.Rounds, 2) {
		took, err := crew.crowd(ctx, op, &entry{subject: &subject}, time.Duration(b.Seconds)*time.Second)
		if err != nil {
			return nil, err
		}
		without = append(without, took)
		stop := sealBeside(ctx, subject.store, b.At)
		took, err = crew.crowd(ctx, op, &entry{subject: &subject}, time.Duration(b.Seconds)*time.Second)
		made, sealErr := stop()
		if err := errors.Join(err, sealErr); err != nil {
			return nil, err
		}
		with = append(with, took)
		r.Seals += made
	}
	r.WithoutPS, r.WithPS = rateOf(median(without)), rateOf(median(with))
	r.Lost = 1 - r.WithPS/r.WithoutPS
	return r, nil
}

// rateOf is the rate of all writers together at a mean time of a call.
func rateOf(call time.Duration) float64 { return sealWriters / call.Seconds() }

// sealBeside seals every group again and again until it is stopped.
func sealBeside(ctx context.Context, store *postgres.Store, at time.Time) (stop func() (int, error)) {
	ctx, cancel := context.WithCancel(ctx)
	var (
		wg   sync.WaitGroup
		made int
		err  error
	)
	wg.Go(func() {
		tick := time.NewTicker(sealPause)
		defer tick.Stop()
		for {
			select {
			case <-ctx.Done():
				return
			case <-tick.C:
			}
			n, sealErr := sealAll(context.WithoutCancel(ctx), store, at)
			if made += n; sealErr != nil {
				err = sealErr
				return
			}
		}
	})
	return func() (int, error) {
		cancel()
		wg.Wait()
		return made, err
	}
}

func sealAll(ctx context.Context, store *postgres.Store, at time.Time) (made int, err error) {
	groups, err := store.Groups(ctx)
	if err != nil {
		return 0, fmt.Errorf("seal: %w", err)
	}
	for _, g := range groups {
		seals, err := store.Seal(ctx, g.ID, at)
		if err != nil {
			return made, fmt.Errorf("seal: %w", err)
		}
		made += len(seals)
	}
	return made, nil
}

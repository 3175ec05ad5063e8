package bench

import (
	"cmp"
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
	// sealRounds is the least: what sealing costs is less than what one turn
	// differs from the next.
	sealRounds = 5
)

// sealTurn is how long each turn lasts: as long as a service leaves between two
// sealings, so that a turn with sealing has one, over what one turn entered or more.
func (b *bench) sealTurn() time.Duration { return cmp.Or(b.SealTurn, postgres.SealEvery) }

// sealing has the writers record inspections, by turns without a sealing and with
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
	r := &Sealing{Writers: sealWriters, EveryMS: b.sealTurn().Milliseconds()}
	var without, with []time.Duration
	if _, err := crew.crowd(ctx, op, &entry{subject: &subject}, 200*time.Millisecond); err != nil {
		return nil, err
	}
	turn := func() (time.Duration, error) { return crew.crowd(ctx, op, &entry{subject: &subject}, b.sealTurn()) }
	for i := range 2 * max(b.Rounds, sealRounds) {
		if i%4 == 0 || i%4 == 3 { // there and back: later turns find a longer ledger
			took, err := turn()
			if err != nil {
				return nil, err
			}
			without = append(without, took)
			continue
		}
		sealed := sealBeside(ctx, subject.store, b.At)
		took, err := turn()
		made, sealErr := sealed()
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

// sealBeside seals every group once, beside what else goes on; sealed waits for
// it.
func sealBeside(ctx context.Context, store *postgres.Store, at time.Time) (sealed func() (int, error)) {
	var (
		wg   sync.WaitGroup
		made int
		err  error
	)
	wg.Go(func() { made, err = sealAll(ctx, store, at) })
	return func() (int, error) {
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

package bench

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"

	"rockledger/internal/postgres"
	"rockledger/migrations"
)

// Sealing is the rate of many writers with and without the ledger being sealed
// beside them, as the service seals it and as often. What sealing costs is less
// than what one turn differs from another, so turns with it and without come in
// pairs and each pair gives a share of the rate that was lost, below 0 where the
// turn with sealing was the faster.
type Sealing struct {
	Writers int   `json:"writers"`
	Pairs   int   `json:"pairs"`
	TurnMS  int64 `json:"turn_ms"`
	EveryMS int64 `json:"every_ms"` // between two rounds of sealing
	// WithoutPS and WithPS are changes a second, medians of the turns.
	WithoutPS float64 `json:"without_per_s"`
	WithPS    float64 `json:"with_per_s"`
	// Lost is the median of the pairs; half of them lie from LostFrom to LostTo.
	Lost     float64 `json:"lost"`
	LostFrom float64 `json:"lost_from"`
	LostTo   float64 `json:"lost_to"`
	Rounds   int     `json:"rounds"` // of sealing, in all turns
	Seals    int     `json:"seals"`  // made in them
	// Busy is the share of the turns' time that went by in rounds of sealing,
	// waiting for a processor and for the disk included.
	Busy float64 `json:"busy"`
}

const (
	// sealWriters is how many write at once.
	sealWriters = 8
	// sealPairs is how many pairs of turns there are at least.
	sealPairs = 8
	// sealsOfTurn is how many rounds of sealing fall into a turn.
	sealsOfTurn = 3
)

// sealEvery is the time between two rounds of sealing.
func (b *bench) sealEvery() time.Duration {
	if b.SealEvery > 0 {
		return b.SealEvery
	}
	return postgres.SealEvery
}

// sealing has the writers record inspections, by turns without sealing and with
// it, there and back: later turns find a longer ledger.
func (b *bench) sealing(ctx context.Context, s *subject) (*Sealing, error) {
	w, err := b.newWriters(ctx, s)
	if err != nil {
		return nil, err
	}
	defer w.close()
	r := &Sealing{
		Writers: sealWriters, Pairs: max(b.Rounds, sealPairs), EveryMS: w.every.Milliseconds(), TurnMS: w.lasts.Milliseconds(),
	}
	var without, with, lost []float64
	for pair := range r.Pairs {
		var rate [2]float64 // without sealing, and with it
		for k := range rate {
			kind := (k + pair) % 2
			if rate[kind], err = w.turn(ctx, kind == 1); err != nil {
				return nil, err
			}
		}
		without, with, lost = append(without, rate[0]), append(with, rate[1]), append(lost, 1-rate[1]/rate[0])
	}
	r.WithoutPS, r.WithPS, r.Lost = quantile(without, 0.5), quantile(with, 0.5), quantile(lost, 0.5)
	r.LostFrom, r.LostTo = quantile(lost, 0.25), quantile(lost, 0.75)
	r.Rounds, r.Seals, r.Busy = w.rounds, w.seals, w.sealing.Seconds()/(float64(r.Pairs)*w.lasts.Seconds())
	return r, nil
}

// writers are clients that write for a turn, and who seals beside them.
type writers struct {
	*bench
	subject      subject
	every, lasts time.Duration

	rounds, seals int
	sealing       time.Duration
}

// newWriters has the ledger as long and as well known to the planner as it is
// where people work: nothing unsealed, the tables analysed, and connections that
// plan after it.
func (b *bench) newWriters(ctx context.Context, s *subject) (*writers, error) {
	crew := *b
	crew.Clients = sealWriters
	w := &writers{bench: &crew, subject: *s, every: b.sealEvery(), lasts: sealsOfTurn * b.sealEvery()}
	if _, err := w.Seal(ctx, s.store); err != nil {
		return nil, fmt.Errorf("seal what there is: %w", err)
	}
	if err := b.vacuum(ctx, s); err != nil {
		return nil, err
	}
	pool, err := open(ctx, s.url, sealWriters+1, nil)
	if err != nil {
		return nil, err
	}
	w.subject.pool, w.subject.store = pool, postgres.New(pool)
	if _, err := w.crowd(ctx, b.change(), &entry{subject: &w.subject}, 200*time.Millisecond); err != nil {
		pool.Close()
		return nil, err
	}
	return w, nil
}

func (w *writers) close() { w.subject.pool.Close() }

// vacuum does what autovacuum would have done since the register was filled.
func (b *bench) vacuum(ctx context.Context, s *subject) error {
	conn, err := pgx.Connect(ctx, b.server.URL(migrations.Owner, s.database()))
	if err != nil {
		return fmt.Errorf("connect as the owner: %w", err)
	}
	defer func() { _ = conn.Close(ctx) }()
	if _, err := conn.Exec(ctx, "VACUUM ANALYSE"); err != nil {
		return fmt.Errorf("analyse: %w", err)
	}
	return nil
}

// turn returns the rate of all writers together, changes a second. Both kinds
// begin with nothing to seal, so that neither seals what the other entered.
func (w *writers) turn(ctx context.Context, sealed bool) (float64, error) {
	if _, err := w.Seal(ctx, w.subject.store); err != nil {
		return 0, fmt.Errorf("seal: %w", err)
	}
	beside, stop := context.WithCancel(ctx)
	defer stop()
	var (
		sealer  sync.WaitGroup
		sealErr error
	)
	if sealed {
		sealer.Go(func() { sealErr = w.keepSealed(beside) })
	}
	call, err := w.crowd(ctx, w.change(), &entry{subject: &w.subject}, w.lasts)
	stop()
	sealer.Wait()
	if err := errors.Join(err, sealErr); err != nil {
		return 0, err
	}
	return sealWriters / call.Seconds(), nil
}

// keepSealed seals until ctx ends, as serve does but for its first round, which
// comes after half the time between two: so that as many rounds fall into a turn
// as there are such times in it. A round that has begun is finished.
func (w *writers) keepSealed(ctx context.Context) error {
	next := time.NewTimer(w.every / 2)
	defer next.Stop()
	for {
		select {
		case <-ctx.Done():
			return nil
		case <-next.C:
		}
		next.Reset(w.every)
		began := time.Now()
		made, err := w.Seal(context.WithoutCancel(ctx), w.subject.store)
		if err != nil {
			return fmt.Errorf("seal: %w", err)
		}
		w.sealing += time.Since(began)
		w.seals += made
		w.rounds++
	}
}

// quantile is the value below which the share p of the values lies, between two
// values in a straight line; NaN of none.
func quantile(values []float64, p float64) float64 {
	if len(values) == 0 {
		return math.NaN()
	}
	sorted := slices.Sorted(slices.Values(values))
	at := p * float64(len(sorted)-1)
	low := int(at)
	high := min(low+1, len(sorted)-1)
	return sorted[low] + (at-float64(low))*(sorted[high]-sorted[low])
}

// Package bench measures what the store does at size: it fills a private
// throw-away database with synthetic registers and times reads, a change and
// re-assessment there, as the application's role under row security. Beside
// each it times pgbench with the very statements that the store sent, in the
// same run and by turns, so that the ratios mean something where the times do
// not. It does not measure HTTP, pages or encoding.
package bench

import (
	"context"
	"errors"
	"fmt"
	"io"
	"runtime"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/demo"
	"rockledger/internal/pglocal"
	"rockledger/internal/postgres"
	"rockledger/migrations"
)

// Options say what Run measures, and how what it measures is decided.
type Options struct {
	Anchors []int // sizes of the registers, each 2,000 or more
	Clients int   // how many work at a time, 1 or more
	Rounds  int   // medians are of so many rounds, 1 or more
	Seconds int   // how long each turn of a read or change lasts, 1 or more
	// SealEvery is the time between two rounds of sealing beside writers, whose
	// turns last three of them. Zero: postgres.SealEvery.
	SealEvery time.Duration

	At       time.Time // the instant the registers are invented for
	Progress io.Writer // gets a line for each step

	Rules  []byte // house rules of every group, as JSON
	Engine int    // version of the computation behind Inspect and Reassess
	// Inspect records one inspection of an anchor, made up anew at each call,
	// with the new assessment, in one transaction.
	Inspect func(ctx context.Context, store *postgres.Store, group, anchor uuid.UUID) error
	// Recall issues a notice like the probe's and assesses anew up to HitLot of
	// the anchors it hits, in lots; it returns how many.
	Recall func(ctx context.Context, store *postgres.Store, p demo.Probe) (int, error)
	// Seal seals the ledger of every group, as the service does, and returns how
	// many seals that made.
	Seal func(ctx context.Context, store *postgres.Store) (int, error)
	// Reassess stores fresh assessments of some anchors, in one transaction.
	Reassess func(ctx context.Context, store *postgres.Store, group uuid.UUID, anchors []uuid.UUID) error
}

// HitLot is how many hits of a notice Recall assesses anew at most.
const HitLot = 5000

// fewest is the smallest register that has something to share out.
const fewest = 2000

func (o *Options) check() error {
	for _, n := range o.Anchors {
		if n < fewest {
			return fmt.Errorf("measure %d anchors: want %d or more", n, fewest)
		}
	}
	if len(o.Anchors) == 0 || o.Clients < 1 || o.Rounds < 1 || o.Seconds < 1 {
		return fmt.Errorf("measure %v anchors with %d clients, %d rounds of %d s: want one size or more, and 1 or more of the others",
			o.Anchors, o.Clients, o.Rounds, o.Seconds)
	}
	return nil
}

// settings are those of a server that is used in earnest, but for autovacuum,
// which would come and go between the rounds.
var settings = []string{
	"shared_buffers=1GB", "fsync=on", "full_page_writes=on", "synchronous_commit=on",
	"max_wal_size=8GB", "maintenance_work_mem=256MB",
}

// mayTrust lets the owner fill tables without looking every reference up: the
// registers are sound by construction.
const mayTrust = `GRANT SET ON PARAMETER session_replication_role TO ` + migrations.Owner

// Run fills the registers, measures and returns the figures. Where pgbench is
// missing its figures are left out.
func Run(ctx context.Context, o Options) (r *Result, err error) {
	if err := o.check(); err != nil {
		return nil, err
	}
	server, err := pglocal.Start(ctx, pglocal.Options{Roles: migrations.Roles + ";\n" + mayTrust, Settings: settings})
	if err != nil {
		return nil, err
	}
	defer func() { err = errors.Join(err, server.Stop()) }()
	b := &bench{Options: o, server: server, pgbench: server.Tool("pgbench")}
	r = &Result{
		Go: runtime.Version(), CPUs: runtime.NumCPU(), Clients: o.Clients, Rounds: o.Rounds, Seconds: o.Seconds, Pgbench: b.pgbench != "",
	}
	var subjects []*subject
	defer func() {
		for _, s := range subjects {
			s.close()
		}
	}()
	for _, n := range o.Anchors {
		s, err := b.fill(ctx, n)
		if err != nil {
			return nil, fmt.Errorf("fill a register of %d anchors: %w", n, err)
		}
		subjects = append(subjects, s)
	}
	if err := subjects[0].pool.QueryRow(ctx, "SHOW server_version").Scan(&r.PostgreSQL); err != nil {
		return nil, fmt.Errorf("ask for the server's version: %w", err)
	}
	return r, b.measureAll(ctx, r, subjects)
}

// bench is one run.
type bench struct {
	Options
	server  *pglocal.Server
	pgbench string // its path; empty: there is none
}

func (b *bench) say(format string, args ...any) {
	_, _ = fmt.Fprintf(b.Progress, format+"\n", args...) // it is only for people who wait
}

// measureAll measures each operation on all registers by turns.
func (b *bench) measureAll(ctx context.Context, r *Result, subjects []*subject) error {
	for _, s := range subjects {
		r.Registers = append(r.Registers, s.figures)
	}
	for _, op := range b.operations() {
		b.say("measuring: %s", op.what)
		made, err := b.measure(ctx, op, subjects)
		if err != nil {
			return fmt.Errorf("measure %s: %w", op.name, err)
		}
		for i, m := range made {
			r.Registers[i].Operations = append(r.Registers[i].Operations, m)
		}
	}
	for i, s := range subjects {
		b.say("measuring: writers beside the sealing of the ledger")
		made, err := b.sealing(ctx, s)
		if err != nil {
			return fmt.Errorf("measure sealing: %w", err)
		}
		r.Registers[i].Sealing = made
	}
	r.compare()
	return nil
}

package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"log/slog"
	"net"
	"os"
	"runtime/debug"
	"sync"
	"time"

	"rockledger/internal/config"
	"rockledger/internal/postgres"
	"rockledger/internal/server"
	"rockledger/internal/web"
	"rockledger/openapi"
)

// memoryLimit is how much memory the service, or the command that takes over a
// list, tries to stay within while it reads a long one, unless GOMEMLIMIT says otherwise; a default of this project.
const memoryLimit = 192 << 20

// limitMemory lets memory be collected more often where there is little of it
// left. It limits nothing: a longer list takes more.
func limitMemory() {
	if os.Getenv("GOMEMLIMIT") == "" {
		debug.SetMemoryLimit(memoryLimit)
	}
}

func runServe(ctx context.Context, c config.Serve, stdout, stderr io.Writer) (err error) {
	r, err := openRegister(ctx, c.DatabaseURL)
	if err != nil {
		return err
	}
	defer r.pool.Close()
	closed, err := r.keepPicturesIn(c.Pictures)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, closed()) }()
	return serve(ctx, r, c.Addr, c.RefreshEvery, stderr, func(addr net.Addr) error {
		_, err := fmt.Fprintf(stdout, "rockledger serves on http://%s\n", addr)
		return err
	})
}

// serve answers until ctx ends, entering long lists, keeping assessments fresh
// and sealing the ledger beside it, and drains before it returns. ready is
// called once the address is open.
func serve(ctx context.Context, r *register, addr string, every time.Duration, stderr io.Writer, ready func(net.Addr) error) error {
	limitMemory()
	log := slog.New(slog.NewTextHandler(stderr, &slog.HandlerOptions{Level: slog.LevelInfo}))
	pages := web.New(web.Options{Service: r.service, Accounts: r.store, Sessions: postgres.NewWebSessions(r.pool), Log: log})
	e := server.New(server.Options{Service: r.service, Tokens: r.store, Pages: pages, Ready: r.pool.Ping, Spec: openapi.Spec, Log: log})

	ctx, stop := context.WithCancel(ctx)
	var beside sync.WaitGroup
	beside.Go(func() { keepFresh(ctx, r, every, log) })
	beside.Go(func() { keepSealed(ctx, r, log) })
	err := server.Run(ctx, e, addr, ready)
	stop()
	beside.Wait()
	return err
}

// keepSealed seals what was entered, every few seconds.
func keepSealed(ctx context.Context, r *register, log *slog.Logger) {
	tick := time.NewTicker(postgres.SealEvery)
	defer tick.Stop()
	for {
		if _, err := r.service.SealLedgers(ctx); err != nil && ctx.Err() == nil {
			log.ErrorContext(ctx, "seal the ledger", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
	}
}

// keepFresh enters long lists that wait and re-assesses what has become stale,
// at once, then every so often and when a list was handed in.
func keepFresh(ctx context.Context, r *register, every time.Duration, log *slog.Logger) {
	tick := time.NewTicker(every)
	defer tick.Stop()
	for {
		if err := r.service.RunImports(ctx); err != nil && ctx.Err() == nil {
			log.ErrorContext(ctx, "enter long lists", "error", err)
		}
		if err := r.service.Refresh(ctx); err != nil && ctx.Err() == nil {
			log.ErrorContext(ctx, "refresh assessments", "error", err)
		}
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		case <-r.service.ImportsWaiting():
		}
	}
}

package main

import (
	"context"
	"fmt"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/app"
	"rockledger/internal/postgres"
)

// register is an open register: the pool, the store on it and the use cases.
type register struct {
	pool    *pgxpool.Pool
	store   *postgres.Store
	service *app.Service
}

// openRegister connects as the application and refuses a role that row
// security does not bind, and a schema it does not know.
func openRegister(ctx context.Context, url string) (*register, error) {
	pool, err := connect(ctx, url)
	if err != nil {
		return nil, err
	}
	if err := checked(ctx, pool); err != nil {
		pool.Close()
		return nil, err
	}
	store := postgres.New(pool)
	return &register{pool: pool, store: store, service: app.New(store, time.Now)}, nil
}

func checked(ctx context.Context, pool *pgxpool.Pool) error {
	if err := postgres.CheckRole(ctx, pool); err != nil {
		return err
	}
	return postgres.CheckSchema(ctx, pool)
}

func connect(ctx context.Context, url string) (*pgxpool.Pool, error) {
	pool, err := pgxpool.New(ctx, url)
	if err != nil {
		return nil, fmt.Errorf("read the database URL: %w", err)
	}
	if err := pool.Ping(ctx); err != nil {
		pool.Close()
		return nil, fmt.Errorf("reach the database: %w", err)
	}
	return pool, nil
}

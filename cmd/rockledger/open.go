package main

import (
	"context"
	"time"

	"github.com/jackc/pgx/v5/pgxpool"

	"rockledger/internal/app"
	"rockledger/internal/config"
	"rockledger/internal/folder"
	"rockledger/internal/postgres"
)

// register is an open register: the pool, the store on it and the use cases.
type register struct {
	pool    *pgxpool.Pool
	store   *postgres.Store
	service *app.Service
}

// keepPicturesIn opens the folder that pictures are kept in, if the setting
// asks for one, and returns what closes it.
func (r *register) keepPicturesIn(c config.Pictures) (stop func() error, err error) {
	if c.Pictures != "folder" {
		return func() error { return nil }, nil
	}
	f, err := folder.Open(c.PicturesDir)
	if err != nil {
		return nil, err
	}
	r.service = app.New(r.store, time.Now, app.PicturesIn(f))
	return f.Close, nil
}

// openRegister connects as the application and refuses a role that row
// security does not bind, and a schema it does not know.
func openRegister(ctx context.Context, url string) (*register, error) {
	pool, err := postgres.Connect(ctx, url)
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

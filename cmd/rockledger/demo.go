package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"net"
	"time"

	"rockledger/internal/config"
	"rockledger/internal/demo"
	"rockledger/internal/pglocal"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/migrations"
)

// demoGroup is the invented group.
var demoGroup = registry.Group{Slug: "demo", Name: "Skerrow Anchor Group (invented)", TimeZone: "Europe/London"}

// demoPage is what the demo prints once it is ready.
type demoPage struct {
	Address     string               `json:"address"`
	DatabaseURL string               `json:"database_url"`
	Group       string               `json:"group"`
	Tokens      map[string]string    `json:"tokens"`
	Logins      map[string]demoLogin `json:"logins"`
	Caution     string               `json:"caution"`
}

type demoLogin struct {
	Email    string `json:"email"`
	Password string `json:"password"`
}

func runDemo(ctx context.Context, c config.Demo, stdout, stderr io.Writer) (err error) {
	appURL, adminURL, stop, err := demoDatabase(ctx, c, stderr)
	if err != nil {
		return err
	}
	defer func() { err = errors.Join(err, stop()) }()
	if err := migrations.Up(ctx, adminURL); err != nil {
		return err
	}
	if err := shipAll(ctx, adminURL); err != nil {
		return err
	}
	page, r, err := prepareDemo(ctx, appURL, adminURL, stderr)
	if err != nil {
		return err
	}
	defer r.pool.Close()
	return serve(ctx, r, c.Addr, time.Minute, stderr, func(addr net.Addr) error {
		page.Address = "http://" + addr.String()
		return page.print(stdout, c.Print)
	})
}

// demoDatabase starts the private database, or takes the one named by both
// URLs and says that it writes there.
func demoDatabase(ctx context.Context, c config.Demo, stderr io.Writer) (appURL, adminURL string, stop func() error, err error) {
	if (c.DatabaseURL == "") != (c.AdminURL == "") {
		return "", "", nil, errors.New("demo wants both --database-url and --admin-url, or neither: give the other one too, or leave both for a private database")
	}
	if c.DatabaseURL != "" {
		_, err := fmt.Fprintln(stderr, "demo writes its invented group into the database of --admin-url")
		return c.DatabaseURL, c.AdminURL, func() error { return nil }, err
	}
	dir := c.Data
	if dir == "" {
		if dir, err = pglocal.DefaultDataDir(); err != nil {
			return "", "", nil, err
		}
	}
	s, err := pglocal.Start(ctx, pglocal.Options{DataDir: dir, Roles: migrations.Roles, Database: "rockledger", Owner: "rockledger_owner"})
	if err != nil {
		return "", "", nil, err
	}
	return s.URL("rockledger_app", "rockledger"), s.URL("rockledger_owner", "rockledger"), s.Stop, nil
}

// prepareDemo fills an empty register with the invented scenario and hands out
// new keys.
func prepareDemo(ctx context.Context, appURL, adminURL string, stderr io.Writer) (*demoPage, *register, error) {
	r, err := openRegister(ctx, appURL)
	if err != nil {
		return nil, nil, err
	}
	page, err := fillDemo(ctx, r, adminURL, stderr)
	if err != nil {
		r.pool.Close()
		return nil, nil, err
	}
	page.DatabaseURL = appURL
	return page, r, nil
}

func fillDemo(ctx context.Context, r *register, adminURL string, stderr io.Writer) (*demoPage, error) {
	pool, err := postgres.Connect(ctx, adminURL)
	if err != nil {
		return nil, err
	}
	defer pool.Close()
	admin := postgres.NewAdmin(pool).As(systemUser())
	group, err := demoGroupIn(ctx, r, admin)
	if err != nil {
		return nil, err
	}
	who := actorOf(group)
	sites, err := r.service.Sites(ctx, who, registry.Page{Limit: 1})
	if err != nil {
		return nil, err
	}
	if len(sites) == 0 {
		if _, err := fmt.Fprintln(stderr, "filling the empty register with an invented scenario"); err != nil {
			return nil, err
		}
		if err := demo.Fill(ctx, r.service, who, time.Now()); err != nil {
			return nil, err
		}
	}
	return demoKeys(ctx, admin, group)
}

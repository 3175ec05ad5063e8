package main

import (
	"context"
	"fmt"
	"io"

	"rockledger/internal/config"
	"rockledger/migrations"
)

func runMigrate(ctx context.Context, c config.Migrate, stdout io.Writer) error {
	switch c.Direction {
	case "up":
		if err := migrations.Up(ctx, c.AdminURL); err != nil {
			return err
		}
		if err := shipAll(ctx, c.AdminURL); err != nil {
			return err
		}
	case "down":
		if err := migrations.Down(ctx, c.AdminURL, c.Steps); err != nil {
			return err
		}
	}
	return printStatus(ctx, c.AdminURL, stdout)
}

func printStatus(ctx context.Context, url string, stdout io.Writer) error {
	at, dirty, err := migrations.Version(ctx, url)
	if err != nil {
		return err
	}
	latest, err := migrations.Latest()
	if err != nil {
		return err
	}
	state := "up to date"
	switch {
	case dirty:
		state = "a migration broke off half-way: restore a backup or mend it by hand"
	case at < latest:
		state = "run: rockledger migrate up"
	case at > latest:
		state = "newer than this program: install the newer rockledger"
	}
	_, err = fmt.Fprintf(stdout, "schema %d, this program knows %d: %s\n", at, latest, state)
	return err
}

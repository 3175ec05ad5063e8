package main

import (
	"context"
	"fmt"
	"io"

	"github.com/google/uuid"

	"rockledger/internal/config"
	"rockledger/internal/houserules"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
)

func runGroupAdd(ctx context.Context, c config.GroupAdd, stdout io.Writer) error {
	pool, err := postgres.Connect(ctx, c.AdminURL)
	if err != nil {
		return err
	}
	defer pool.Close()
	group := registry.Group{Slug: c.Slug, Name: c.Name, TimeZone: c.TimeZone}
	if group.Name == "" {
		group.Name = c.Slug
	}
	if err := addGroup(ctx, postgres.NewAdmin(pool).As(systemUser()), &group); err != nil {
		return err
	}
	_, err = fmt.Fprintf(stdout, "group %s added, with this project's default house rules and generic products\n", group.Slug)
	return err
}

// addGroup gives the group its id, the default house rules and the products
// that come with the register.
func addGroup(ctx context.Context, admin *postgres.Admin, group *registry.Group) error {
	if err := group.Validate(); err != nil {
		return err
	}
	id, err := uuid.NewV7()
	if err != nil {
		return err
	}
	group.ID = id
	rules, err := houserules.Default().JSON()
	if err != nil {
		return err
	}
	if err := admin.AddGroup(ctx, *group, rules); err != nil {
		return fmt.Errorf("group %s: %w", group.Slug, err)
	}
	return ship(ctx, admin, *group)
}

// ship copies the products that come with the register into a group that does
// not have them all yet.
func ship(ctx context.Context, admin *postgres.Admin, group registry.Group) error {
	if _, err := admin.Ship(ctx, group.ID, registry.ShippedProducts()); err != nil {
		return fmt.Errorf("group %s: %w", group.Slug, err)
	}
	return nil
}

// shipAll does so for every group there is, as the owner of the tables.
func shipAll(ctx context.Context, url string) error {
	pool, err := postgres.Connect(ctx, url)
	if err != nil {
		return err
	}
	defer pool.Close()
	groups, err := postgres.New(pool).Groups(ctx)
	if err != nil {
		return err
	}
	admin := postgres.NewAdmin(pool).As(systemUser())
	for _, g := range groups {
		if err := ship(ctx, admin, g); err != nil {
			return err
		}
	}
	return nil
}

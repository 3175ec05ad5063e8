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
	pool, err := connect(ctx, c.AdminURL)
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
	_, err = fmt.Fprintf(stdout, "group %s added, with this project's default house rules\n", group.Slug)
	return err
}

// addGroup gives the group its id and the default house rules.
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
	return nil
}

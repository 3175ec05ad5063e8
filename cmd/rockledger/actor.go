package main

import (
	"context"
	"fmt"
	"os/user"

	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// commandLine is the actor behind a command: whoever may log in to the
// database may do everything in the group, under the system user's name.
func commandLine(ctx context.Context, store app.Store, slug string) (registry.Actor, error) {
	group, err := groupOf(ctx, store, slug)
	return actorOf(group), err
}

// groupOf finds the group that a command names.
func groupOf(ctx context.Context, store app.Store, slug string) (registry.Group, error) {
	group, err := store.GroupBySlug(ctx, slug)
	switch {
	case fault.KindOf(err) == fault.NotFound:
		return group, fault.New(fault.NotFound, "there is no group %q here: check how it is spelt, or add it with rockledger group add %s", slug, slug)
	case err != nil:
		return group, fmt.Errorf("group %s: %w", slug, err)
	}
	return group, nil
}

func actorOf(group registry.Group) registry.Actor {
	return registry.Actor{
		GroupID: group.ID, Group: group.Slug, TimeZone: group.TimeZone,
		Role: registry.RoleOwner, Who: systemUser(),
	}
}

// systemUser is who the ledger names for a command.
func systemUser() string {
	if u, err := user.Current(); err == nil {
		return "command line: " + u.Username
	}
	return "command line: not known"
}

package main

import (
	"context"
	"os/user"

	"rockledger/internal/app"
	"rockledger/internal/registry"
)

// commandLine is the actor behind a command: whoever may log in to the
// database may do everything in the group, under the system user's name.
func commandLine(ctx context.Context, store app.Store, slug string) (registry.Actor, error) {
	group, err := store.GroupBySlug(ctx, slug)
	if err != nil {
		return registry.Actor{}, err
	}
	return actorOf(group), nil
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

package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/auth"
	"rockledger/internal/config"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
)

func runTokenAdd(ctx context.Context, c config.TokenAdd, stdout io.Writer) error {
	pool, err := postgres.Connect(ctx, c.AdminURL)
	if err != nil {
		return err
	}
	defer pool.Close()
	admin := postgres.NewAdmin(pool).As(systemUser())
	group, err := groupOf(ctx, postgres.New(pool), c.Group)
	if err != nil {
		return err
	}
	plain, err := addToken(ctx, admin, group, registry.Role(c.Role), c.Name)
	if err != nil {
		return err
	}
	_, err = fmt.Fprintf(stdout, "%s\nThis %s token for %s is shown once; only its hash is kept.\n", plain, c.Role, c.Group)
	return err
}

// addToken makes a token and returns its plain text, which is kept nowhere.
func addToken(ctx context.Context, admin *postgres.Admin, group registry.Group, role registry.Role, name string) (string, error) {
	plain, hash := auth.NewToken()
	id, err := uuid.NewV7()
	if err != nil {
		return "", err
	}
	return plain, admin.AddToken(ctx, registry.Token{
		ID: id, GroupID: group.ID, Name: name, Role: role, Hash: hash, CreatedAt: time.Now(),
	})
}

package main

import (
	"context"
	"fmt"
	"io"

	"github.com/google/uuid"

	"rockledger/internal/config"
	"rockledger/internal/wording"
)

func runPersonErase(ctx context.Context, c config.PersonErase, stdout io.Writer) error {
	id, err := uuid.Parse(c.ID)
	if err != nil {
		return fmt.Errorf("read the person's id %q: %w", c.ID, err)
	}
	r, err := openRegister(ctx, c.DatabaseURL)
	if err != nil {
		return err
	}
	defer r.pool.Close()
	who, err := commandLine(ctx, r.store, c.Group)
	if err != nil {
		return err
	}
	if err := r.service.ErasePerson(ctx, who, id, c.Reason); err != nil {
		return err
	}
	_, err = fmt.Fprintln(stdout, wording.PersonErased)
	return err
}

package main

import (
	"context"
	"fmt"
	"io"

	"rockledger/internal/config"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func runPersonErase(ctx context.Context, c config.PersonErase, stdout io.Writer) error {
	id, err := idOf("<id>", c.ID)
	if err != nil {
		return err
	}
	return inGroup(ctx, c.Database, c.Group, func(r *register, who registry.Actor) error {
		if err := r.service.ErasePerson(ctx, who, id, c.Reason); err != nil {
			return err
		}
		_, err := fmt.Fprintln(stdout, wording.PersonErased)
		return err
	})
}

func runLandownerErase(ctx context.Context, c config.LandownerErase, stdout io.Writer) error {
	id, err := idOf("<id>", c.ID)
	if err != nil {
		return err
	}
	return inGroup(ctx, c.Database, c.Group, func(r *register, who registry.Actor) error {
		done, err := r.service.EraseLandowner(ctx, who, id, c.Reason)
		if err != nil {
			return err
		}
		_, err = fmt.Fprintln(stdout, wording.LandownerErased(done))
		return err
	})
}

package main

import (
	"context"
	"fmt"
	"io"

	"rockledger/internal/config"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// undoImport takes an import back and says what became of it.
func undoImport(ctx context.Context, c config.Import, r *register, who registry.Actor, stdout io.Writer) error {
	id, err := idOf("--undo", c.Undo)
	if err != nil {
		return err
	}
	done, err := r.service.UndoImport(ctx, who, id)
	if err != nil {
		return err
	}
	if c.Format == "json" {
		return printJSON(stdout, httpapi.UndoneDocument(done))
	}
	_, err = fmt.Fprintf(stdout, "%s\n\n%s\n", wording.ImportUndone(done.FileName, done.Anchors, done.Records, done.Places), wording.Caution)
	if err != nil {
		return fmt.Errorf("write what was undone: %w", err)
	}
	return nil
}

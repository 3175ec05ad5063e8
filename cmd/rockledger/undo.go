package main

import (
	"context"
	"fmt"
	"io"

	"github.com/google/uuid"

	"rockledger/internal/config"
	"rockledger/internal/fault"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// undoing is where an import is taken back, for whom, and who is told.
type undoing struct {
	*register
	who            registry.Actor
	stdout, stderr io.Writer
}

// undoImport takes an import back and says what became of it. A long one is
// undone here, unless a service comes first; broken off, it still waits to be.
func undoImport(ctx context.Context, c config.Import, u undoing) error {
	id, err := uuid.Parse(c.Undo)
	if err != nil {
		return fmt.Errorf("read the import's id %q: %w", c.Undo, err)
	}
	done, waits, err := u.service.UndoImport(ctx, u.who, id)
	if err == nil && waits != nil {
		done, err = u.undoLong(ctx, id)
	}
	if err != nil {
		return err
	}
	if c.Format == "json" {
		return printJSON(u.stdout, httpapi.UndoneDocument(done))
	}
	_, err = fmt.Fprintf(u.stdout, "%s\n\n%s\n", wording.ImportUndone(done.FileName, done.Anchors, done.Records, done.Places), wording.Caution)
	if err != nil {
		return fmt.Errorf("write what was undone: %w", err)
	}
	return nil
}

// undoLong undoes a long list that waits for that.
func (u *undoing) undoLong(ctx context.Context, id uuid.UUID) (report.Undone, error) {
	fmt.Fprintln(u.stderr, wording.ImportUndoWaits) //nolint:errcheck // nobody watches
	state, err := u.service.RunImport(ctx, u.who, id, nil)
	switch {
	case err != nil:
		return report.Undone{}, err
	case state.InTheWay != nil:
		return report.Undone{}, fmt.Errorf("undo import %v: %w", id, state.InTheWay.Err())
	case state.Undone == nil:
		return report.Undone{}, fault.New(fault.Busy, "import %v is %s, not undone", id, state.State)
	}
	return *state.Undone, nil
}

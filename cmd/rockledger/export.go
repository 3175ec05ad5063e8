package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

func runExport(ctx context.Context, c config.Export, stdout, stderr io.Writer) error {
	ask, err := listAsked(c)
	if err != nil {
		return err
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
	var added []string
	err = writeWhole(c.Out, stdout, func(w io.Writer) error {
		list := exchange.NewListWriter(w, r.service.AsOf(who))
		err := r.service.ExportAnchorList(ctx, who, ask, list)
		added = list.Added()
		return err
	})
	if err == nil && len(added) > 0 {
		fmt.Fprintln(stderr, wording.ColumnsAdded(added)) //nolint:errcheck // nobody watches
	}
	return err
}

func listAsked(c config.Export) (registry.ListAsk, error) {
	if c.Import == "" {
		return registry.ListAsk{Own: c.Own}, nil
	}
	id, err := idOf("--import", c.Import)
	if err != nil {
		return registry.ListAsk{}, err
	}
	return registry.ListAsk{Own: true, ImportID: &id}, nil
}

// writeWhole writes to stdout or, if a name is given, to a file that takes its
// place only once it is whole.
func writeWhole(name string, stdout io.Writer, write func(io.Writer) error) error {
	if name == "" {
		return buffered(stdout, write)
	}
	f, err := os.CreateTemp(filepath.Dir(name), "."+filepath.Base(name)+".*")
	if err != nil {
		return fmt.Errorf("write %s: %w", name, err)
	}
	err = errors.Join(buffered(f, write), f.Close())
	if err == nil {
		err = os.Rename(f.Name(), name)
	}
	if err != nil {
		return fmt.Errorf("write %s: %w", name, errors.Join(err, os.Remove(f.Name())))
	}
	return nil
}

func buffered(w io.Writer, write func(io.Writer) error) error {
	out := bufio.NewWriter(w)
	if err := write(out); err != nil {
		return err
	}
	return out.Flush()
}

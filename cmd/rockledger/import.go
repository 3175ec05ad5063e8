package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"rockledger/internal/app"
	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

func runImport(ctx context.Context, c config.Import, stdout, stderr io.Writer) error {
	if (c.File == "") == (c.Undo == "") {
		return errors.New("give either a list to take over or --undo with an import's id")
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
	if c.Undo != "" {
		return undoImport(ctx, c, r, who, stdout)
	}
	list, err := readList(c, r, who)
	if err != nil {
		return err
	}
	done, err := enterList(ctx, c, r, who, list, stderr)
	if err != nil {
		return err
	}
	return printImport(stdout, c.Format, done)
}

// enterList enters a list, or tries to, a long one piece by piece.
func enterList(ctx context.Context, c config.Import, r *register, who registry.Actor, list registry.List, stderr io.Writer) (report.Import, error) {
	if len(list.Rows) > app.MostAtOnce && !c.DryRun {
		return importLong(ctx, r, who, list, stderr)
	}
	return r.service.Import(ctx, who, list, c.DryRun)
}

func readList(c config.Import, r *register, who registry.Actor) (registry.List, error) {
	data, err := os.ReadFile(c.File)
	if err != nil {
		return registry.List{}, fmt.Errorf("read the list: %w", err)
	}
	var mapping exchange.Mapping
	if c.Columns != "" {
		text, err := os.ReadFile(c.Columns)
		if err != nil {
			return registry.List{}, fmt.Errorf("read the mapping: %w", err)
		}
		if mapping, err = exchange.ParseMapping(text); err != nil {
			return registry.List{}, err
		}
	}
	return exchange.ReadAnchorList(filepath.Base(c.File), data, mapping, r.service.AsOf(who))
}

func printImport(stdout io.Writer, format string, done report.Import) error {
	if format == "json" {
		return printJSON(stdout, httpapi.ImportDocument(done))
	}
	return exchange.WriteImportText(stdout, done)
}

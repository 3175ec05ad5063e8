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
	limitMemory()
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
		return undoImport(ctx, c, undoing{r, who, stdout, stderr})
	}
	done, state, err := takeList(ctx, c, r, who)
	if err == nil && state != nil {
		done, err = importLong(ctx, r, who, *state, stderr)
	}
	if err != nil {
		return err
	}
	return printImport(stdout, c.Format, done)
}

// takeList reads a list and enters it, or tries to. A long one it hands in for that
// and says how far it is; nothing of it is in memory any more afterwards.
func takeList(ctx context.Context, c config.Import, r *register, who registry.Actor) (report.Import, *report.ImportState, error) {
	list, err := readList(c, r, who)
	if err != nil {
		return report.Import{}, nil, err
	}
	if len(list.Rows) > app.MostAtOnce {
		state, err := handIn(ctx, c, r, who, list)
		return report.Import{}, &state, err
	}
	done, err := r.service.Import(ctx, who, list, c.DryRun)
	return done, nil, err
}

func handIn(ctx context.Context, c config.Import, r *register, who registry.Actor, list registry.List) (report.ImportState, error) {
	if c.DryRun {
		return r.service.HandInTrial(ctx, who, list, false)
	}
	return r.service.HandIn(ctx, who, list)
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

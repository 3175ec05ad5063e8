package main

import (
	"context"
	"encoding/json"
	"io"

	"rockledger/internal/calendar"
	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
)

func runReport(ctx context.Context, c config.Report, stdout io.Writer) error {
	var asOf calendar.Date
	if c.AsOf != "" {
		day, err := calendar.ParseDate(c.AsOf)
		if err != nil {
			return err
		}
		asOf = day
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
	if c.Name == "overdue" {
		return printOverdue(ctx, r, who, asOf, c.Format, stdout)
	}
	return printSuspect(ctx, r, who, asOf, c.Format, stdout)
}

func printOverdue(ctx context.Context, r *register, who registry.Actor, asOf calendar.Date, format string, stdout io.Writer) error {
	rep, err := r.service.Overdue(ctx, who, asOf)
	if err != nil {
		return err
	}
	switch format {
	case "json":
		return printJSON(stdout, httpapi.OverdueDocument(rep))
	case "csv":
		return exchange.WriteOverdueCSV(stdout, rep)
	}
	return exchange.WriteOverdueTable(stdout, rep)
}

func printSuspect(ctx context.Context, r *register, who registry.Actor, asOf calendar.Date, format string, stdout io.Writer) error {
	rep, err := r.service.Suspect(ctx, who, asOf)
	if err != nil {
		return err
	}
	switch format {
	case "json":
		return printJSON(stdout, httpapi.SuspectDocument(rep))
	case "csv":
		return exchange.WriteSuspectCSV(stdout, rep)
	}
	return exchange.WriteSuspectTable(stdout, rep)
}

// printJSON writes one document as the API answers it.
func printJSON(w io.Writer, document any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(document)
}

package main

import (
	"context"
	"encoding/json"
	"io"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// forms are the ways to print a report.
type forms[R any] struct {
	document   func(R) any
	csv, table func(io.Writer, R) error
}

func runOverdue(ctx context.Context, c config.Overdue, stdout io.Writer) error {
	return runReport(ctx, c.ReportOptions, stdout, dated(c.AsOf, (*app.Service).Overdue), forms[report.Overdue]{
		document: func(r report.Overdue) any { return httpapi.OverdueDocument(r) },
		csv:      exchange.WriteOverdueCSV, table: exchange.WriteOverdueTable,
	})
}

func runSuspect(ctx context.Context, c config.Suspect, stdout io.Writer) error {
	return runReport(ctx, c.ReportOptions, stdout, dated(c.AsOf, (*app.Service).Suspect), forms[report.Suspect]{
		document: func(r report.Suspect) any { return httpapi.SuspectDocument(r) },
		csv:      exchange.WriteSuspectCSV, table: exchange.WriteSuspectTable,
	})
}

func runWork(ctx context.Context, c config.Work, stdout io.Writer) error {
	return runReport(ctx, c.ReportOptions, stdout, dated(c.AsOf, (*app.Service).Work), forms[report.Work]{
		document: func(r report.Work) any { return httpapi.WorkDocument(r) },
		csv:      exchange.WriteWorkCSV, table: exchange.WriteWorkTable,
	})
}

// ask makes a report.
type ask[R any] func(ctx context.Context, r *register, who registry.Actor) (R, error)

// dated asks for a report as of a day, today where none is given.
func dated[R any](asOf config.AsOf, make func(*app.Service, context.Context, registry.Actor, calendar.Date) (R, error)) ask[R] {
	return func(ctx context.Context, r *register, who registry.Actor) (R, error) {
		day, err := dayOf("as-of", asOf.AsOf)
		if err != nil {
			var none R
			return none, err
		}
		return make(r.service, ctx, who, day)
	}
}

func runReport[R any](ctx context.Context, c config.ReportOptions, stdout io.Writer, make ask[R], f forms[R]) error {
	r, err := openRegister(ctx, c.DatabaseURL)
	if err != nil {
		return err
	}
	defer r.pool.Close()
	who, err := commandLine(ctx, r.store, c.Group)
	if err != nil {
		return err
	}
	made, err := make(ctx, r, who)
	if err != nil {
		return err
	}
	switch c.Format {
	case "json":
		return printJSON(stdout, f.document(made))
	case "csv":
		return f.csv(stdout, made)
	}
	return f.table(stdout, made)
}

// printJSON writes one document as the API answers it.
func printJSON(w io.Writer, document any) error {
	e := json.NewEncoder(w)
	e.SetEscapeHTML(false)
	return e.Encode(document)
}

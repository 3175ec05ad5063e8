package main

import (
	"context"
	"io"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// batchesPage is how many batches are read at a time.
const batchesPage = 200

func runTrace(ctx context.Context, c config.Trace, stdout io.Writer) error {
	make := func(ctx context.Context, r *register, who registry.Actor) (report.Trace, error) {
		batch, err := batchOf(ctx, r, who, c.Batch)
		if err != nil {
			return report.Trace{}, err
		}
		return r.service.TraceBatch(ctx, who, batch)
	}
	return runReport(ctx, c.ReportOptions, stdout, make, forms[report.Trace]{
		document: func(t report.Trace) any { return httpapi.TraceDocument(t) },
		csv:      exchange.WriteTraceCSV, table: exchange.WriteTraceTable,
	})
}

// batchOf finds a batch by id or by what is printed on it, case, spaces and
// punctuation aside. Where that is printed on batches of several products it
// asks for the id.
func batchOf(ctx context.Context, r *register, who registry.Actor, asked string) (uuid.UUID, error) {
	if id, err := uuid.Parse(asked); err == nil {
		return id, nil
	}
	var found []string
	var id uuid.UUID
	page := registry.Page{Limit: batchesPage}
	for {
		list, err := r.service.Batches(ctx, who, nil, page)
		if err != nil {
			return id, err
		}
		for i := range list {
			if key := list[i].Key(); key != "" && key == registry.FoldBatch(asked) {
				id, found = list[i].ID, append(found, list[i].ID.String())
			}
		}
		if len(list) < page.Limit {
			break
		}
		page.After = list[len(list)-1].ID
	}
	switch len(found) {
	case 0:
		return id, fault.New(fault.NotFound, "no batch is marked %q", asked)
	case 1:
		return id, nil
	}
	return id, fault.New(fault.Conflict, "%q is printed on batches of several products; name one by its id: %s", asked, strings.Join(found, ", "))
}

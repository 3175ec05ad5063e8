package main

import (
	"context"
	"io"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// landownersPage is how many landowners are read at a time.
const landownersPage = 200

func runLand(ctx context.Context, c config.Land, stdout io.Writer) error {
	make := func(ctx context.Context, r *register, who registry.Actor) (report.Land, error) {
		from, to, err := periodOf(c)
		if err != nil {
			return report.Land{}, err
		}
		owner, err := landownerOf(ctx, r, who, c.Landowner)
		if err != nil {
			return report.Land{}, err
		}
		return r.service.Land(ctx, who, owner, from, to, c.Detail)
	}
	return runReport(ctx, c.ReportOptions, stdout, make, forms[report.Land]{
		document: func(r report.Land) any { return httpapi.LandDocument(r) },
		csv:      exchange.WriteLandCSV, table: exchange.WriteLandTable,
	})
}

// periodOf reads the days asked for; zero for one that was not given.
func periodOf(c config.Land) (from, to calendar.Date, err error) {
	if from, err = dayOf("from", c.From); err != nil {
		return 0, 0, err
	}
	to, err = dayOf("to", c.To)
	return from, to, err
}

// dayOf reads the day of a flag; zero for a flag that was not given.
func dayOf(flag, text string) (calendar.Date, error) {
	if text == "" {
		return 0, nil
	}
	day, err := calendar.ParseDate(text)
	var c fault.Checks
	c.Nest("--"+flag, err)
	return day, c.Err()
}

// landownerOf finds a landowner by id or by name, case and stray spaces aside;
// nil if none is asked for.
func landownerOf(ctx context.Context, r *register, who registry.Actor, asked string) (*uuid.UUID, error) {
	if asked == "" {
		return nil, nil //nolint:nilnil // no landowner is a request for all
	}
	if id, err := uuid.Parse(asked); err == nil {
		return &id, nil
	}
	var names []string
	page := registry.Page{Limit: landownersPage}
	for {
		list, err := r.service.Landowners(ctx, who, page)
		if err != nil {
			return nil, err
		}
		for _, l := range list {
			if registry.Fold(l.Name) == registry.Fold(asked) {
				return &l.ID, nil
			}
			names = append(names, l.Name)
		}
		if len(list) < page.Limit {
			return nil, fault.New(fault.NotFound, "no landowner is called %q; there are: %s", asked, strings.Join(names, "; "))
		}
		page.After = list[len(list)-1].ID
	}
}

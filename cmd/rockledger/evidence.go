package main

import (
	"context"
	"fmt"
	"io"
	"time"

	"rockledger/internal/config"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/httpapi"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// runEvidence prints what the register knew and showed of an anchor on a day,
// and what was done after it.
func runEvidence(ctx context.Context, c config.Evidence, stdout io.Writer) error {
	id, err := idOf("<anchor>", c.Anchor)
	if err != nil {
		return err
	}
	day, err := dayOf("as-known-on", c.AsKnownOn)
	if err != nil {
		return err
	}
	make := func(ctx context.Context, r *register, who registry.Actor) (report.Evidence, error) {
		e, err := r.service.Evidence(ctx, who, id, day)
		if fault.KindOf(err) == fault.NotFound {
			return e, fault.New(fault.NotFound, "there is no anchor %s in group %s", id, c.Group)
		}
		return e, err
	}
	text := func(w io.Writer, e report.Evidence) error {
		zone, err := time.LoadLocation(e.TimeZone)
		if err != nil {
			return fmt.Errorf("load zone %s: %w", e.TimeZone, err)
		}
		return exchange.WriteEvidenceText(w, e, zone)
	}
	options := config.ReportOptions{Database: c.Database, Group: c.Group, Format: c.Format}
	return runReport(ctx, options, stdout, make, forms[report.Evidence]{
		document: func(e report.Evidence) any { return httpapi.EvidenceDocument(e) }, table: text,
	})
}

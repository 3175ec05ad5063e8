package httpapi

import (
	"bytes"
	"context"
	"fmt"
	"io"

	"github.com/oapi-codegen/runtime/types"

	"rockledger/api"
	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// ReportOverdue answers GET /v1/reports/overdue.
func (a *API) ReportOverdue(ctx context.Context, r api.ReportOverdueRequestObject) (api.ReportOverdueResponseObject, error) {
	made, err := asked(ctx, a, r.Params.AsOf, a.service.Overdue)
	if err != nil {
		return nil, err
	}
	if wantsCSV(ctx) {
		body, n, err := csv(made, exchange.WriteOverdueCSV)
		return api.ReportOverdue200TextcsvResponse{Body: body, ContentLength: n}, err
	}
	return api.ReportOverdue200JSONResponse(OverdueDocument(made)), nil
}

// OverdueDocument is the report as the API answers it.
func OverdueDocument(r report.Overdue) api.OverdueReport {
	return api.OverdueReport{
		Heading: headingOut(r.Heading), Overdue: r.Overdue, FirstRound: r.FirstRound,
		Lines: each(r.Lines, reportLineOut), Caution: wording.Caution,
	}
}

// ReportSuspect answers GET /v1/reports/suspect.
func (a *API) ReportSuspect(ctx context.Context, r api.ReportSuspectRequestObject) (api.ReportSuspectResponseObject, error) {
	made, err := asked(ctx, a, r.Params.AsOf, a.service.Suspect)
	if err != nil {
		return nil, err
	}
	if wantsCSV(ctx) {
		body, n, err := csv(made, exchange.WriteSuspectCSV)
		return api.ReportSuspect200TextcsvResponse{Body: body, ContentLength: n}, err
	}
	return api.ReportSuspect200JSONResponse(SuspectDocument(made)), nil
}

// SuspectDocument is the report as the API answers it.
func SuspectDocument(r report.Suspect) api.SuspectReport {
	return api.SuspectReport{
		Heading: headingOut(r.Heading), OutOfUse: r.OutOfUse, Suspect: r.Suspect,
		Lines: each(r.Lines, reportLineOut), Caution: wording.Caution,
	}
}

// asked makes a report for who is asking.
func asked[R any](ctx context.Context, a *API, asOf types.Date,
	make func(context.Context, registry.Actor, calendar.Date) (R, error),
) (R, error) {
	who, err := a.who(ctx)
	if err != nil {
		var none R
		return none, err
	}
	return make(ctx, who, dateIn(asOf))
}

// csv writes a report whole, so that a failure is answered as one.
func csv[R any](made R, write func(io.Writer, R) error) (io.Reader, int64, error) {
	var b bytes.Buffer
	if err := write(&b, made); err != nil {
		return nil, 0, fmt.Errorf("write report as CSV: %w", err)
	}
	return &b, int64(b.Len()), nil
}

func headingOut(h report.Heading) api.ReportHeading {
	return api.ReportHeading{
		Group: h.Group, AsOf: dateOut(h.AsOf), MadeAt: h.MadeAt.UTC(), RulesVersion: h.RulesVersion, Recomputed: h.Recomputed,
	}
}

func reportLineOut(l registry.ReportLine) api.ReportLine {
	x, p := l.Assessment, l.Place
	return api.ReportLine{
		AnchorId: p.Anchor.ID,
		DueState: api.DueState(x.DueState), DueOn: dateOut(x.DueOn), SoonestOn: dateOut(x.SoonestOn),
		Band: api.Band(x.Band), BandText: wording.Band(x),
		Standing: api.Standing(x.Standing), StandingText: wording.Standing(x.Standing),
		SiteId: p.Anchor.SiteID, Site: p.Site, Sector: p.Sector, Route: p.Route,
		PositionId: p.Anchor.PositionID, Position: p.Label, Landowner: l.Landowner,
		Reason: wording.Reason(x), Findings: each(x.Findings, findingOut),
		Restrictions: each(l.Restrictions, restrictionOut), LastOpenOn: dateOut(l.LastOpenDay),
	}
}

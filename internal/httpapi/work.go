package httpapi

import (
	"context"

	"rockledger/api"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// ReportWork answers GET /v1/reports/work.
func (a *API) ReportWork(ctx context.Context, r api.ReportWorkRequestObject) (api.ReportWorkResponseObject, error) {
	made, err := asked(ctx, a, r.Params.AsOf, a.service.Work)
	if err != nil {
		return nil, err
	}
	if wantsCSV(ctx) {
		body, n, err := csv(made, exchange.WriteWorkCSV)
		return api.ReportWork200TextcsvResponse{Body: body, ContentLength: n}, err
	}
	return api.ReportWork200JSONResponse(WorkDocument(made)), nil
}

// WorkDocument is the report as the API answers it.
func WorkDocument(r report.Work) api.WorkReport {
	return api.WorkReport{
		Heading: headingOut(r.Heading), Replace: r.Replace, Repair: r.Repair, Inspect: r.Inspect,
		Items: each(r.Items, workItemOut), Kit: each(r.Kit, kitLineOut), Caution: wording.Caution,
	}
}

func workItemOut(w registry.WorkItem) api.WorkItem {
	return api.WorkItem{
		Do: api.WorkKind(w.Do), Line: reportLineOut(w.Line), For: each(w.For, findingOut), Bring: each(w.Bring, kitLineOut),
	}
}

func kitLineOut(k registry.KitLine) api.KitLine {
	return api.KitLine{
		Kind: api.KitKind(k.Kind), Form: api.Form(k.Form), Fitting: api.FittingKind(k.Fitting),
		Metal: metalOut(k.Metal), MetalOpen: k.MetalOpen, ShankDiameterMm: lengthOut(k.Shank), Count: k.Count,
		Text: wording.Kit(k),
	}
}

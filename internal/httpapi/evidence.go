package httpapi

import (
	"context"
	"encoding/json"

	"github.com/google/uuid"

	"rockledger/api"
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// GetEvidence answers GET /v1/anchors/{id}/evidence.
func (a *API) GetEvidence(ctx context.Context, r api.GetEvidenceRequestObject) (api.GetEvidenceResponseObject, error) {
	read := func(ctx context.Context, who registry.Actor, id uuid.UUID) (report.Evidence, error) {
		return a.service.Evidence(ctx, who, id, dateIn(r.Params.AsKnownOn))
	}
	x, err := get(ctx, a, r.Id, read, evidenceReply)
	return api.GetEvidence200JSONResponse{EvidenceReplyJSONResponse: x}, err
}

func evidenceReply(e report.Evidence) api.EvidenceReplyJSONResponse {
	return api.EvidenceReplyJSONResponse(EvidenceDocument(e))
}

// EvidenceDocument is evidence as the API answers it.
func EvidenceDocument(e report.Evidence) api.Evidence {
	line := func(l wording.EvidenceLine) api.EvidenceLine { return evidenceLineOut(l, e.Log.Actors) }
	out := api.Evidence{
		Group: e.Group, MadeAt: e.MadeAt.UTC(), AnchorId: e.AnchorID, AsKnownOn: dateOut(e.KnownOn), TimeZone: e.TimeZone,
		Known: e.Log.Known, Text: wording.EvidenceHelp, Caution: wording.Caution,
		Rows: each(wording.EvidenceKnown(e.Log), line), Afterwards: each(wording.EvidenceAfter(e.Log), line),
	}
	if e.Seal != nil {
		out.Seal = sealOut(*e.Seal)
	}
	if !e.Log.Known {
		out.Text = wording.EvidenceKnewNothing
		return out
	}
	out.Place = placeOut(e.Log.Then)
	if h := e.Shown; h != nil {
		out.Shown = &api.EvidenceShown{
			Since: h.At.UTC(), Standing: api.Standing(h.Standing), DueOn: dateOut(h.DueOn), Overdue: e.Overdue,
			Rules: append([]string{}, h.Rules...), Settled: append([]string{}, h.Settled...), Text: wording.EvidenceShown(*h, e.Overdue),
		}
	}
	return out
}

func evidenceLineOut(l wording.EvidenceLine, names map[string]string) api.EvidenceLine {
	out := api.EvidenceLine{At: l.At.UTC(), HappenedOn: spanOut(l.On), Replaced: l.Gone, Text: l.Words}
	if l.Row != nil {
		out.Shown = historyOut(*l.Row)
	}
	if l.Line != nil {
		out.Who, out.WhoName, out.What, out.Noun, out.RowId = l.Line.Who, names[l.Line.Who], l.Line.What, l.Line.Noun, l.Line.RowID
		out.Before, out.After = rowOut(l.Line.Before), rowOut(l.Line.After)
	}
	return out
}

// rowOut reads a row as the log holds it; nil for none.
func rowOut(text string) map[string]any {
	var row map[string]any
	if text == "" || json.Unmarshal([]byte(text), &row) != nil {
		return nil
	}
	return row
}

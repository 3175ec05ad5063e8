package web

import (
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// tracePage is where a batch went.
type tracePage struct {
	Frame    frame
	Trail    []detail
	Summary  string
	Rows     []anchorRow
	MayBe    []anchorRow
	More     string   // how many more may have been; blank: none
	Sessions []detail // links
	Write    string   // link to write a notice; empty: not allowed
}

func (p *Pages) trace(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	t, err := p.service.TraceBatch(c.Request().Context(), who, id)
	if err != nil {
		return err
	}
	page := tracePage{Frame: p.framed(c, "Where batch "+t.Batch.Text+" went"), Summary: wording.Traced(len(t.Lines), len(t.Possible))}
	base := page.Frame.Base
	page.Trail = []detail{{t.Batch.Text, batchHref(base, id)}, {"Trace", ""}}
	said := make(map[uuid.UUID]string)
	for _, s := range t.Sessions {
		said[s.ID] = "Glued " + joinNamed(", ", s.DoneOn.String(), s.Cartridge)
		page.Sessions = append(page.Sessions, detail{said[s.ID], gluingHref(base, s.ID)})
	}
	for _, l := range t.Lines {
		page.Rows = append(page.Rows, traceRow(base, l, said))
	}
	for _, l := range t.MayBe {
		page.MayBe = append(page.MayBe, rowOf(base, l))
	}
	if more := len(t.Possible) - len(t.MayBe); more > 0 {
		page.More = wording.MoreAnchors(more)
	}
	if allowed(c, app.AddNotice) {
		page.Write = recallFormHref(base, id)
	}
	return ok(c, traceView(page))
}

// recallFormHref is a form of a notice about a batch.
func recallFormHref(base string, batch uuid.UUID) string {
	return base + "/notices/new?batch=" + batch.String()
}

func traceRow(base string, l registry.TraceLine, said map[uuid.UUID]string) anchorRow {
	row := rowOf(base, l.Line)
	row.Reason = ""
	for _, id := range l.SessionIDs {
		row.Done = append(row.Done, said[id])
	}
	if l.Line.Landowner != "" {
		row.Land = []string{l.Line.Landowner}
	}
	return row
}

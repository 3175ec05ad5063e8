package web

import (
	"bufio"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/exchange"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// exportBuffer is how much of a list is held back, so that what goes wrong before
// that is still answered as a page. What goes wrong later cuts the answer.
const exportBuffer = 64 << 10

// exportPath is where the register is downloaded as a list.
const exportPath = "/export/anchor-list.csv"

// exportList answers the register as a list, under its own headings or those of
// a list that was taken over.
func (p *Pages) exportList(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	ask := registry.ListAsk{Own: c.QueryParam("headings") == "own"}
	if id, err := uuid.Parse(c.QueryParam("import_id")); err == nil {
		ask = registry.ListAsk{Own: true, ImportID: &id}
	}
	h := c.Response().Header()
	h.Set(echo.HeaderCacheControl, "private, no-cache")
	h.Set(echo.HeaderContentType, "text/csv; charset=utf-8")
	h.Set(echo.HeaderContentDisposition, `attachment; filename="`+c.Param("slug")+`-anchor-list.csv"`)
	out := bufio.NewWriterSize(c.Response(), exportBuffer)
	err = p.service.ExportAnchorList(c.Request().Context(), who, ask, exchange.NewListWriter(out, p.service.AsOf(who)))
	if err != nil {
		h.Del(echo.HeaderContentType)
		h.Del(echo.HeaderContentDisposition)
		return err
	}
	return out.Flush()
}

// exports are the links by which the register is downloaded as a list; own says
// whether one was taken over, and of that its id is nil for the latest.
func exports(c echo.Context, base string, own bool, id uuid.UUID) []detail {
	if !allowed(c, app.ExportAnchorList) {
		return nil
	}
	links := []detail{{wording.ExportOurs, base + exportPath}}
	switch {
	case own && id != uuid.Nil:
		links = append(links, detail{wording.ExportThisOwn, base + exportPath + "?import_id=" + id.String()})
	case own:
		links = append(links, detail{wording.ExportOwn, base + exportPath + "?headings=own"})
	}
	return links
}

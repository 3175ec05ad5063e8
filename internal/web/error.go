package web

import (
	"context"
	"net/http"

	"github.com/labstack/echo/v4"

	"rockledger/internal/wording"
)

// errorPage says what went wrong and what to do.
type errorPage struct {
	Frame     frame
	Text      string
	Home      string
	HomeText  string
	RequestID string // to name in a question to whoever runs the register
}

// ErrorPage draws the page for a request that failed, even if what failed it is
// that its context ended. If the page itself cannot be drawn, its words go out
// as plain text.
func (p *Pages) ErrorPage(c echo.Context, status int, title, text string) error {
	title = wording.ErrorTitle(status, title)
	f := p.framed(c, title)
	page := errorPage{Frame: f, Text: text, Home: "/", HomeText: "To the first page"}
	if f.Group != "" {
		page.Home, page.HomeText = f.Base+"/", "To Today"
	}
	if status >= http.StatusInternalServerError {
		page.RequestID = c.Response().Header().Get(echo.HeaderXRequestID)
	}
	r := c.Request()
	c.SetRequest(r.WithContext(context.WithoutCancel(r.Context())))
	if err := render(c, status, errorView(page)); err != nil {
		p.log.ErrorContext(c.Request().Context(), "draw error page", "error", err)
		return c.String(status, title+"\n\n"+text+"\n")
	}
	return nil
}

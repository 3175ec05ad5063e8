// Package server puts the parts behind one address: the order of middleware,
// where the API and the pages are mounted, and what an error becomes. Errors
// are answered and logged here and nowhere else.
package server

import (
	"context"
	"log/slog"

	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/auth"
	"rockledger/internal/httpapi"
	"rockledger/internal/web"
)

// Options are what the server needs. All but Spec are required.
type Options struct {
	Service *app.Service
	// Tokens finds who a bearer token belongs to.
	Tokens auth.Tokens
	Pages  *web.Pages
	// Ready says whether requests can be answered.
	Ready func(ctx context.Context) error
	// Spec is the API's contract as written, answered at /openapi.yaml. Empty:
	// that path does not exist.
	Spec []byte
	Log  *slog.Logger
}

// New returns the server, everything mounted.
func New(o Options) *echo.Echo {
	e := echo.New()
	e.HideBanner, e.HidePort = true, true
	e.HTTPErrorHandler = (&errorHandler{pages: o.Pages, log: o.Log}).handle

	api := httpapi.New(httpapi.Options{Service: o.Service, Actor: auth.ActorFrom})
	e.Use(
		requestID,
		requestLog(o.Log),
		recovered,
		limitBody,
		securityHeaders,
		under(httpapi.Prefix, auth.Bearer(o.Tokens)),
		under(httpapi.Prefix, api.Check()),
	)
	api.Mount(e)
	o.Pages.Mount(e)
	mountHealth(e, o.Ready)
	if len(o.Spec) > 0 {
		mountSpec(e, o.Spec)
	}
	return e
}

package server

import (
	"context"
	"net/http"
	"time"

	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
)

// readyWithin is how long the question whether the server is ready may take.
const readyWithin = 2 * time.Second

// mountHealth adds /healthz, which answers as long as the process does, and
// /readyz, which answers 200 only if requests can be answered.
func mountHealth(e *echo.Echo, ready func(context.Context) error) {
	e.GET("/healthz", func(c echo.Context) error { return c.String(http.StatusOK, "ok\n") })
	e.GET("/readyz", func(c echo.Context) error {
		ctx, stop := context.WithTimeout(c.Request().Context(), readyWithin)
		defer stop()
		if err := ready(ctx); err != nil {
			return fault.Wrap(fault.Busy, err, "not ready")
		}
		return c.String(http.StatusOK, "ready\n")
	})
}

func mountSpec(e *echo.Echo, spec []byte) {
	e.GET("/openapi.yaml", func(c echo.Context) error {
		return c.Blob(http.StatusOK, "application/yaml", spec)
	})
}

package server

import (
	"context"
	"errors"
	"log/slog"
	"net/http"

	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
	"rockledger/internal/httpapi"
	"rockledger/internal/web"
)

// statuses is what each kind of failure is answered with.
var statuses = map[fault.Kind]int{
	fault.Internal:        http.StatusInternalServerError,
	fault.Invalid:         http.StatusUnprocessableEntity,
	fault.Unauthenticated: http.StatusUnauthorized,
	fault.Forbidden:       http.StatusForbidden,
	fault.NotFound:        http.StatusNotFound,
	fault.Conflict:        http.StatusConflict,
	fault.Stale:           http.StatusPreconditionFailed,
	fault.Unstated:        http.StatusPreconditionRequired,
	fault.TooLarge:        http.StatusRequestEntityTooLarge,
	fault.TooMany:         http.StatusTooManyRequests,
	fault.Busy:            http.StatusServiceUnavailable,
}

// problemPaths are where a failure is answered as a problem, not as a page.
var problemPaths = []string{httpapi.Prefix, "/ogc"}

type errorHandler struct {
	pages *web.Pages
	log   *slog.Logger
}

// handle answers err and logs what is ours. An answer that broke off half way
// cannot be taken back: its connection is cut, so that nobody takes it for
// whole.
func (h *errorHandler) handle(err error, c echo.Context) {
	status := statusOf(err)
	if c.Response().Committed {
		h.logError(c, status, err)
		panic(http.ErrAbortHandler)
	}
	if status >= http.StatusInternalServerError {
		h.logError(c, status, err)
	}
	header := c.Response().Header()
	switch status {
	case http.StatusUnauthorized:
		if asksProblem(c) {
			header.Set(echo.HeaderWWWAuthenticate, `Bearer realm="rockledger"`)
		}
	case http.StatusTooManyRequests, http.StatusServiceUnavailable:
		if header.Get(echo.HeaderRetryAfter) == "" {
			header.Set(echo.HeaderRetryAfter, "5")
		}
	}
	if err := h.answer(c, status, err); err != nil {
		h.logError(c, status, err)
	}
}

func (h *errorHandler) answer(c echo.Context, status int, err error) error {
	p := httpapi.NewProblem(status, err)
	switch {
	case c.Request().Method == http.MethodHead:
		return c.NoContent(status)
	case asksProblem(c):
		return httpapi.WriteProblem(c, p)
	}
	return h.pages.ErrorPage(c, status, p.Title, httpapi.Told(p))
}

func asksProblem(c echo.Context) bool {
	for _, prefix := range problemPaths {
		if below(c.Request().URL.Path, prefix) {
			return true
		}
	}
	return false
}

// statusOf is the status err is answered with: one it names itself, or that of
// its kind. A request that could not even be read is 400.
func statusOf(err error) int {
	var (
		h   *echo.HTTPError
		big *http.MaxBytesError
	)
	switch {
	case errors.As(err, &h) && h.Code >= http.StatusBadRequest:
		return h.Code
	case errors.As(err, &big):
		return statuses[fault.TooLarge]
	}
	if kind := fault.KindOf(err); kind != fault.Invalid || fault.CodeOf(err) != fault.Malformed {
		return statuses[kind]
	}
	return http.StatusBadRequest
}

// logError logs a failure with its route. One of a caller who went away is
// nobody's.
func (h *errorHandler) logError(c echo.Context, status int, err error) {
	ctx := c.Request().Context()
	level := slog.LevelError
	if errors.Is(ctx.Err(), context.Canceled) {
		level = slog.LevelInfo
	}
	h.log.Log(ctx, level, "request failed",
		"method", c.Request().Method, "route", c.Path(), "status", status, "error", err,
		"request_id", c.Response().Header().Get(echo.HeaderXRequestID))
}

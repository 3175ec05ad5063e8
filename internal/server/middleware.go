package server

import (
	"fmt"
	"log/slog"
	"net/http"
	"runtime/debug"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
)

// contentPolicy lets pages load only what this server sends.
const contentPolicy = "default-src 'self'; img-src 'self' data: blob:; object-src 'none'; " +
	"base-uri 'none'; frame-ancestors 'none'; form-action 'self'"

// under applies m to requests below prefix alone, whether or not the path
// exists: who may not ask learns nothing of what there is.
func under(prefix string, m echo.MiddlewareFunc) echo.MiddlewareFunc {
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		inside := m(next)
		return func(c echo.Context) error {
			if below(c.Request().URL.Path, prefix) || below(c.Path(), prefix) {
				return inside(c)
			}
			return next(c)
		}
	}
}

func below(path, prefix string) bool {
	rest, ok := strings.CutPrefix(path, prefix)
	return ok && (rest == "" || rest[0] == '/')
}

// requestID names each request, so that a log line can be found. A name that
// was sent is not taken over.
func requestID(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Response().Header().Set(echo.HeaderXRequestID, uuid.NewString())
		return next(c)
	}
}

// requestLog answers what went wrong below it and writes one line a request,
// without query and body: both can hold what nobody should read in a log.
func requestLog(log *slog.Logger) echo.MiddlewareFunc {
	return func(next echo.HandlerFunc) echo.HandlerFunc {
		return func(c echo.Context) error {
			start := time.Now()
			err := next(c)
			if err != nil {
				c.Error(err)
			}
			log.InfoContext(c.Request().Context(), "request",
				"method", c.Request().Method, "path", c.Request().URL.Path, "status", c.Response().Status,
				"took", time.Since(start), "request_id", c.Response().Header().Get(echo.HeaderXRequestID))
			return nil
		}
	}
}

// recovered turns a panic into an error with its stack, which is logged like
// any other. http.ErrAbortHandler goes on: it cuts the connection on purpose.
func recovered(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) (err error) {
		defer func() {
			switch p := recover(); p {
			case nil:
			case http.ErrAbortHandler:
				panic(p)
			default:
				err = fmt.Errorf("panic: %v\n%s", p, debug.Stack())
			}
		}()
		return next(c)
	}
}

// maxBody is the largest request body, in bytes. The API and the pages set
// narrower limits.
const maxBody = 32 << 20

// limitBody holds the outermost limit.
func limitBody(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		if r.ContentLength > maxBody {
			return fault.New(fault.TooLarge, "request body of %d bytes", r.ContentLength).
				With("limit", "32 MiB")
		}
		r.Body = http.MaxBytesReader(c.Response(), r.Body, maxBody)
		return next(c)
	}
}

// securityHeaders sets what every answer carries. Answers are not kept by
// caches unless a handler says otherwise.
func securityHeaders(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		h := c.Response().Header()
		h.Set("Content-Security-Policy", contentPolicy)
		h.Set("X-Content-Type-Options", "nosniff")
		h.Set("Referrer-Policy", "same-origin")
		h.Set("Cross-Origin-Opener-Policy", "same-origin")
		h.Set("Cross-Origin-Resource-Policy", "same-origin")
		h.Set("Cache-Control", "no-store")
		return next(c)
	}
}

package httpapi

import (
	"context"
	"mime"
	"net/http"
	"strconv"
	"strings"

	"github.com/labstack/echo/v4"

	"rockledger/api"
)

const (
	typeJSON = "application/json"
	typeCSV  = "text/csv"
	typeJPEG = "image/jpeg"
)

type mediaKey struct{}

// negotiate refuses with 406 a request that accepts none of the media types
// its operation has, and tells the handler which one is preferred.
func negotiate(next api.StrictHandlerFunc, operation string) api.StrictHandlerFunc {
	offers := []string{typeJSON}
	switch {
	case strings.HasPrefix(operation, "Report"):
		offers = append(offers, typeCSV)
	case operation == "GetPictureFile":
		offers = []string{typeJPEG}
	case strings.HasPrefix(operation, "Export"):
		offers = []string{typeCSV}
	}
	return func(c echo.Context, request any) (any, error) {
		r := c.Request()
		media := prefer(strings.Join(r.Header.Values(echo.HeaderAccept), ","), offers)
		if media == "" {
			return nil, refuse(http.StatusNotAcceptable, echo.HeaderAccept, offers)
		}
		if len(offers) > 1 {
			c.Response().Header().Add(echo.HeaderVary, echo.HeaderAccept)
		}
		c.SetRequest(r.WithContext(context.WithValue(r.Context(), mediaKey{}, media)))
		return next(c, request)
	}
}

func wantsCSV(ctx context.Context) bool { return ctx.Value(mediaKey{}) == typeCSV }

// prefer returns the offer that an Accept header prefers, the first of equals,
// "" if it accepts none. Without a header everything is accepted. (RFC 9110,
// section 12.5.1.)
func prefer(accept string, offers []string) string {
	if strings.TrimSpace(accept) == "" {
		return offers[0]
	}
	best, bestQ := "", 0.0
	for _, offer := range offers {
		if q := quality(accept, offer); q > bestQ {
			best, bestQ = offer, q
		}
	}
	return best
}

// quality is the weight an Accept header gives to a media type: that of the
// most specific range that matches it.
func quality(accept, offer string) float64 {
	kind, _, _ := strings.Cut(offer, "/")
	q, specific := 0.0, 0
	for _, part := range strings.Split(accept, ",") {
		media, params, err := mime.ParseMediaType(part)
		if err != nil {
			continue
		}
		rank := map[string]int{"*/*": 1, kind + "/*": 2, offer: 3}[media]
		if rank <= specific {
			continue
		}
		q, specific = 1, rank
		if w, ok := params["q"]; ok {
			if q, err = strconv.ParseFloat(w, 64); err != nil {
				q = 0
			}
		}
	}
	return q
}

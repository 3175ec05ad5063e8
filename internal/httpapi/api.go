// Package httpapi is the API under /v1: it implements the interface generated
// from openapi/rockledger.yaml, turns what is sent into registry values and
// registry values into what is answered, and checks requests against the
// contract. It decides nothing: that is app's.
package httpapi

import (
	"context"
	"fmt"

	"github.com/labstack/echo/v4"

	"rockledger/api"
	"rockledger/internal/app"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// Prefix is the path under which everything here lives.
const Prefix = "/v1"

// Options are what the API needs. All are required.
type Options struct {
	Service *app.Service
	// Actor reads who is asking from a request's context, false for nobody.
	Actor func(context.Context) (registry.Actor, bool)
}

// API answers the requests under Prefix. Make one with New.
type API struct {
	service *app.Service
	actor   func(context.Context) (registry.Actor, bool)
	checker *checker
}

var _ api.StrictServerInterface = (*API)(nil)

// New returns the API. It panics if the contract built into the program cannot
// be read.
func New(o Options) *API {
	spec, err := api.GetSpec()
	if err != nil {
		panic(fmt.Sprintf("read the API's contract: %v", err))
	}
	return &API{service: o.Service, actor: o.Actor, checker: newChecker(spec)}
}

// Mount registers every operation. The middleware of Check must run before
// them: what it lets through is bound as it was checked.
func (a *API) Mount(e *echo.Echo) {
	api.RegisterHandlers(e, api.NewStrictHandler(a, []api.StrictMiddlewareFunc{withhold, negotiate}))
}

// who returns who is asking, or fault.Unauthenticated.
func (a *API) who(ctx context.Context) (registry.Actor, error) {
	who, ok := a.actor(ctx)
	if !ok {
		return registry.Actor{}, fault.New(fault.Unauthenticated, "nobody is signed in")
	}
	return who, nil
}

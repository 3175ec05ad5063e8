package web

import (
	"context"
	"net/http"
	"net/url"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/auth"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// sameOrigin refuses a form that another site's page sends in a member's name.
func (p *Pages) sameOrigin(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		if err := p.origin.Check(c.Request()); err != nil {
			return fault.Wrap(fault.Forbidden, err, "form from another site").With("origin", "another site")
		}
		return next(c)
	}
}

// members lets only members of the group in the URL through, and puts the
// actor and the group into the request's context. Who is not signed in is asked
// to sign in, and goes on after it.
func (p *Pages) members(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		r := c.Request()
		m, who, err := p.sessions.Member(r.Context(), c.Param("slug"))
		if fault.KindOf(err) == fault.Unauthenticated {
			return p.toSignIn(c)
		}
		if err != nil {
			return err
		}
		_, who.ReadOnly = againOf(c)
		ctx := context.WithValue(auth.WithActor(r.Context(), who), groupKey{}, m.Group)
		c.SetRequest(r.WithContext(ctx))
		return next(c)
	}
}

// toSignIn asks whoever has no session to sign in, with what was typed if it is a
// form that was sent.
func (p *Pages) toSignIn(c echo.Context) error {
	r := c.Request()
	if r.Method != http.MethodPost {
		return c.Redirect(http.StatusSeeOther, "/sign-in?next="+url.QueryEscape(r.URL.RequestURI()))
	}
	page := signInPage{Frame: p.framed(c, "Sign in"), Next: cameFrom(r), Again: sentTo(c)}
	return render(c, http.StatusUnauthorized, signInView(page))
}

// cameFrom is the page that a form stood on, or Today if the browser does not
// tell.
func cameFrom(r *http.Request) string {
	u, err := url.Parse(r.Referer())
	if err != nil || u.Host != r.Host {
		return "/"
	}
	return localPath(u.RequestURI())
}

type groupKey struct{}

// groupOf returns the group that members let the request into.
func groupOf(c echo.Context) (registry.Group, bool) {
	g, ok := c.Request().Context().Value(groupKey{}).(registry.Group)
	return g, ok
}

// actorOf returns who is asking.
func actorOf(c echo.Context) (registry.Actor, error) {
	who, ok := auth.ActorFrom(c.Request().Context())
	if !ok {
		return who, fault.New(fault.Unauthenticated, "nobody is signed in")
	}
	return who, nil
}

// idOf reads the id in the path. A text that is none is NotFound, like an id
// that never was.
func idOf(c echo.Context) (uuid.UUID, error) {
	id, err := uuid.Parse(c.Param("id"))
	if err != nil {
		return id, fault.New(fault.NotFound, "no id: %q", c.Param("id"))
	}
	return id, nil
}

// localPath returns path if it is one of this register's own pages, "/"
// otherwise: a link must not send people on to another site.
func localPath(path string) string {
	u, err := url.Parse(path)
	if err != nil || u.IsAbs() || u.Host != "" || !strings.HasPrefix(path, "/g/") || strings.ContainsAny(path, "\\\r\n") {
		return "/"
	}
	return path
}

// reload leads from an address that only takes a form, as it stands in a browser
// when one was refused, to the page of the form.
func (p *Pages) reload(page string) echo.HandlerFunc {
	return func(c echo.Context) error {
		return c.Redirect(http.StatusSeeOther, p.base(c)+strings.ReplaceAll(page, ":id", url.PathEscape(c.Param("id"))))
	}
}

package web

import (
	"net/http"

	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// signInPage asks who you are.
type signInPage struct {
	Frame frame
	Email string // as typed
	Next  string // where to go afterwards
	Wrong string // what was wrong; empty: nothing yet
	Again again  // a form that was sent without a session
}

// homePage lets a member of several groups, or of none, go on.
type homePage struct {
	Frame  frame
	Groups []registry.Group
}

// home sends a member of one group to its Today; others choose.
func (p *Pages) home(c echo.Context) error {
	ctx := c.Request().Context()
	if _, ok := p.sessions.Account(ctx); !ok {
		return c.Redirect(http.StatusSeeOther, "/sign-in")
	}
	list, err := p.sessions.Memberships(ctx)
	if err != nil {
		return err
	}
	if len(list) == 1 {
		return c.Redirect(http.StatusSeeOther, "/g/"+list[0].Group.Slug+"/")
	}
	page := homePage{Frame: p.framed(c, "Your groups")}
	page.Frame.SignedIn = true
	for _, m := range list {
		page.Groups = append(page.Groups, m.Group)
	}
	return ok(c, homeView(page))
}

func (p *Pages) signInForm(c echo.Context) error {
	next := localPath(c.QueryParam("next"))
	if _, signedIn := p.sessions.Account(c.Request().Context()); signedIn {
		return c.Redirect(http.StatusSeeOther, next)
	}
	return ok(c, signInView(signInPage{Frame: p.framed(c, "Sign in"), Next: next}))
}

func (p *Pages) signIn(c echo.Context) error {
	c.Request().Body = http.MaxBytesReader(c.Response(), c.Request().Body, maxSignInBytes)
	sent, err := c.FormParams()
	if err != nil {
		return formFault(err)
	}
	email, next, before := sent.Get("email"), localPath(sent.Get("next")), typedBefore(sent)
	err = p.sessions.SignIn(c, email, sent.Get("password"))
	switch {
	case err == nil && !before.empty():
		return p.showAgain(c, before)
	case err == nil:
		return c.Redirect(http.StatusSeeOther, next)
	}
	page := signInPage{Frame: p.framed(c, "Sign in"), Email: email, Next: next, Again: before}
	switch fault.KindOf(err) {
	case fault.Unauthenticated:
		page.Wrong = wording.SignInWrong
		return render(c, http.StatusUnprocessableEntity, signInView(page))
	case fault.TooMany:
		page.Wrong = wording.SignInTooMany
		return render(c, http.StatusTooManyRequests, signInView(page))
	}
	return err
}

// maxFormBytes bounds the forms that carry no file.
const maxFormBytes = 64 << 10

// maxSignInBytes bounds the form that signs in: one sent before may travel in it,
// whose fields have longer names there and may be encoded in three bytes for one.
const maxSignInBytes = maxFormBytes + 4*maxAgainBytes

func (p *Pages) signOut(c echo.Context) error {
	if err := p.sessions.SignOut(c); err != nil {
		return err
	}
	return c.Redirect(http.StatusSeeOther, "/sign-in")
}

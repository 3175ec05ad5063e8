package auth

import (
	"context"
	"fmt"
	"net"
	"net/http"
	"strings"
	"time"

	"github.com/alexedwards/scs/v2"
	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// sessionLife is how long a web session lasts from sign-in; a default of this
// project.
const sessionLife = 14 * 24 * time.Hour

// cookieName names the session's cookie, accountKey what is kept under it.
const (
	cookieName = "rockledger_session"
	accountKey = "account"
)

// Accounts is what signing in needs of the store. An e-mail address that
// nobody has is fault.NotFound.
type Accounts interface {
	AccountByEmail(ctx context.Context, email string) (registry.Account, error)
	Memberships(ctx context.Context, account uuid.UUID) ([]registry.Membership, error)
}

// Sessions signs people in and out and tells who is asking for a page. A
// session holds the account only: membership and role are looked up at each
// request, so that a member who was put out is out at once.
type Sessions struct {
	manager  *scs.SessionManager
	accounts Accounts
	hasher   *Hasher
	throttle *throttle
}

// NewSessions returns sessions kept in store, which hands tokens on as they
// are: it is the store's task to keep only their hashes. now is the clock that
// failed sign-ins are counted by; nil: the machine's.
func NewSessions(store scs.Store, accounts Accounts, cost Cost, now func() time.Time) *Sessions {
	if now == nil {
		now = time.Now
	}
	m := scs.New()
	m.Store = store
	m.Lifetime = sessionLife
	m.Cookie.Name = cookieName
	m.Cookie.HttpOnly = true
	m.Cookie.SameSite = http.SameSiteLaxMode
	return &Sessions{manager: m, accounts: accounts, hasher: NewHasher(cost), throttle: newThrottle(now)}
}

// Load is middleware that reads the session of a request. Everything else in
// Sessions needs it.
func (s *Sessions) Load(next echo.HandlerFunc) echo.HandlerFunc {
	return func(c echo.Context) error {
		c.Response().Header().Add(echo.HeaderVary, echo.HeaderCookie)
		token := ""
		if cookie, err := c.Cookie(cookieName); err == nil {
			token = cookie.Value
		}
		ctx, err := s.manager.Load(c.Request().Context(), token)
		if err != nil {
			return fmt.Errorf("load web session: %w", err)
		}
		c.SetRequest(c.Request().WithContext(ctx))
		return next(c)
	}
}

// SignIn checks e-mail address and password and begins a new session, whose
// cookie it sets. A wrong address and a wrong password give the same
// Unauthenticated error after the same time; too many failures give TooMany.
func (s *Sessions) SignIn(c echo.Context, email, password string) error {
	ctx, address, key := c.Request().Context(), addressOf(c.Request()), emailKey(email)
	if err := s.throttle.allow(address, key); err != nil {
		return err
	}
	account, err := s.accountOf(ctx, key)
	if err != nil {
		return err
	}
	ok, err := s.hasher.Matches(ctx, password, account.PasswordHash)
	if err != nil {
		return fmt.Errorf("sign in: %w", err)
	}
	if !ok {
		s.throttle.failed(address, key)
		return fault.New(fault.Unauthenticated, "wrong e-mail address or password")
	}
	s.throttle.succeeded(address, key)
	return s.begin(c, account.ID)
}

// addressOf is the address that a request came from. What a proxy says of it is
// believed only of one on this machine: anyone can write the header.
var addressOf = echo.ExtractIPFromXFFHeader(echo.TrustLoopback(true), echo.TrustLinkLocal(false), echo.TrustPrivateNet(false))

// accountOf returns the account with the address, an empty one if there is
// none.
func (s *Sessions) accountOf(ctx context.Context, email string) (registry.Account, error) {
	account, err := s.accounts.AccountByEmail(ctx, email)
	switch {
	case err == nil:
		return account, nil
	case fault.KindOf(err) == fault.NotFound:
		return registry.Account{}, nil
	}
	return registry.Account{}, fmt.Errorf("sign in: %w", err)
}

// emailKey folds an address, and cuts one that cannot be right, so that it
// fills no memory.
func emailKey(email string) string {
	email = strings.ToLower(strings.TrimSpace(email))
	if len(email) > registry.MaxEmail {
		email = email[:registry.MaxEmail]
	}
	return strings.ToValidUTF8(strings.ReplaceAll(email, "\x00", ""), "")
}

// begin starts a session for the account under a new token, so that a token
// known from before is worth nothing.
func (s *Sessions) begin(c echo.Context, account uuid.UUID) error {
	ctx := c.Request().Context()
	if err := s.manager.RenewToken(ctx); err != nil {
		return fmt.Errorf("begin web session: %w", err)
	}
	s.manager.Put(ctx, accountKey, account.String())
	token, expiry, err := s.manager.Commit(ctx)
	if err != nil {
		return fmt.Errorf("keep web session: %w", err)
	}
	s.writeCookie(c, token, expiry)
	return nil
}

// SignOut ends the session and takes its cookie back.
func (s *Sessions) SignOut(c echo.Context) error {
	if err := s.manager.Destroy(c.Request().Context()); err != nil {
		return fmt.Errorf("end web session: %w", err)
	}
	s.writeCookie(c, "", time.Time{})
	return nil
}

// writeCookie sets the cookie, Secure unless the request came to this machine
// itself over plain HTTP.
func (s *Sessions) writeCookie(c echo.Context, token string, expiry time.Time) {
	m := *s.manager
	m.Cookie.Secure = !plainLoopback(c)
	m.WriteSessionCookie(c.Request().Context(), c.Response(), token, expiry)
}

// plainLoopback reports whether the browser asked this machine itself, without
// TLS. Behind a proxy that ends TLS the name asked for is another one, or the
// proxy says that it was asked over HTTPS.
func plainLoopback(c echo.Context) bool {
	if c.Scheme() == "https" {
		return false
	}
	host := c.Request().Host
	if name, _, err := net.SplitHostPort(host); err == nil {
		host = name
	}
	ip := net.ParseIP(strings.Trim(host, "[]"))
	return host == "localhost" || ip != nil && ip.IsLoopback()
}

// Account returns the account that is signed in.
func (s *Sessions) Account(ctx context.Context) (uuid.UUID, bool) {
	id, err := uuid.Parse(s.manager.GetString(ctx, accountKey))
	return id, err == nil
}

// Memberships lists the groups of the account that is signed in, none if
// nobody is.
func (s *Sessions) Memberships(ctx context.Context) ([]registry.Membership, error) {
	account, ok := s.Account(ctx)
	if !ok {
		return nil, nil
	}
	list, err := s.accounts.Memberships(ctx, account)
	if err != nil {
		return nil, fmt.Errorf("memberships of account %s: %w", account, err)
	}
	return list, nil
}

// Member returns the membership of whoever is signed in to the group called
// slug, and the actor it makes. Nobody signed in is Unauthenticated; a group
// they do not belong to is NotFound, like one that never was.
func (s *Sessions) Member(ctx context.Context, slug string) (registry.Membership, registry.Actor, error) {
	account, ok := s.Account(ctx)
	if !ok {
		return registry.Membership{}, registry.Actor{}, fault.New(fault.Unauthenticated, "nobody is signed in")
	}
	list, err := s.Memberships(ctx)
	if err != nil {
		return registry.Membership{}, registry.Actor{}, err
	}
	for _, m := range list {
		if m.Group.Slug == slug {
			return m, actor(account, m), nil
		}
	}
	return registry.Membership{}, registry.Actor{}, fault.New(fault.NotFound, "no group %q", slug)
}

func actor(account uuid.UUID, m registry.Membership) registry.Actor {
	return registry.Actor{
		GroupID: m.Group.ID, Group: m.Group.Slug, TimeZone: m.Group.TimeZone,
		Role: m.Role, Who: "account:" + account.String(),
	}
}

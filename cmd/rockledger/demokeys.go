package main

import (
	"context"
	"crypto/rand"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/auth"
	"rockledger/internal/fault"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// demoGroupIn returns the invented group, making it where it is not there yet.
func demoGroupIn(ctx context.Context, r *register, admin *postgres.Admin) (registry.Group, error) {
	group, err := r.store.GroupBySlug(ctx, demoGroup.Slug)
	if fault.KindOf(err) != fault.NotFound || err == nil {
		return group, err
	}
	group = demoGroup
	return group, addGroup(ctx, admin, &group)
}

// demoKeys takes back the keys of the last start and makes new ones, one
// sign-in and one token for each role.
func demoKeys(ctx context.Context, admin *postgres.Admin, group registry.Group) (*demoPage, error) {
	if err := admin.DropDemoCredentials(ctx, group.ID); err != nil {
		return nil, err
	}
	page := &demoPage{Group: group.Slug, Tokens: map[string]string{}, Logins: map[string]demoLogin{}, Caution: wording.Caution}
	for _, role := range registry.Roles() {
		token, err := addToken(ctx, admin, group, role, "demo "+string(role))
		if err != nil {
			return nil, err
		}
		login, err := addLogin(ctx, admin, group, role)
		if err != nil {
			return nil, err
		}
		page.Tokens[string(role)], page.Logins[string(role)] = token, login
	}
	return page, nil
}

func addLogin(ctx context.Context, admin *postgres.Admin, group registry.Group, role registry.Role) (demoLogin, error) {
	login := demoLogin{Email: string(role) + "@demo.invalid", Password: rand.Text()}
	hash, err := auth.HashPassword(ctx, login.Password)
	if err != nil {
		return login, err
	}
	id, err := uuid.NewV7()
	if err != nil {
		return login, err
	}
	account := registry.Account{ID: id, Email: login.Email, Name: "Demo " + string(role) + " (invented)", PasswordHash: hash}
	if err := admin.AddAccount(ctx, account); err != nil {
		return login, err
	}
	return login, admin.SetMembership(ctx, registry.Membership{AccountID: id, Group: group, Role: role})
}

// print writes the page as one line of JSON or for a person to read.
func (p *demoPage) print(w io.Writer, format string) error {
	if format == "json" {
		return json.NewEncoder(w).Encode(p)
	}
	var b strings.Builder
	fmt.Fprintf(&b, "\nRockledger with an invented register: %s\n\nSign in as   with                      password\n", p.Address)
	for _, role := range registry.Roles() {
		login := p.Logins[string(role)]
		fmt.Fprintf(&b, "%-12s %-25s %s\n", role, login.Email, login.Password)
	}
	fmt.Fprintf(&b, "\nTokens for the API (group %s):\n", p.Group)
	for _, role := range registry.Roles() {
		fmt.Fprintf(&b, "%-12s %s\n", role, p.Tokens[string(role)])
	}
	fmt.Fprintf(&b, "\nFor the command line, in another window:\nexport ROCKLEDGER_DATABASE_URL='%s'\n", p.DatabaseURL)
	fmt.Fprintf(&b, "\n%s\n\nStop with Ctrl-C. The next start makes new keys and keeps the data.\n", p.Caution)
	_, err := io.WriteString(w, b.String())
	return err
}

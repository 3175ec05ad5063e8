package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/config"
	"rockledger/internal/fault"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
)

// gate is where accounts are let in and put out, as the owner of the tables.
type gate struct {
	store *postgres.Store
	admin *postgres.Admin
}

// atGate opens the register as its owner and does something about accounts.
func atGate(ctx context.Context, url string, do func(gate) error) error {
	pool, err := postgres.Connect(ctx, url)
	if err != nil {
		return err
	}
	defer pool.Close()
	return do(gate{store: postgres.New(pool), admin: postgres.NewAdmin(pool).As(systemUser())})
}

func runAccountAdd(ctx context.Context, c config.AccountAdd, stdin io.Reader, stdout io.Writer) error {
	return atGate(ctx, c.AdminURL, func(g gate) error {
		group, err := groupOf(ctx, g.store, c.Group)
		if err != nil {
			return err
		}
		m := registry.Membership{Group: group, Role: registry.Role(c.Role)}
		known, err := g.store.AccountByEmail(ctx, strings.TrimSpace(c.Email))
		if fault.KindOf(err) == fault.NotFound && err != nil {
			return g.admit(ctx, c, m, stdin, stdout)
		}
		if err != nil {
			return err
		}
		return g.join(ctx, known, m, c.Stdin, stdout)
	})
}

// admit makes an account for somebody who has none yet.
func (g gate) admit(ctx context.Context, c config.AccountAdd, m registry.Membership, stdin io.Reader, stdout io.Writer) error {
	account := registry.Account{Email: strings.TrimSpace(c.Email), Name: c.Name}
	if account.Name == "" {
		account.Name, _, _ = strings.Cut(account.Email, "@")
	}
	if err := account.Validate(); err != nil {
		return err
	}
	secret, err := secretOf(ctx, c.Password, stdin)
	if err != nil {
		return err
	}
	if account.ID, err = uuid.NewV7(); err != nil {
		return err
	}
	account.PasswordHash, m.AccountID = secret.hash, account.ID
	if err := g.admin.AddAccount(ctx, account); err != nil {
		return fmt.Errorf("account %s: %w", account.Email, err)
	}
	if err := g.admin.SetMembership(ctx, m); err != nil {
		return err
	}
	_, err = fmt.Fprintf(stdout, "%s can sign in to %s now, as %s.\n%s", account.Email, m.Group.Slug, m.Role, secret.told())
	return err
}

// join lets somebody into one more group, whose account and password stay as
// they are.
func (g gate) join(ctx context.Context, known registry.Account, m registry.Membership, newPassword bool, stdout io.Writer) error {
	if newPassword {
		return fault.New(fault.Conflict, "%s has an account and a password already: leave --password-stdin, or set another with rockledger account password", known.Email)
	}
	list, err := g.store.Memberships(ctx, known.ID)
	if err != nil {
		return err
	}
	for _, is := range list {
		if is.Group.ID == m.Group.ID {
			return fault.New(fault.Conflict, "%s can sign in to %s already, as %s: change that with rockledger account role", known.Email, m.Group.Slug, is.Role)
		}
	}
	m.AccountID = known.ID
	if err := g.admin.SetMembership(ctx, m); err != nil {
		return err
	}
	_, err = fmt.Fprintf(stdout, "%s can sign in to %s now, as %s, with the password of the account that was there.\n"+
		"If it is lost, set another with: rockledger account password %s\n", known.Email, m.Group.Slug, m.Role, known.Email)
	return err
}

func runAccountList(ctx context.Context, c config.AccountList, stdout io.Writer) error {
	return atGate(ctx, c.AdminURL, func(g gate) error {
		group, err := groupOf(ctx, g.store, c.Group)
		if err != nil {
			return err
		}
		members, err := g.admin.Members(ctx, group.ID)
		if err != nil {
			return err
		}
		text := ""
		for _, m := range members {
			text += fmt.Sprintf("%-9s %s (%s)\n", m.Role, m.Account.Email, m.Account.Name)
		}
		if text == "" {
			text = fmt.Sprintf("Nobody can sign in to %s yet: rockledger account add EMAIL --group %s --role owner\n", c.Group, c.Group)
		}
		_, err = io.WriteString(stdout, text)
		return err
	})
}

func runAccountRole(ctx context.Context, c config.AccountRole, stdout io.Writer) error {
	return atGate(ctx, c.AdminURL, func(g gate) error {
		m, err := g.member(ctx, c.Email, c.Group)
		if err != nil {
			return err
		}
		was := m.Role
		m.Role = registry.Role(c.Role)
		if err := g.admin.SetMembership(ctx, m); err != nil {
			return err
		}
		_, err = fmt.Fprintf(stdout, "%s is %s of %s now, and was %s.\n", c.Email, m.Role, c.Group, was)
		return err
	})
}

func runAccountPassword(ctx context.Context, c config.AccountPassword, stdin io.Reader, stdout io.Writer) error {
	return atGate(ctx, c.AdminURL, func(g gate) error {
		account, err := g.account(ctx, c.Email)
		if err != nil {
			return err
		}
		secret, err := secretOf(ctx, c.Password, stdin)
		if err != nil {
			return err
		}
		if err := g.admin.SetPassword(ctx, account.ID, secret.hash); err != nil {
			return err
		}
		_, err = fmt.Fprintf(stdout, "%s has a new password, and is signed out everywhere.\n%s", account.Email, secret.told())
		return err
	})
}

func runAccountRemove(ctx context.Context, c config.AccountRemove, stdout io.Writer) error {
	return atGate(ctx, c.AdminURL, func(g gate) error {
		m, err := g.member(ctx, c.Email, c.Group)
		if err != nil {
			return err
		}
		if err := g.admin.EndMembership(ctx, m.Group.ID, m.AccountID); err != nil {
			return err
		}
		_, err = fmt.Fprintf(stdout, "%s can no longer sign in to %s, and is signed out everywhere. What was entered stays.\n", c.Email, c.Group)
		return err
	})
}

// account finds the account that a command names.
func (g gate) account(ctx context.Context, email string) (registry.Account, error) {
	account, err := g.store.AccountByEmail(ctx, strings.TrimSpace(email))
	if fault.KindOf(err) == fault.NotFound && err != nil {
		return account, fault.New(fault.NotFound, "nobody signs in with %q here: check how it is spelt, or add it with rockledger account add", email)
	}
	return account, err
}

// member finds what an account may do in a group.
func (g gate) member(ctx context.Context, email, slug string) (registry.Membership, error) {
	group, err := groupOf(ctx, g.store, slug)
	if err != nil {
		return registry.Membership{}, err
	}
	account, err := g.account(ctx, email)
	if err != nil {
		return registry.Membership{}, err
	}
	list, err := g.store.Memberships(ctx, account.ID)
	if err != nil {
		return registry.Membership{}, err
	}
	for _, m := range list {
		if m.Group.ID == group.ID {
			return m, nil
		}
	}
	return registry.Membership{}, fault.New(fault.NotFound, "%s is no member of %s: rockledger account list --group %s says who is", account.Email, slug, slug)
}

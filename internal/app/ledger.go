package app

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// SealStore is the part of Store that seals the ledger and goes over it.
type SealStore interface {
	// Seal closes the group's ledger up to the oldest transaction at work and
	// returns the seals made. Of several at once one succeeds.
	Seal(ctx context.Context, group uuid.UUID, at time.Time) ([]registry.Seal, error)
	// Unsealed returns those of the groups, in order, that have entries which no
	// seal covers.
	Unsealed(ctx context.Context, groups []uuid.UUID) ([]uuid.UUID, error)
	// Seals lists seals, newest first.
	Seals(ctx context.Context, group uuid.UUID, page registry.SealPage) ([]registry.Seal, error)
	SealLag(ctx context.Context, group uuid.UUID) (registry.SealLag, error)
	// VerifyLedger compares seals, entries and tables with each other; hash, if
	// not empty, is a seal's or its beginning.
	VerifyLedger(ctx context.Context, group uuid.UUID, hash string) (registry.LedgerCheck, error)
}

// SealLedgers closes the ledger of every group that has something to seal and
// returns how many seals that made. An error in one group does not keep the
// others from being sealed; all errors are returned together.
func (s *Service) SealLedgers(ctx context.Context) (int, error) {
	groups, err := s.store.Groups(ctx)
	if err != nil {
		return 0, fmt.Errorf("list groups: %w", err)
	}
	slugs, all := make(map[uuid.UUID]string, len(groups)), make([]uuid.UUID, len(groups))
	for i, g := range groups {
		slugs[g.ID], all[i] = g.Slug, g.ID
	}
	due, err := s.store.Unsealed(ctx, all)
	if err != nil {
		return 0, err
	}
	var (
		errs []error
		made int
	)
	for _, group := range due {
		if ctx.Err() != nil {
			return made, errors.Join(append(errs, ctx.Err())...)
		}
		seals, err := s.store.Seal(ctx, group, s.instant())
		if err != nil {
			errs = append(errs, fmt.Errorf("seal the ledger of %s: %w", slugs[group], err))
		}
		made += len(seals)
	}
	return made, errors.Join(errs...)
}

// Seals lists the group's seals, newest first and at most 500 a page, and says
// what waits to be sealed.
func (s *Service) Seals(ctx context.Context, who registry.Actor, page registry.SealPage) ([]registry.Seal, registry.SealLag, error) {
	if err := may(who, ListSeals); err != nil {
		return nil, registry.SealLag{}, err
	}
	page.Limit = bounded(registry.Page{Limit: page.Limit}).Limit
	seals, err := s.store.Seals(ctx, who.GroupID, page)
	if err != nil {
		return nil, registry.SealLag{}, err
	}
	lag, err := s.store.SealLag(ctx, who.GroupID)
	return seals, lag, err
}

// hashes are a seal's hash or its beginning, as it is printed.
var hashes = regexp.MustCompile(`^[0-9a-fA-F]{16,64}$`)

// VerifyLedger goes over the group's ledger, its seals and the tables that it
// speaks of. hash, if not empty, asks whether a seal is in the chain: at least
// the first 16 digits of its hash, otherwise fault.Invalid.
func (s *Service) VerifyLedger(ctx context.Context, who registry.Actor, hash string) (registry.LedgerCheck, error) {
	if err := may(who, VerifyLedger); err != nil {
		return registry.LedgerCheck{}, err
	}
	var c fault.Checks
	c.Require(hash == "" || hashes.MatchString(hash), "seal", fault.Malformed)
	if err := c.Err(); err != nil {
		return registry.LedgerCheck{}, err
	}
	return s.store.VerifyLedger(ctx, who.GroupID, hash)
}

// newestSeal is the group's last seal, nil where there is none yet.
func (s *Service) newestSeal(ctx context.Context, who registry.Actor) (*registry.Seal, error) {
	seals, err := s.store.Seals(ctx, who.GroupID, registry.SealPage{Limit: 1})
	if err != nil || len(seals) == 0 {
		return nil, err
	}
	return &seals[0], nil
}

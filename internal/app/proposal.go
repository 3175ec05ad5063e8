package app

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strconv"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// ProposalStore is the part of Store that keeps what the notes of lists
// propose.
type ProposalStore interface {
	Proposals(ctx context.Context, group uuid.UUID, filter registry.ProposalFilter, page registry.Page) ([]registry.Proposal, error)
	// ProposalsNamed lists those of the ids that are proposals of the group.
	ProposalsNamed(ctx context.Context, group uuid.UUID, ids []uuid.UUID) ([]registry.Proposal, error)
	// OpenProposals counts those that nobody has decided yet.
	OpenProposals(ctx context.Context, group uuid.UUID) (int, error)
}

// Proposals lists what the notes of imported lists propose, by filter. A state
// or kind that there is not is fault.Invalid. Stewards decide on them, and see
// them: notes may name people and say what landowners asked for.
func (s *Service) Proposals(ctx context.Context, who registry.Actor, filter registry.ProposalFilter, page registry.Page) ([]registry.Proposal, error) {
	return list(who, ListProposals, page, func(p registry.Page) ([]registry.Proposal, error) {
		if err := checkProposalFilter(&filter); err != nil {
			return nil, err
		}
		return s.store.Proposals(ctx, who.GroupID, filter, p)
	})
}

func checkProposalFilter(f *registry.ProposalFilter) error {
	var c fault.Checks
	c.Require(f.State == "" || slices.Contains(registry.ProposalStates(), f.State), "state", fault.Unknown)
	c.Require(f.Kind == "" || slices.Contains(registry.ProposalKinds(), f.Kind), "kind", fault.Unknown)
	return c.Err()
}

// ProposalGroups gathers the proposals that a filter finds: those of one site
// with the same words for the same thing, by site, kind and words.
func (s *Service) ProposalGroups(ctx context.Context, who registry.Actor, filter registry.ProposalFilter) ([]report.ProposalGroup, error) {
	if err := may(who, ListProposals); err != nil {
		return nil, err
	}
	found, err := all(func(p registry.Page) ([]registry.Proposal, error) {
		return s.Proposals(ctx, who, filter, p)
	}, func(p *registry.Proposal) uuid.UUID { return p.ID })
	if err != nil {
		return nil, fmt.Errorf("group proposals: %w", err)
	}
	return s.grouped(ctx, who, found)
}

// GroupProposals gathers proposals that were read before, on the terms of
// ProposalGroups.
func (s *Service) GroupProposals(ctx context.Context, who registry.Actor, found []registry.Proposal) ([]report.ProposalGroup, error) {
	if err := may(who, ListProposals); err != nil {
		return nil, err
	}
	return s.grouped(ctx, who, found)
}

func (s *Service) grouped(ctx context.Context, who registry.Actor, found []registry.Proposal) ([]report.ProposalGroup, error) {
	names := make(map[uuid.UUID]string)
	byKey := make(map[string]*report.ProposalGroup)
	for _, p := range found {
		if _, known := names[p.SiteID]; !known {
			site, err := s.store.Site(ctx, who.GroupID, p.SiteID)
			if err != nil {
				return nil, fmt.Errorf("name the site of a proposal: %w", err)
			}
			names[p.SiteID] = site.Name
		}
		key := p.Group()
		if byKey[key] == nil {
			byKey[key] = &report.ProposalGroup{SiteID: p.SiteID, Site: names[p.SiteID], Noted: p.Noted}
		}
		byKey[key].Proposals = append(byKey[key].Proposals, p)
	}
	return inOrder(byKey), nil
}

func inOrder(byKey map[string]*report.ProposalGroup) []report.ProposalGroup {
	out := make([]report.ProposalGroup, 0, len(byKey))
	for _, g := range byKey {
		out = append(out, *g)
	}
	kinds := registry.ProposalKinds()
	slices.SortFunc(out, func(a, b report.ProposalGroup) int {
		return cmp.Or(
			cmp.Compare(slices.Index(kinds, a.Noted.Kind), slices.Index(kinds, b.Noted.Kind)),
			cmp.Compare(a.Site, b.Site), compareIDs(a.SiteID, b.SiteID),
			cmp.Compare(a.Noted.Key(), b.Noted.Key()),
		)
	})
	return out
}

// openProposals counts what whoever asks might decide: none for those who may
// not.
func (s *Service) openProposals(ctx context.Context, who registry.Actor) (int, error) {
	if may(who, ListProposals) != nil {
		return 0, nil
	}
	return s.store.OpenProposals(ctx, who.GroupID)
}

// MaxDecided is how many proposals are decided at once.
const MaxDecided = 2000

// DecideProposals accepts or declines proposals: all of them or none. Accepting
// makes, in the same transaction,
//
//   - of restrictions of one site with the same words and days: one at the
//     nearest place whose standing anchors all carry the note, else one at each
//     such route and sector within, and at each position left over; they count
//     as a request;
//   - of conditions: a permission of the position's landowner from today, the
//     note as its condition;
//   - of what was seen, and of dates: an inspection from the list, a glance on
//     the day of the row's last check; with a date, to watch the anchor and
//     inspect it by then. Being imported, it lifts nothing;
//   - of a climate: a statement about the position from today;
//   - of a role: the position's.
//
// What is on record already is not made again. Proposals that are not there, and
// those that cannot be accepted as things stand, are fault.Invalid, decided ones
// fault.Conflict, each with a violation of "ids" that names it. More than 2000
// are fault.TooLarge.
func (s *Service) DecideProposals(ctx context.Context, who registry.Actor, d registry.ProposalDecision) (report.Decided, error) {
	if err := may(who, DecideProposals); err != nil {
		return report.Decided{}, err
	}
	found, err := s.undecided(ctx, who, &d)
	if err != nil {
		return report.Decided{}, fmt.Errorf("decide proposals: %w", err)
	}
	at := s.instant()
	for i := range found {
		p := &found[i]
		p.State, p.DecidedAt, p.DecidedBy, p.PersonID = d.Decision.State(), at, who.Who, d.PersonID
	}
	out := report.Decided{Accepted: d.Decision == registry.Accept}
	if out.Accepted {
		out.Made, err = s.acceptProposals(ctx, who, found)
	} else {
		err = s.store.Write(ctx, who, registry.Change{What: "proposals declined", At: at, Proposals: found})
	}
	if err != nil {
		return report.Decided{}, fmt.Errorf("decide proposals: %w", raced(err))
	}
	for i := range found {
		found[i].Version++
	}
	out.Proposals = found
	s.freshen(ctx, who)
	return out, nil
}

// raced turns "changed meanwhile" into a conflict: somebody decided first.
func raced(err error) error {
	if fault.KindOf(err) == fault.Stale {
		return fault.Wrap(fault.Conflict, err, "decided meanwhile")
	}
	return err
}

// undecided reads the proposals to be decided.
func (s *Service) undecided(ctx context.Context, who registry.Actor, d *registry.ProposalDecision) ([]registry.Proposal, error) {
	if n := len(d.IDs); n > MaxDecided {
		return nil, fault.New(fault.TooLarge, "%d proposals", n).With("rows", strconv.Itoa(n), "limit", strconv.Itoa(MaxDecided))
	}
	var c fault.Checks
	c.Require(d.Decision == registry.Accept || d.Decision == registry.Decline, "decision", fault.Unknown,
		"allowed", string(registry.Accept)+", "+string(registry.Decline))
	c.Require(len(d.IDs) > 0, "ids", fault.Required)
	if d.PersonID != nil {
		_, err := s.store.Person(ctx, who.GroupID, *d.PersonID)
		if err != nil && !missing(&c, "person_id", err) {
			return nil, err
		}
	}
	found, err := s.store.ProposalsNamed(ctx, who.GroupID, d.IDs)
	if err != nil {
		return nil, err
	}
	there, decided := make(map[uuid.UUID]bool), fault.Checks{}
	for _, p := range found {
		there[p.ID] = true
		decided.Require(p.State == registry.ProposalOpen, "ids", fault.Duplicate, "id", p.ID.String(), "because", "decided")
	}
	for _, id := range distinct(d.IDs) {
		c.Require(there[id], "ids", fault.NoSuchReference, "id", id.String())
	}
	if err := c.Err(); err != nil {
		return nil, err
	}
	if e, ok := fault.As(decided.Err()); ok {
		conflict := fault.New(fault.Conflict, "%d proposals are decided", len(e.Violations))
		conflict.Violations = e.Violations
		return nil, conflict
	}
	return found, nil
}

package app

import (
	"slices"

	"rockledger/internal/registry"
)

// propose keeps what the notes of a row would become as proposals about its
// anchor. Of those made of an earlier list about the same anchor, whatever
// became of them, none is made twice, and an open one that the row no longer
// has ends.
func (in *intake) propose(row *registry.ListRow, f *registry.Facts, earlier []registry.Proposal) {
	now := proposalsOf(row, f)
	for i := range now {
		if !slices.ContainsFunc(earlier, sameNote(&now[i])) {
			now[i].ID, now[i].ImportID = newID(), in.id
			in.written.Proposals = append(in.written.Proposals, now[i])
			in.report.Proposals++
		}
	}
	for _, p := range earlier {
		if p.State == registry.ProposalOpen && !slices.ContainsFunc(now, sameNote(&p)) {
			in.written.Proposals = append(in.written.Proposals, ended(p))
		}
	}
}

// proposalsOf turns what a row's notes would become into open proposals about
// an anchor, without ids.
func proposalsOf(row *registry.ListRow, f *registry.Facts) []registry.Proposal {
	out := make([]registry.Proposal, len(row.Noted))
	for i, n := range row.Noted {
		out[i] = registry.Proposal{
			Line: row.Line, SiteID: f.Anchor.SiteID, PositionID: f.Position.ID, AnchorID: f.Anchor.ID,
			Noted: n, Seen: row.CheckedOn, State: registry.ProposalOpen,
		}
	}
	return out
}

// sameNote finds a proposal of the same words for the same thing. One that
// ended is no longer there.
func sameNote(p *registry.Proposal) func(registry.Proposal) bool {
	key := p.Key()
	return func(o registry.Proposal) bool { return o.State != registry.ProposalEnded && o.Key() == key }
}

func ended(p registry.Proposal) registry.Proposal {
	p.State = registry.ProposalEnded
	return p
}

// reproposes compares the notes of a corrected row with what those of the lists
// before proposed. A list without notes says nothing of them, and notes that
// clash are left alone; so are the same notes read by a day that the list was
// only told by the register.
func (in *intake) reproposes(c *correction) {
	later := !slices.Contains(c.kept, "last_inspected") && !sameDays(c.row.CheckedOn, c.prev.CheckedOn)
	if !c.has("notes") || slices.Contains(c.kept, "notes") || tidy(c.row.Notes) == tidy(c.prev.Notes) && !later {
		return
	}
	in.propose(c.row, &c.facts, in.proposals[c.facts.Anchor.ID])
}

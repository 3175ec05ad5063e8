package app

import (
	"cmp"
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// landBook gathers a land report.
type landBook struct {
	from, to, asOf calendar.Date
	rules          houserules.Rules
	detail         bool
	reach          reach

	pages   map[uuid.UUID]*landPage // by landowner, the nil id for not known
	ownerOf map[uuid.UUID]uuid.UUID // by parcel
	records map[uuid.UUID][]registry.LandRecord
}

// landPage is what one landowner's part is made of.
type landPage struct {
	report.LandOwner
	ended    bool // holds land no longer, and the report is of all
	problems map[string]*report.LandProblem
	barred   map[uuid.UUID]bool
}

// open starts a page for each landowner and puts on it what is not an anchor's.
func (b *landBook) open(only *uuid.UUID, owners []registry.Landowner, parcels []registry.Parcel,
	agreements []registry.Agreement, records []registry.LandRecord,
) {
	b.pages, b.ownerOf = make(map[uuid.UUID]*landPage), make(map[uuid.UUID]uuid.UUID)
	b.records = make(map[uuid.UUID][]registry.LandRecord)
	for i := range owners {
		if only == nil || owners[i].ID == *only {
			page := newLandPage(&owners[i].ID, owners[i].Name)
			page.ended = only == nil && !owners[i].EndedOn.IsZero()
			b.pages[owners[i].ID] = page
		}
	}
	if only == nil {
		b.pages[uuid.Nil] = newLandPage(nil, "")
	}
	for _, p := range parcels {
		measure(&p)
		b.ownerOf[p.ID] = p.LandownerID
		if page := b.pages[p.LandownerID]; page != nil {
			page.Parcels = append(page.Parcels, p)
			b.bar(page, func(r *registry.Restriction) bool { return deref(r.ParcelID) == p.ID })
		}
	}
	for _, a := range agreements {
		page := b.pages[deref(a.LandownerID)]
		if page != nil && a.LandownerID != nil && a.From <= b.to && (a.Until.IsZero() || a.Until >= b.from) {
			page.Agreements = append(page.Agreements, a)
		}
	}
	for _, r := range records {
		b.records[r.AnchorID] = append(b.records[r.AnchorID], r)
		if page := b.pages[deref(r.LandownerID)]; page != nil {
			page.work(r.Kind)
		}
	}
}

func newLandPage(id *uuid.UUID, name string) *landPage {
	return &landPage{
		LandOwner: report.LandOwner{ID: id, Name: name, ByStanding: make(map[registry.Standing]int)},
		problems:  make(map[string]*report.LandProblem), barred: make(map[uuid.UUID]bool),
	}
}

// bar notes the restrictions that are meant and bar some day of the period.
func (b *landBook) bar(page *landPage, meant func(*registry.Restriction) bool) {
	for id, r := range b.reach.byID {
		if !page.barred[id] && meant(r) && !barsIn(r, b.from, b.to).IsZero() {
			page.barred[id] = true
			page.Restrictions = append(page.Restrictions, *r)
		}
	}
}

func (p *landPage) work(kind string) {
	for i := range p.Work {
		if p.Work[i].Kind == kind {
			p.Work[i].Count++
			return
		}
	}
	p.Work = append(p.Work, report.LandWork{Kind: kind, Count: 1})
}

// take puts one anchor on the page of whose land it is on.
func (b *landBook) take(line registry.ReportLine, facts registry.Facts) error {
	owner := uuid.Nil
	if parcel := facts.Position.ParcelID; parcel != nil {
		owner = b.ownerOf[*parcel]
	}
	page := b.pages[owner]
	if page == nil {
		return nil
	}
	now, set := b.assess(&facts, b.asOf)
	then, wasSet := b.assess(&facts, b.from-1)
	if set && now.Standing != registry.StandingRemoved {
		page.Anchors++
		page.ByStanding[now.Standing]++
		b.bar(page, func(r *registry.Restriction) bool {
			return slices.Contains(b.reach.at[facts.Position.ID], r.ID)
		})
	}
	line = withAssessment(line, facts.Anchor, now)
	problem := set && b.problems(page, &facts, now, then, wasSet)
	records := b.records[facts.Anchor.ID]
	if b.detail && set && (problem || len(records) > 0) {
		page.Lines = append(page.Lines, report.LandLine{Line: line, Work: records})
	}
	return nil
}

// assess assesses an anchor as of a day, and reports false if it was surely not
// yet set.
func (b *landBook) assess(facts *registry.Facts, day calendar.Date) (registry.Assessment, bool) {
	past, set := facts.Current().Until(day)
	if !set {
		return registry.Assessment{}, false
	}
	return assess.Anchor(past, b.rules, day), true
}

// problems counts what is or was held against an anchor, and reports whether
// anything was.
func (b *landBook) problems(page *landPage, facts *registry.Facts, now, then registry.Assessment, wasSet bool) bool {
	held := make(map[string]*registry.Finding)
	any := false
	for i := range now.Findings {
		f := &now.Findings[i]
		held[f.Rule] = f
		if f.Severity.Rank() >= registry.Watch.Rank() {
			any = true
			b.done(page.problem(f), facts, &now, f)
		}
	}
	if !wasSet {
		return any
	}
	for i := range then.Findings {
		f := &then.Findings[i]
		if held[f.Rule] != nil || f.Weighs().Rank() < registry.Watch.Rank() {
			continue
		}
		any = true
		p := page.problem(f)
		if now.Standing == registry.StandingRemoved {
			p.Removed++
		} else {
			p.Cleared++
		}
	}
	return any
}

// problem returns the count of a finding's rule, one anchor more.
func (p *landPage) problem(f *registry.Finding) *report.LandProblem {
	n := p.problems[f.Rule]
	if n == nil {
		n = &report.LandProblem{Rule: f.Rule}
		p.problems[f.Rule] = n
	}
	if f.Severity.Rank() > n.Severity.Rank() {
		n.Severity = f.Severity
	}
	n.Anchors++
	return n
}

// done counts what was done about a problem that stands.
func (b *landBook) done(p *report.LandProblem, facts *registry.Facts, now *registry.Assessment, f *registry.Finding) {
	switch {
	case f.SettledBy != nil:
		p.Settled++
	case now.Standing == registry.StandingOutOfUse:
		p.OutOfUse++
	case slices.ContainsFunc(facts.Current().Inspections, b.inspectedIn):
		p.Inspected++
	default:
		p.Open++
	}
}

// inspectedIn says whether an inspection of the period was hands-on or closer.
func (b *landBook) inspectedIn(i registry.Inspection) bool {
	return i.Level.Rank() >= registry.HandsOn.Rank() && !i.NotFound() && i.Ticked &&
		i.DoneOn.From >= b.from && i.DoneOn.To <= b.asOf
}

// close returns the pages in order: landowners by name, then land whose owner is
// not known. That, and who holds land no longer, is left out where there is
// nothing to report.
func (b *landBook) close() []report.LandOwner {
	var out []report.LandOwner
	for _, page := range b.pages {
		if (page.ID == nil || page.ended) && page.bare() {
			continue
		}
		page.sort()
		out = append(out, page.LandOwner)
	}
	slices.SortFunc(out, func(a, b report.LandOwner) int {
		switch {
		case (a.ID == nil) != (b.ID == nil):
			return before(b.ID == nil)
		case a.Name != b.Name:
			return cmp.Compare(a.Name, b.Name)
		}
		return compareIDs(deref(a.ID), deref(b.ID))
	})
	return out
}

// bare says that there is nothing to report.
func (p *landPage) bare() bool {
	return p.Anchors == 0 && len(p.Work)+len(p.problems)+len(p.Agreements)+len(p.Restrictions) == 0
}

func (p *landPage) sort() {
	for _, n := range p.problems {
		p.Problems = append(p.Problems, *n)
	}
	slices.SortFunc(p.Problems, func(a, b report.LandProblem) int {
		return cmp.Or(cmp.Compare(b.Severity.Rank(), a.Severity.Rank()), cmp.Compare(b.Anchors, a.Anchors), cmp.Compare(a.Rule, b.Rule))
	})
	slices.SortFunc(p.Work, func(a, b report.LandWork) int { return cmp.Compare(a.Kind, b.Kind) })
	slices.SortFunc(p.Restrictions, func(a, b registry.Restriction) int { return compareIDs(a.ID, b.ID) })
	slices.SortFunc(p.Lines, func(a, b report.LandLine) int { return byStanding(&a.Line.Assessment, &b.Line.Assessment) })
}

package app

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/assess"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// reasonUndone is why the records of an undone import are taken back.
const reasonUndone = "the import was undone"

// wordsUndone stand for the day on which an anchor entered by mistake came out,
// which it never did.
const wordsUndone = "entered by mistake; the import was undone"

// maxInTheWay is how many things that stand in the way are named.
const maxInTheWay = 50

// UndoImport takes a whole import back: its records are retracted, its anchors
// count as never entered, and the positions, assemblies, routes, sectors and
// sites that it made end today, the latter three where nothing else uses them.
// What its notes proposed and nobody has decided ends.
// People, landowners, parcels, products and batches stay. The same file may
// then enter again.
//
// An import that is not there is fault.NotFound; one undone already is
// fault.Conflict. So is one that stands in use, with a violation for each thing
// in the way, the first 50: what was recorded on its anchors since, anchors
// that were changed since or came to its positions, assemblies and notices of
// others that name them, and anchors of other lists that it corrected.
func (s *Service) UndoImport(ctx context.Context, who registry.Actor, id uuid.UUID) (report.Undone, error) {
	if err := may(who, UndoImport); err != nil {
		return report.Undone{}, err
	}
	var out report.Undone
	asOf, at := s.AsOf(who), s.instant()
	err := s.store.Undo(ctx, who, id, func(u registry.Undoing, rules houserules.Rules) (registry.Change, error) {
		if u.Undone {
			return registry.Change{}, fault.New(fault.Conflict, "it is undone already").WithCode(fault.InUse).With("undone", u.FileName)
		}
		if err := inTheWay(&u); err != nil {
			return registry.Change{}, err
		}
		d := undoing{Undoing: u, asOf: asOf, at: at}
		d.takeBack(rules)
		d.endPlaces()
		out = d.done
		return d.change, nil
	})
	if err != nil {
		return report.Undone{}, fmt.Errorf("undo import %v: %w", id, err)
	}
	return out, nil
}

// inTheWay returns fault.Conflict with what keeps an import from being undone,
// nil if nothing does.
func inTheWay(u *registry.Undoing) error {
	b := blocks{u: u, places: placesOf(u), made: madeIn(u.Made)}
	for i := range u.Facts {
		b.look(&u.Facts[i])
	}
	for _, id := range u.Corrected {
		b.add(registry.Anchor{ID: id}, "corrected", "")
	}
	for _, a := range u.Beside {
		b.add(a, "anchor", "")
	}
	for _, a := range u.Assemblies {
		if !b.made[a.ID] && a.EndedOn.IsZero() {
			b.add(registry.Anchor{}, "assembly", a.Name)
		}
	}
	if len(b.found) == 0 {
		return nil
	}
	e := fault.New(fault.Conflict, "%d things stand in the way", len(b.found)).WithCode(fault.InUse).
		With("in_the_way", strconv.Itoa(len(b.found)))
	e.Violations = b.found[:min(len(b.found), maxInTheWay)]
	return e
}

// blocks gathers what stands in the way of undoing an import.
type blocks struct {
	u      *registry.Undoing
	places map[uuid.UUID]string // by position
	made   map[uuid.UUID]bool
	found  []fault.Violation
}

// add names one thing in the way: a record, "anchor" (another at the position),
// "changed", "corrected", "fitting", "notice" or "assembly".
func (b *blocks) add(a registry.Anchor, what, detail string) {
	v := fault.Violation{Field: "anchors", Code: fault.InUse, Values: map[string]string{"what": what}}
	for name, text := range map[string]string{"place": b.places[a.PositionID], "detail": detail} {
		if text != "" {
			v.Values[name] = text
		}
	}
	if a.ID != uuid.Nil {
		v.Values["anchor_id"] = a.ID.String()
	}
	b.found = append(b.found, v)
}

// look finds what was recorded of an anchor since it was entered and counts.
func (b *blocks) look(f *registry.Facts) {
	now, a := f.Current(), f.Anchor
	since := func(what string, list ...registry.Record) {
		for _, r := range list {
			if !b.made[r.ID] {
				b.add(a, what, r.DoneOn.String())
			}
		}
	}
	for _, r := range now.Installations {
		since(installations.what, r.Record)
	}
	for _, r := range now.Cures {
		since(cures.what, r.Record)
	}
	for _, r := range now.FirstUses {
		since(firstUses.what, r.Record)
	}
	for _, r := range now.Inspections {
		since(inspections.what, r.Record)
	}
	for _, r := range now.Maintenance {
		since(maintenances.what, r.Record)
	}
	for _, r := range now.Markings {
		since(markings.what, r.Record)
	}
	for _, r := range now.Removals {
		since(removals.what, r.Record)
	}
	for _, r := range now.Settlements {
		since(settlements.what, r.Record)
	}
	for _, n := range f.Notices {
		b.add(a, "notice", n.Title)
	}
	for _, t := range f.Fittings {
		if t.Version > 1 || !b.made[t.ID] {
			b.add(a, "fitting", string(t.Kind))
		}
	}
	if a.Version > 1 {
		b.add(a, "changed", "")
	}
}

// placesOf names the positions that an import made.
func placesOf(u *registry.Undoing) map[uuid.UUID]string {
	names := make(map[uuid.UUID]string)
	for i := range u.Sites {
		names[u.Sites[i].ID] = u.Sites[i].Name
	}
	for i := range u.Routes {
		names[u.Routes[i].ID] = u.Routes[i].Name
	}
	on := make(map[uuid.UUID]string)
	for _, s := range u.Stops {
		on[s.PositionID] = names[s.RouteID]
	}
	places := make(map[uuid.UUID]string)
	for _, p := range u.Positions {
		places[p.ID] = placeOfRow(&registry.ListRow{Site: names[p.SiteID], Route: on[p.ID], Label: p.Label})
	}
	return places
}

// undoing is an import that is being taken back.
type undoing struct {
	registry.Undoing
	asOf   calendar.Date
	at     time.Time
	change registry.Change
	done   report.Undone
}

// takeBack retracts the records of the import and lets its anchors count as
// never entered.
func (d *undoing) takeBack(rules houserules.Rules) {
	d.change.What, d.change.At = "import undone", d.at
	d.change.ImportUndo = &registry.ImportUndo{ImportID: d.ImportID, Anchors: len(d.Facts), At: d.at}
	for i := range d.Facts {
		f := d.Facts[i]
		f.Anchor.Removed, f.Anchor.Mistaken, f.Anchor.RemovedOn = true, true, calendar.Span{Words: wordsUndone}
		current := f.Current()
		for _, id := range recordIDs(&registry.Facts{
			Installations: current.Installations, Inspections: current.Inspections, Removals: current.Removals,
		}) {
			f.Retractions = append(slices.Clone(f.Retractions), newRetraction(f.Anchor.ID, id, reasonUndone, d.asOf, d.at))
			d.change.Retractions = append(d.change.Retractions, f.Retractions[len(f.Retractions)-1])
		}
		d.change.Anchors = append(d.change.Anchors, f.Anchor)
		d.change.Assessments = append(d.change.Assessments, assess.Anchor(f.Current(), rules, d.asOf))
	}
	for _, p := range d.Proposals {
		if p.State == registry.ProposalOpen {
			d.change.Proposals = append(d.change.Proposals, ended(p))
		}
	}
	d.done = report.Undone{
		ImportID: d.ImportID, FileName: d.FileName, Anchors: len(d.Facts), Records: len(d.change.Retractions),
	}
}

// endPlaces ends what the import made and nothing else uses: the positions and
// their assemblies, then from the routes up to the sites what is left empty.
func (d *undoing) endPlaces() {
	made, used, c := madeIn(d.Made), make(map[uuid.UUID]bool), &d.change
	use := func(places ...*uuid.UUID) {
		for _, id := range places {
			if id != nil {
				used[*id] = true
			}
		}
	}
	for _, p := range d.Positions {
		if p.EndedOn.IsZero() && !made[p.ID] {
			use(&p.ID, &p.SiteID, p.SectorID)
		} else if p.EndedOn.IsZero() {
			p.EndedOn = d.asOf
			c.Positions = append(c.Positions, p)
		}
	}
	for _, a := range d.Assemblies {
		if a.EndedOn.IsZero() && made[a.ID] {
			a.EndedOn = d.asOf
			c.Assemblies = append(c.Assemblies, a)
		}
	}
	for _, s := range d.Stops {
		if used[s.PositionID] {
			use(&s.RouteID)
		}
	}
	idle := func(id uuid.UUID, version int) bool { return made[id] && !used[id] && version == 1 }
	for _, r := range d.Routes {
		if r.EndedOn.IsZero() && !idle(r.ID, r.Version) {
			use(&r.SiteID, r.SectorID)
		} else if r.EndedOn.IsZero() {
			r.EndedOn = d.asOf
			c.Routes = append(c.Routes, r)
		}
	}
	d.endSectors(idle, use)
}

// endSectors ends the sectors and sites that are left empty.
func (d *undoing) endSectors(idle func(uuid.UUID, int) bool, use func(...*uuid.UUID)) {
	c := &d.change
	for _, s := range d.Sectors {
		if s.EndedOn.IsZero() && !idle(s.ID, s.Version) {
			use(&s.SiteID)
		} else if s.EndedOn.IsZero() {
			s.EndedOn = d.asOf
			c.Sectors = append(c.Sectors, s)
		}
	}
	for _, s := range d.Sites {
		if s.EndedOn.IsZero() && idle(s.ID, s.Version) {
			s.EndedOn = d.asOf
			c.Sites = append(c.Sites, s)
		}
	}
	d.done.Places = len(c.Positions) + len(c.Routes) + len(c.Sectors) + len(c.Sites)
}

// madeIn is the set of all ids that an import made.
func madeIn(byNoun map[string][]uuid.UUID) map[uuid.UUID]bool {
	made := make(map[uuid.UUID]bool)
	for _, ids := range byNoun {
		for _, id := range ids {
			made[id] = true
		}
	}
	return made
}

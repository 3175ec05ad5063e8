package app

import (
	"context"
	"fmt"
	"slices"
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
// What its notes proposed and nobody has decided ends, and so do the landowners
// and parcels that it made, where nothing else uses them and nobody changed them.
// People, products and batches stay. The same file may then enter again.
//
// A long list is only kept to be undone, by RunImport or RunImports: then its
// state is returned, and nothing is taken back yet. One that waits for that
// already is left at it.
//
// An import that is not there is fault.NotFound; one undone already is
// fault.Conflict, and so is one that is still being entered. So is one that
// stands in use, with a violation for each thing
// in the way, the first 50: what was recorded on its anchors since, anchors
// that were changed since or came to its positions, assemblies and notices of
// others that name them, lists that corrected them since, and what was changed
// since, or came to rest, on what it corrected itself. Of a long list only some of
// that is looked for here.
//
// What it corrected of the anchors of other lists is put back: its records are
// retracted, so that those count again which they replaced, and each cell that it
// took over goes back to what the list before had.
func (s *Service) UndoImport(ctx context.Context, who registry.Actor, id uuid.UUID) (report.Undone, *report.ImportState, error) {
	if err := may(who, UndoImport); err != nil {
		return report.Undone{}, nil, err
	}
	state, err := s.askUndo(ctx, who, id)
	var done report.Undone
	if err == nil && state == nil {
		done, err = s.undo(ctx, who, id, s.store.Undo)
	}
	if err != nil {
		return report.Undone{}, nil, fmt.Errorf("undo import %v: %w", id, err)
	}
	return done, state, nil
}

// undo takes an import back in one transaction.
func (s *Service) undo(ctx context.Context, who registry.Actor, id uuid.UUID, in undoer) (report.Undone, error) {
	var d *undoing
	asOf, at := s.AsOf(who), s.instant()
	err := in(ctx, who, id, func(u registry.Undoing, rules houserules.Rules) (registry.UndoSteps, error) {
		if err := undoable(u); err != nil {
			return registry.UndoSteps{}, err
		}
		d = newUndoing(u, rules, asOf, at)
		return registry.UndoSteps{Take: d.takeBack, End: d.end}, nil
	})
	if err != nil {
		return report.Undone{}, err
	}
	return d.done, nil
}

// undoable returns fault.Conflict for an import that is undone already, or still
// being entered.
func undoable(u registry.Undoing) error {
	e := fault.New(fault.Conflict, "it is undone already, or still being entered").WithCode(fault.InUse)
	switch {
	case u.Undone:
		return e.With("undone", u.FileName)
	case u.Open:
		return e.With("open", u.FileName)
	}
	return nil
}

// undoing is an import that is being taken back.
type undoing struct {
	registry.Undoing
	rules houserules.Rules
	asOf  calendar.Date
	at    time.Time

	made   map[uuid.UUID]bool
	blocks blocks
	ended  map[uuid.UUID]registry.Position // of the import
	change registry.Change                 // of the piece, then of the places
	back   *intake                         // that puts back what was corrected
	done   report.Undone
}

func newUndoing(u registry.Undoing, rules houserules.Rules, asOf calendar.Date, at time.Time) *undoing {
	made := madeIn(u.Made)
	return &undoing{
		Undoing: u, rules: rules, asOf: asOf, at: at, made: made,
		blocks: blocks{made: made, later: u.Later, named: make(map[uuid.UUID]bool)}, back: newBack(&u, asOf, at),
		ended: make(map[uuid.UUID]registry.Position), done: report.Undone{ImportID: u.ImportID, FileName: u.FileName},
	}
}

// takeBack retracts the records of some anchors of the import, lets these count
// as never entered, and ends their positions and open proposals.
func (d *undoing) takeBack(p registry.UndoPiece) registry.Change {
	d.blocks.byLists = p.ByLists
	for i := range p.Facts {
		d.blocks.look(&p.Facts[i])
	}
	for _, a := range p.Beside {
		if _, corrected := d.Corrected[a.ID]; !corrected && d.made[a.PositionID] {
			d.blocks.add(a, "anchor", "")
		}
	}
	d.change = registry.Change{What: "import undone", At: d.at}
	for i := range p.Facts {
		d.takeBackOne(p.Facts[i])
		d.endPosition(p.Facts[i].Position)
	}
	for i := range p.Corrected {
		d.putBack(p.Corrected[i], p.Beside)
	}
	d.takeLand()
	for _, x := range p.Proposals {
		_, corrected := d.Corrected[x.AnchorID]
		if x.State == registry.ProposalOpen && (!corrected || x.ImportID == d.ImportID) {
			d.change.Proposals = append(d.change.Proposals, ended(x))
		}
	}
	d.done.Anchors += len(p.Facts)
	d.done.Records += len(d.change.Retractions)
	return d.change
}

func (d *undoing) takeBackOne(f registry.Facts) {
	f.Anchor.Removed, f.Anchor.Mistaken, f.Anchor.RemovedOn = true, true, calendar.Span{Words: wordsUndone}
	current := f.Current()
	for _, id := range recordIDs(&registry.Facts{
		Installations: current.Installations, Inspections: current.Inspections, Removals: current.Removals,
	}) {
		f.Retractions = append(slices.Clone(f.Retractions), newRetraction(f.Anchor.ID, id, reasonUndone, d.asOf, d.at))
		d.change.Retractions = append(d.change.Retractions, f.Retractions[len(f.Retractions)-1])
	}
	d.change.Anchors = append(d.change.Anchors, f.Anchor)
	d.change.Assessments = append(d.change.Assessments, assess.Anchor(f.Current(), d.rules, d.asOf))
}

// endPosition ends a position that the import made, once.
func (d *undoing) endPosition(p registry.Position) {
	if _, done := d.ended[p.ID]; done || !d.made[p.ID] {
		return
	}
	d.ended[p.ID] = registry.Position{SiteID: p.SiteID, Label: p.Label}
	if p.EndedOn.IsZero() {
		p.EndedOn = d.asOf
		d.change.Positions = append(d.change.Positions, p)
		d.done.Places++
	}
}

// end ends what the import made and nothing else uses: the assemblies of its
// positions, then from the routes up to the sites what is left empty. It returns
// what stood in the way of all, if anything did.
func (d *undoing) end(left registry.PlacesLeft) (registry.Change, error) {
	d.change = registry.Change{
		What: "import undone", At: d.at,
	}
	for _, a := range d.Assemblies {
		if !a.EndedOn.IsZero() {
			continue
		}
		if !d.made[a.ID] {
			d.blocks.add(registry.Anchor{}, "assembly", a.Name)
		}
		a.EndedOn = d.asOf
		d.change.Assemblies = append(d.change.Assemblies, a)
	}
	if d.blocks.count > 0 {
		return registry.Change{}, d.blocks.err(d.places(left), d.Corrected)
	}
	d.endPlaces(left)
	d.endLand(left)
	d.change.ImportUndo = &registry.ImportUndo{ImportID: d.ImportID, Counts: d.done.UndoneCounts, At: d.at}
	return d.change, nil
}

// places names the positions that the import made.
func (d *undoing) places(left registry.PlacesLeft) map[uuid.UUID]string {
	names := make(map[uuid.UUID]string)
	for i := range left.Sites {
		names[left.Sites[i].ID] = left.Sites[i].Name
	}
	for i := range left.Routes {
		names[left.Routes[i].ID] = left.Routes[i].Name
	}
	on := make(map[uuid.UUID]string)
	for _, s := range left.Stops {
		on[s.PositionID] = names[s.RouteID]
	}
	places := make(map[uuid.UUID]string)
	for id, p := range d.ended {
		places[id] = placeOfRow(&registry.ListRow{Site: names[p.SiteID], Route: on[id], Label: p.Label})
	}
	return places
}

// endPlaces ends routes, sectors and sites that are left empty.
func (d *undoing) endPlaces(left registry.PlacesLeft) {
	used, c := make(map[uuid.UUID]bool), &d.change
	use := func(places ...*uuid.UUID) {
		for _, id := range places {
			if id != nil {
				used[*id] = true
			}
		}
	}
	for _, p := range left.Positions {
		use(&p.ID, &p.SiteID, p.SectorID)
	}
	for _, s := range left.Stops {
		if used[s.PositionID] {
			use(&s.RouteID)
		}
	}
	idle := func(id uuid.UUID, version int) bool { return d.made[id] && !used[id] && version == 1+d.Altered[id] }
	for _, r := range left.Routes {
		if r.EndedOn.IsZero() && !idle(r.ID, r.Version) {
			use(&r.SiteID, r.SectorID)
		} else if r.EndedOn.IsZero() {
			r.EndedOn = d.asOf
			c.Routes = append(c.Routes, r)
		}
	}
	d.endSectors(left, idle, use)
}

// endSectors ends the sectors and sites that are left empty.
func (d *undoing) endSectors(left registry.PlacesLeft, idle func(uuid.UUID, int) bool, use func(...*uuid.UUID)) {
	c := &d.change
	for _, s := range left.Sectors {
		if s.EndedOn.IsZero() && !idle(s.ID, s.Version) {
			use(&s.SiteID)
		} else if s.EndedOn.IsZero() {
			s.EndedOn = d.asOf
			c.Sectors = append(c.Sectors, s)
		}
	}
	for _, s := range left.Sites {
		if s.EndedOn.IsZero() && idle(s.ID, s.Version) {
			s.EndedOn = d.asOf
			c.Sites = append(c.Sites, s)
		}
	}
	d.done.Places += len(c.Routes) + len(c.Sectors) + len(c.Sites)
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

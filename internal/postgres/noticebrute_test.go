package postgres_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// doubt is 0 for no, 1 for not known and 2 for yes.
type doubt int

// put is one thing that was put on an anchor, glued in or hung, as the records
// leave it: what a criterion may ask after, each nil or empty where it is not
// known.
type put struct {
	hangs               bool
	hardware, adhesives []uuid.UUID
	batch, setter       *uuid.UUID
	day                 calendar.Span
	form                registry.Form
	rock                registry.RockClass
}

// brute says by a scan of all that was entered whom a criterion is about. It
// shares no code with what it checks: it is written from what recalls promise,
// that nothing that is not recorded rules an anchor out.
func (c *crowd) brute(n *registry.NoticeCriterion) map[uuid.UUID]registry.NoticeHit {
	hits := make(map[uuid.UUID]registry.NoticeHit)
	for i := range c.Anchors {
		a := &c.Anchors[i]
		if a.Removed || len(n.SiteIDs) > 0 && !slices.Contains(n.SiteIDs, a.SiteID) {
			continue
		}
		puts, glued := c.puts(a)
		surest := doubt(0)
		for _, p := range puts {
			if p.hangs && len(n.ProductIDs) == 0 && len(n.BatchIDs) == 0 {
				continue
			}
			surest = max(surest, c.asks(n, p, glued))
		}
		if surest > 0 {
			hits[a.ID] = []registry.NoticeHit{"", registry.HitPossible, registry.HitSure}[surest]
		}
	}
	return hits
}

// standing are an anchor's installations that nothing takes back or replaces.
func (c *crowd) standing(anchor uuid.UUID) []registry.Installation {
	gone := make(map[uuid.UUID]bool)
	for _, r := range c.Retractions {
		if !slices.ContainsFunc(c.Retractions, func(o registry.Retraction) bool { return o.RetractsID == r.ID }) {
			gone[r.RetractsID] = true
		}
	}
	old := make(map[uuid.UUID]bool)
	for _, i := range c.Installations {
		if i.Replaces != nil && !gone[i.ID] {
			old[*i.Replaces] = true
		}
	}
	var list []registry.Installation
	for _, i := range c.Installations {
		if i.AnchorID == anchor && !gone[i.ID] && !old[i.ID] {
			list = append(list, c.withSession(i))
		}
	}
	return list
}

// withSession fills in from the session, as last corrected, what the record
// leaves open. Nobody corrects a correction here.
func (c *crowd) withSession(i registry.Installation) registry.Installation {
	if i.SessionID == nil {
		return i
	}
	at := slices.IndexFunc(c.Sessions, func(s registry.GluingSession) bool { return s.Replaces != nil && *s.Replaces == *i.SessionID })
	if at < 0 {
		at = slices.IndexFunc(c.Sessions, func(s registry.GluingSession) bool { return s.ID == *i.SessionID })
	}
	s := c.Sessions[at]
	i.AdhesiveID, i.BatchID = s.AdhesiveID, s.BatchID // the crowd's records with a session name neither
	if i.PersonID == nil {
		i.PersonID = s.SetByID
	}
	if i.DoneOn.From == 0 {
		i.DoneOn = s.DoneOn
	}
	return i
}

// puts lists what was put on an anchor, and whether resin holds it.
func (c *crowd) puts(a *registry.Anchor) (list []put, glued doubt) {
	bondedForms := []registry.Form{registry.SingleShank, registry.TwistedLeg, registry.Staple, registry.GlueIn, registry.BondedStud}
	rock := c.Sites[slices.IndexFunc(c.Sites, func(s registry.Site) bool { return s.ID == a.SiteID })].Rock
	standing := c.standing(a.ID)
	if glued = 1; a.Form != "" {
		glued = 0
	}
	if slices.Contains(bondedForms, a.Form) {
		glued = 2
	}
	var spoken *registry.Installation // the latest that says what it was glued with
	for k := range standing {
		i := &standing[k]
		if i.AdhesiveID == nil && i.BatchID == nil {
			continue
		}
		glued = 2
		if spoken == nil || i.DoneOn.From > spoken.DoneOn.From || i.DoneOn.From == spoken.DoneOn.From && i.ID.String() > spoken.ID.String() {
			spoken = i
		}
	}
	known := func(ids ...*uuid.UUID) (out []uuid.UUID) {
		for _, id := range ids {
			if id != nil {
				out = append(out, *id)
			}
		}
		return out
	}
	for _, i := range standing {
		p := put{hardware: known(a.ProductID, i.HardwareID), setter: i.PersonID, day: i.DoneOn, form: a.Form, rock: i.Rock}
		if p.day.From == 0 {
			p.day = a.SetOn
		}
		if p.rock == "" {
			p.rock = rock
		}
		glue := &i
		if i.AdhesiveID == nil && i.BatchID == nil && spoken != nil {
			glue = spoken
		}
		p.adhesives, p.batch = known(glue.AdhesiveID), glue.BatchID
		if b := c.delivery(glue.BatchID); b != nil {
			p.adhesives = append(p.adhesives, known(b.ProductID)...)
		}
		list = append(list, p)
	}
	if len(standing) == 0 {
		list = append(list, put{hardware: known(a.ProductID), day: a.SetOn, form: a.Form, rock: rock})
	}
	for _, f := range c.Fittings {
		if f.AnchorID == a.ID && f.Presence != registry.Missing {
			list = append(list, put{hangs: true, hardware: known(f.ProductID), batch: f.BatchID, day: f.SetOn, rock: rock})
		}
	}
	return list, glued
}

func (c *crowd) delivery(id *uuid.UUID) *registry.Batch {
	for k := range c.Batches {
		if id != nil && c.Batches[k].ID == *id {
			return &c.Batches[k]
		}
	}
	return nil
}

// asks is the least of the answers to what is asked.
func (c *crowd) asks(n *registry.NoticeCriterion, p put, glued doubt) doubt {
	out := doubt(2)
	if n.From != 0 || n.To != 0 {
		out = overlap(p.day, n.From, n.To)
	}
	if len(n.SetterIDs) > 0 {
		out = min(out, isOneOf(p.setter, n.SetterIDs))
	}
	if len(n.Rocks) > 0 && !slices.Contains(n.Rocks, p.rock) {
		out = min(out, map[bool]doubt{true: 1}[p.rock == ""])
	}
	if len(n.ProductIDs) > 0 {
		best := doubt(0)
		for _, id := range n.ProductIDs {
			best = max(best, c.product(id, p, glued))
		}
		out = min(out, best)
	}
	if len(n.BatchIDs) > 0 {
		best := doubt(0)
		for _, id := range n.BatchIDs {
			best = max(best, c.ofBatch(id, p, glued))
		}
		out = min(out, best)
	}
	return out
}

func isOneOf(id *uuid.UUID, list []uuid.UUID) doubt {
	switch {
	case id == nil:
		return 1
	case slices.Contains(list, *id):
		return 2
	}
	return 0
}

// overlap goes through the period day by day: surely in it is a day that has no
// other day to be, possibly one that has.
func overlap(on calendar.Span, from, to calendar.Date) doubt {
	if on.From == 0 {
		return 1
	}
	in, out := false, false
	for d := on.From; d <= on.To; d = d.AddDays(1) {
		if (from == 0 || d >= from) && (to == 0 || d <= to) {
			in = true
		} else {
			out = true
		}
	}
	switch {
	case !in:
		return 0
	case out:
		return 1
	}
	return 2
}

// product says whether a product is in what was put: another that is named in its
// place rules it out, and so does a way of holding that it has not.
func (c *crowd) product(id uuid.UUID, p put, glued doubt) doubt {
	if slices.Contains(p.hardware, id) || slices.Contains(p.adhesives, id) {
		return 2
	}
	it := c.Products[slices.IndexFunc(c.Products, func(p registry.Product) bool { return p.ID == id })]
	if it.Kind == registry.Adhesive {
		if p.hangs || len(p.adhesives) > 0 || glued == 0 {
			return 0
		}
		return 1
	}
	if len(p.hardware) > 0 {
		return 0
	}
	if it.Form == "" {
		return 1
	}
	if p.hangs || p.form != "" && it.Form.Bonded() != p.form.Bonded() {
		return 0
	}
	return 1
}

// ofBatch says whether a delivery is in what was put: named it is; the same text
// under another product, or none written down where its product may be, leaves it
// open; another of resin, or another product, rules it out.
func (c *crowd) ofBatch(id uuid.UUID, p put, glued doubt) doubt {
	if p.batch != nil && *p.batch == id {
		return 2
	}
	asked, named := c.delivery(&id), c.delivery(p.batch)
	if !p.hangs && named != nil {
		if named.Text == asked.Text {
			return 1
		}
		return 0 // all batches of the crowd are of resin
	}
	if asked.ProductID == nil {
		return 1
	}
	return min(1, c.product(*asked.ProductID, p, glued))
}

// The preview of a notice misses no anchor and makes none up, nor how surely it
// is hit: over many registers in which much is not known, against a scan of each.
func TestNoticeReachIsAllThatAScanFinds(t *testing.T) {
	t.Parallel()
	first := newRegister(t)
	kinds := make(map[registry.NoticeHit]int)
	const registers, criteria = 12, 25
	for seed := range uint64(registers) {
		r, chance := first.beside(t), rand.New(rand.NewPCG(seed, 5))
		c := newCrowd(t, r, 60, chance)
		for range criteria {
			n := sample.Notice()
			n.ID, n.Criterion = uuid.Nil, c.criterion(chance)
			if !n.Criterion.Given() {
				continue
			}
			want := c.brute(&n.Criterion)
			if chance.IntN(4) == 0 {
				n.AnchorIDs = []uuid.UUID{c.anchors[chance.IntN(len(c.anchors))]}
				at := slices.IndexFunc(c.Anchors, func(a registry.Anchor) bool { return a.ID == n.AnchorIDs[0] })
				if a := c.Anchors[at]; !a.Removed && want[a.ID] != registry.HitSure {
					want[a.ID] = registry.HitNamed
				}
			}
			reach, err := r.store.NoticeReach(t.Context(), r.group.ID, n)
			check(t, err)
			got := make(map[uuid.UUID]registry.NoticeHit)
			for _, a := range reach.Anchors {
				got[a.AnchorID] = a.Hit
				kinds[a.Hit]++
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Fatalf("register of seed %d, criterion %+v (-scan +preview):\n%s", seed, n.Criterion, d)
			}
		}
	}
	if kinds[registry.HitSure] < 100 || kinds[registry.HitPossible] < 100 || kinds[registry.HitNamed] < 10 {
		t.Errorf("hits %v: the test shows nothing", kinds)
	}
	t.Logf("hits compared: %v", kinds)
}

package postgres_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// crowd is a register in which much is not known, and what notices can ask after.
type crowd struct {
	products, batches, persons, sites []uuid.UUID
	anchors                           []uuid.UUID
	registry.Change                   // all of it, as entered
}

// newCrowd invents so many anchors, of one chance always the same.
func newCrowd(t *testing.T, r *register, n int, chance *rand.Rand) *crowd {
	t.Helper()
	c := &crowd{}
	var ch registry.Change
	by := sample.Person()
	ch.Persons = append(ch.Persons, by)
	for k := range 6 {
		p := sample.Adhesive(func(p *registry.Product) { p.Name = fmt.Sprintf("Invented product %d", k) })
		if k > 2 {
			p = sample.Hardware(func(p *registry.Product) { p.Name = fmt.Sprintf("Invented product %d", k) })
			if k == 5 {
				p.Form = ""
			}
		}
		ch.Products, c.products = append(ch.Products, p), append(c.products, p.ID)
	}
	for k := range 8 {
		b := sample.Batch(ch.Products[k%3], func(b *registry.Batch) {
			b.Text = fmt.Sprintf("L%d", k/2)
			if k == 7 {
				b.ProductID = nil
			}
		})
		ch.Batches, c.batches = append(ch.Batches, b), append(c.batches, b.ID)
	}
	for k := range 3 {
		p := sample.Person(func(p *registry.Person) { p.Name = fmt.Sprintf("Invented person %d", k) })
		ch.Persons, c.persons = append(ch.Persons, p), append(c.persons, p.ID)
		site := sample.Site(func(s *registry.Site) {
			s.Name, s.Rock = fmt.Sprintf("Invented crag %d", k), []registry.RockClass{"", registry.RockHard, registry.RockSoft}[k]
		})
		ch.Sites, c.sites = append(ch.Sites, site), append(c.sites, site.ID)
	}
	maybe := func(ids []uuid.UUID) *uuid.UUID {
		if k := chance.IntN(len(ids) + 1); k < len(ids) {
			return &ids[k]
		}
		return nil
	}
	day := func() calendar.Span {
		if chance.IntN(5) == 0 {
			return calendar.Span{}
		}
		from := sample.Day.AddYears(-6).AddDays(chance.IntN(2000))
		return calendar.Span{From: from, To: from.AddDays([]int{0, 0, 200}[chance.IntN(3)])}
	}
	for k := range 12 {
		g := sample.GluingSession(ch.Sites[k%3], func(g *registry.GluingSession) {
			g.DoneOn, g.AdhesiveID, g.BatchID, g.SetByID = day(), maybe(c.products[:3]), maybe(c.batches), maybe(c.persons)
			if k > 8 {
				g.Replaces = &ch.Sessions[k-9].ID
			}
		})
		ch.Sessions = append(ch.Sessions, g)
	}
	forms := append(registry.Forms(), "")
	for k := range n {
		p := sample.Position(ch.Sites[k%3], func(p *registry.Position) { p.Label = fmt.Sprint(k) })
		a := sample.Anchor(p, func(a *registry.Anchor) {
			a.Form, a.ProductID, a.SetOn, a.Removed = forms[chance.IntN(len(forms))], maybe(c.products[3:]), day(), chance.IntN(9) == 0
		})
		ch.Positions, ch.Anchors, c.anchors = append(ch.Positions, p), append(ch.Anchors, a), append(c.anchors, a.ID)
		for range chance.IntN(3) {
			i := sample.Installation(a, func(i *registry.Installation) {
				i.DoneOn, i.PersonID, i.HardwareID = day(), maybe(c.persons), maybe(c.products[3:])
				i.AdhesiveID, i.BatchID, i.Rock = maybe(c.products[:3]), maybe(c.batches), []registry.RockClass{"", registry.RockOther}[chance.IntN(2)]
				if chance.IntN(2) == 0 {
					i.SessionID, i.AdhesiveID, i.BatchID = &ch.Sessions[chance.IntN(9)].ID, nil, nil
				}
			})
			ch.Installations = append(ch.Installations, i)
			switch chance.IntN(6) {
			case 0:
				back := sample.Retraction(a, by, i.ID)
				ch.Retractions = append(ch.Retractions, back)
				if chance.IntN(3) == 0 {
					ch.Retractions = append(ch.Retractions, sample.Retraction(a, by, back.ID))
				}
			case 1:
				ch.Installations = append(ch.Installations, sample.Installation(a, func(j *registry.Installation) { j.Replaces, j.BatchID = &i.ID, maybe(c.batches) }))
			}
		}
		if chance.IntN(2) == 0 {
			ch.Fittings = append(ch.Fittings, sample.Fitting(a, func(f *registry.Fitting) {
				f.ProductID, f.SetOn = maybe(c.products[3:]), day()
				f.Presence = []registry.Presence{registry.Present, registry.Present, registry.Missing}[chance.IntN(3)]
			}))
		}
	}
	r.enter(t, ch)
	c.Change = ch
	return c
}

// criterion invents what a notice goes by.
func (c *crowd) criterion(chance *rand.Rand) registry.NoticeCriterion {
	some := func(ids []uuid.UUID) []uuid.UUID {
		if chance.IntN(2) == 0 {
			return nil
		}
		return []uuid.UUID{ids[chance.IntN(len(ids))], ids[chance.IntN(len(ids))]}
	}
	n := registry.NoticeCriterion{ProductIDs: some(c.products), BatchIDs: some(c.batches), SetterIDs: some(c.persons), SiteIDs: some(c.sites)}
	if chance.IntN(3) == 0 {
		n.Rocks = []registry.RockClass{registry.RockHard, registry.RockOther}
	}
	if chance.IntN(3) == 0 {
		n.From = sample.Day.AddYears(-4)
	}
	if chance.IntN(3) == 0 {
		n.To = sample.Day.AddYears(-2)
	}
	return n
}

// What the store finds by narrow rows is what the facts of every anchor say, one
// by one: no hit is missed, and none is made up.
func TestNoticeReachIsAllThatFactsSay(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	c := newCrowd(t, r, 240, rand.New(rand.NewPCG(1, 2)))
	chance := rand.New(rand.NewPCG(3, 4))
	kinds := map[registry.NoticeHit]int{}
	var wanted []registry.Notice
	for range 40 {
		n := sample.Notice()
		n.AnchorIDs = []uuid.UUID{c.anchors[chance.IntN(len(c.anchors))]}
		n.Criterion = c.criterion(chance)
		wanted = append(wanted, n)
	}
	r.enter(t, registry.Change{Notices: wanted})
	brute := make(map[uuid.UUID]map[uuid.UUID]registry.NoticeHit)
	err := r.store.EachFacts(t.Context(), r.group.ID, func(_ registry.ReportLine, all registry.Facts) error {
		f := all.Current()
		for i := range f.Notices {
			n := &f.Notices[i]
			if brute[n.ID] == nil {
				brute[n.ID] = make(map[uuid.UUID]registry.NoticeHit)
			}
			if hit := f.HitBy(n); hit != "" && !f.Anchor.Removed {
				brute[n.ID][f.Anchor.ID] = hit
			}
		}
		return nil
	})
	check(t, err)
	for _, n := range wanted {
		reach, err := r.store.NoticeReach(t.Context(), r.group.ID, n)
		check(t, err)
		got := make(map[uuid.UUID]registry.NoticeHit)
		for _, a := range reach.Anchors {
			got[a.AnchorID] = a.Hit
			kinds[a.Hit]++
		}
		if d := cmp.Diff(brute[n.ID], got); d != "" {
			t.Errorf("criterion %+v (-facts +store):\n%s", n.Criterion, d)
		}
	}
	if kinds[registry.HitSure] < 20 || kinds[registry.HitPossible] < 20 || kinds[registry.HitNamed] == 0 {
		t.Errorf("hits %v: the test shows nothing", kinds)
	}
}

// A criterion comes back as it was kept, and a notice without one has none.
func TestCriterionIsKept(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	full, none := sample.Notice(), sample.Notice(s.anchor)
	full.Criterion = registry.NoticeCriterion{
		ProductIDs: []uuid.UUID{s.adhesive.ID}, BatchIDs: []uuid.UUID{s.batch.ID}, SetterIDs: []uuid.UUID{s.person.ID},
		SiteIDs: []uuid.UUID{s.site.ID}, Rocks: []registry.RockClass{registry.RockHard}, From: sample.Day.AddYears(-9), To: sample.Day,
	}
	full.EndedOn, full.EndedReason = sample.Day, "invented"
	r.enter(t, registry.Change{Notices: []registry.Notice{full, none}})
	for _, want := range []registry.Notice{full, none} {
		got, err := r.store.Notice(t.Context(), r.group.ID, want.ID)
		check(t, err)
		want.Version = 1
		if want.AnchorIDs == nil {
			want.AnchorIDs = []uuid.UUID{}
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("notice (-kept +read):\n%s", d)
		}
	}
}

// Nothing of another group is hit, or counted.
func TestNoticeReachStaysInItsGroup(t *testing.T) {
	t.Parallel()
	r, s, other := twoGroups(t)
	n := sample.Notice(s.anchor)
	n.ID, n.Criterion = uuid.Nil, registry.NoticeCriterion{SiteIDs: []uuid.UUID{s.site.ID}}
	for _, sites := range [][]uuid.UUID{{s.site.ID}, nil} {
		n.Criterion.SiteIDs, n.Criterion.To = sites, sample.Day
		reach, err := r.store.NoticeReach(t.Context(), other.ID, n)
		check(t, err)
		for _, a := range reach.Anchors {
			if a.AnchorID == s.anchor.ID {
				t.Errorf("from another group the notice hits %v", a)
			}
		}
	}
}

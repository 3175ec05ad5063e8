package demo

import (
	"fmt"
	"slices"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// anchor invents what stands at a position: mostly the anchor set with its
// route, now and then one that has been replaced since, a few of them only
// last week, not in use yet.
func (s *scene) anchor(g ground, pos registry.Position, setOn calendar.Date) {
	if s.fresh > 0 {
		s.fresh--
		lastWeek := s.asOf.AddDays(-6)
		s.set(g, pos, setOn, lastWeek)
		setOn = lastWeek
	} else if s.oneIn(14) && setOn < s.asOf.AddYears(-8) {
		replacedOn := setOn.AddDays(s.between(5*365, 7*365))
		s.set(g, pos, setOn, replacedOn)
		setOn = replacedOn
	}
	s.set(g, pos, setOn, 0)
}

// set invents one anchor with its records, until removedOn or, if that is
// zero, until today.
func (s *scene) set(g ground, pos registry.Position, setOn, removedOn calendar.Date) {
	f := fashionOf(g.sitePlan, setOn)
	product := s.product(f)
	a := registry.Anchor{
		ID: s.id(), SiteID: g.site.ID, PositionID: pos.ID, Form: f.form, Metal: f.metal, MetalWords: f.words, ProductID: &product,
		Shank: millimetres(f.shank), Length: millimetres(f.length), SetOn: calendar.Exactly(setOn),
		Origin: registry.Recorded, EnteredOn: setOn,
	}
	if !removedOn.IsZero() {
		a.Removed, a.RemovedOn = true, calendar.Exactly(removedOn)
		s.change.Removals = append(s.change.Removals, s.removal(a, removedOn))
	}
	s.change.Anchors = append(s.change.Anchors, a)
	s.installed(a, f)
	s.inspected(a, s.hang(a, pos, f), removedOn)
}

func fashionOf(p sitePlan, on calendar.Date) fashion {
	year, _, _ := on.Civil()
	for _, f := range p.fashions {
		if year <= f.until {
			return f
		}
	}
	return p.fashions[len(p.fashions)-1]
}

func (s *scene) product(f fashion) uuid.UUID {
	name := fmt.Sprintf("%s %.0f × %.0f mm, %s, generic (invented)", f.form, f.shank, f.length, f.words)
	if id, ok := s.hardware[name]; ok {
		return id
	}
	id := s.id()
	s.hardware[name] = id
	s.change.Products = append(s.change.Products, registry.Product{ID: id, Kind: registry.Hardware, Name: name, Form: f.form, Metal: f.metal})
	s.change.ProductVersions = append(s.change.ProductVersions, registry.ProductVersion{
		ID: s.id(), ProductID: id, From: calendar.NewDate(firstYear, time.January, 1), Source: "Invented sheet, first issue",
		Hole: millimetres(f.hole), Shank: millimetres(f.shank), Length: millimetres(f.length),
	})
	return id
}

// batch is one delivery a half-year and resin.
func (s *scene) batch(resin int, on calendar.Date) uuid.UUID {
	year, month, _ := on.Civil()
	half := 1 + (int(month)-1)/6
	text := fmt.Sprintf("R%d-%02d%d", resin+1, year%100, half)
	if id, ok := s.batches[text]; ok {
		return id
	}
	id := s.id()
	s.batches[text] = id
	received := calendar.NewDate(year, time.Month(6*half-5), 5)
	s.change.Batches = append(s.change.Batches, s.shelved(registry.Batch{
		ID: id, ProductID: &s.resins[resin], Text: text, ReceivedOn: received, ExpiresOn: received.AddMonths(15), Quantity: "20 cartridges",
	}))
	return id
}

// shelved counts a batch: one that has expired is used up, but for the last,
// which somebody forgot on the shelf.
func (s *scene) shelved(b registry.Batch) registry.Batch {
	received, left := 20, 6
	if b.ExpiresOn.AddMonths(6) < s.asOf {
		left, b.EndedOn = 0, b.ExpiresOn
	}
	b.Received, b.OnHand = &received, &left
	return b
}

func (s *scene) installed(a registry.Anchor, f fashion) {
	i := registry.Installation{
		Record: s.record(a, a.SetOn.From, ""), HoleDiameter: millimetres(f.hole), HoleDepth: millimetres(f.length + 10), RockSound: pick(s.maker, []registry.Sound{registry.Ringing, registry.Ringing, registry.Ringing, ""}),
	}
	if a.Form.Bonded() {
		resin := s.between(0, len(s.resins)-1)
		batch := s.batch(resin, a.SetOn.From)
		i.AdhesiveID, i.BatchID = &s.resins[resin], &batch
	}
	s.change.Installations = append(s.change.Installations, i)
	if a.Form.Bonded() && a.SetOn.From < s.asOf.AddDays(-14) {
		u := registry.FirstUse{Record: s.record(a, a.SetOn.From.AddDays(s.between(2, 9)), "Kept sample hard."), Sample: registry.SampleHard}
		u.PersonID = s.another(*i.PersonID, *u.PersonID)
		s.change.FirstUses = append(s.change.FirstUses, u)
	}
}

// another is the person chosen or, where that is who set the anchor, the next
// one: whoever set it does not allow its first use.
func (s *scene) another(setter, chosen uuid.UUID) *uuid.UUID {
	if chosen == setter {
		at := slices.Index(s.persons, chosen)
		chosen = s.persons[(at+1)%len(s.persons)]
	}
	return &chosen
}

// inspected invents the group's rounds: a visit every year or three, until it
// stopped coming or the anchor went. Every other visit measures the ring.
func (s *scene) inspected(a registry.Anchor, ring *registry.Fitting, removedOn calendar.Date) {
	until := removedOn
	if until.IsZero() {
		until = s.asOf.AddDays(-s.between(90, 500))
	}
	wear := float64(s.between(2, 10)) / 1000 // share of the section that a year takes
	for on := a.SetOn.From.AddDays(s.between(300, 420)); on < until; on = on.AddDays(s.between(330, 1100)) {
		i := registry.Inspection{Record: s.record(a, on, ""), Level: registry.HandsOn, Verdict: registry.Keep, Ticked: true}
		if s.oneIn(6) {
			i.Level = registry.Full
		}
		if s.oneIn(2) {
			i.Measured = measured(ring, on, wear)
		}
		s.change.Inspections = append(s.change.Inspections, i)
	}
}

func (s *scene) record(a registry.Anchor, on calendar.Date, words string) registry.Record {
	person := pick(s.maker, s.persons)
	return registry.Record{
		ID: s.id(), AnchorID: a.ID, DoneOn: calendar.Exactly(on), PersonID: &person, Words: words,
		Origin: registry.Recorded, RecordedAt: on.Time().Add(20 * time.Hour),
	}
}

package registry_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// recalled is an invented recall: a batch of a resin, beside another resin and
// hardware.
type recalled struct {
	resin, other, bolt, hanger, setter, site uuid.UUID
	batch, sameText, otherBatch              registry.Batch
}

func newRecalled() recalled {
	r := recalled{uuid.New(), uuid.New(), uuid.New(), uuid.New(), uuid.New(), uuid.New(), registry.Batch{}, registry.Batch{}, registry.Batch{}}
	r.batch = registry.Batch{ID: uuid.New(), ProductID: &r.resin, Text: "L1709-A"}
	r.sameText = registry.Batch{ID: uuid.New(), ProductID: &r.other, Text: "l 1709 a"}
	r.otherBatch = registry.Batch{ID: uuid.New(), ProductID: &r.resin, Text: "L1710"}
	return r
}

func (r recalled) criterion(edit func(*registry.NoticeCriterion)) registry.NoticeCriterion {
	c := registry.NoticeCriterion{
		Products: []registry.Product{
			{ID: r.resin, Kind: registry.Adhesive},
			{ID: r.bolt, Kind: registry.Hardware, Form: registry.ThroughBolt},
			{ID: r.hanger, Kind: registry.Hardware},
		},
		Batches: []registry.Batch{r.batch},
	}
	edit(&c)
	return c
}

// facts are of a glue-in anchor set on 2 May 2020 by the setter with the batch.
func (r recalled) facts(edit ...func(*registry.Facts)) registry.Facts {
	on := calendar.Exactly(date(2020, 5, 2))
	f := registry.Facts{
		Anchor: registry.Anchor{ID: uuid.New(), SiteID: r.site, Form: registry.SingleShank, SetOn: on},
		Site:   registry.Site{ID: r.site, Rock: registry.RockHard},
		Installations: []registry.Installation{{
			Record: registry.Record{ID: uuid.New(), DoneOn: on, PersonID: &r.setter}, AdhesiveID: &r.resin, BatchID: &r.batch.ID,
		}},
		Batches: []registry.Batch{r.batch, r.sameText, r.otherBatch},
	}
	for _, e := range edit {
		e(&f)
	}
	return f
}

func date(year, month, day int) calendar.Date { return calendar.NewDate(year, time.Month(month), day) }

func set(edit func(*registry.Installation)) func(*registry.Facts) {
	return func(f *registry.Facts) { edit(&f.Installations[0]) }
}

// How surely a recall is about an anchor: judgement of this project (what is not
// known speaks for a hit, never against one).
func TestHit(t *testing.T) {
	t.Parallel()
	r := newRecalled()
	const sure, possible, none = registry.HitSure, registry.HitPossible, registry.NoticeHit("")
	ofBatch := r.criterion(func(c *registry.NoticeCriterion) { c.BatchIDs = []uuid.UUID{r.batch.ID} })
	ofResin := r.criterion(func(c *registry.NoticeCriterion) { c.ProductIDs = []uuid.UUID{r.resin} })
	ofBolt := r.criterion(func(c *registry.NoticeCriterion) { c.ProductIDs = []uuid.UUID{r.bolt} })
	ofHanger := r.criterion(func(c *registry.NoticeCriterion) { c.ProductIDs = []uuid.UUID{r.hanger} })
	inMay := r.criterion(func(c *registry.NoticeCriterion) {
		c.BatchIDs, c.From, c.To = []uuid.UUID{r.batch.ID}, date(2020, 5, 2), date(2020, 5, 31)
	})
	bySetter := r.criterion(func(c *registry.NoticeCriterion) { c.SetterIDs, c.SiteIDs = []uuid.UUID{r.setter}, []uuid.UUID{r.site} })
	elsewhere := r.criterion(func(c *registry.NoticeCriterion) {
		c.BatchIDs, c.SiteIDs = []uuid.UUID{r.batch.ID}, []uuid.UUID{uuid.New()}
	})
	inSoft := r.criterion(func(c *registry.NoticeCriterion) { c.Rocks = []registry.RockClass{registry.RockSoft} })
	noBatch := set(func(i *registry.Installation) { i.BatchID = nil })
	noResin := set(func(i *registry.Installation) { i.BatchID, i.AdhesiveID = nil, nil })
	throughBolt := func(f *registry.Facts) { f.Anchor.Form, f.Installations = registry.ThroughBolt, nil }
	hangs := func(product *uuid.UUID, more ...func(*registry.Fitting)) func(*registry.Facts) {
		return func(f *registry.Facts) {
			h := registry.Fitting{ID: uuid.New(), Kind: registry.Hanger, Presence: registry.Present, ProductID: product}
			for _, edit := range more {
				edit(&h)
			}
			f.Fittings = append(f.Fittings, h)
		}
	}
	tests := []struct {
		name      string
		criterion registry.NoticeCriterion
		facts     registry.Facts
		want      registry.NoticeHit
	}{
		{"the batch", ofBatch, r.facts(), sure},
		{"batch not recorded, of that resin", ofBatch, r.facts(noBatch), possible},
		{"batch not recorded, of another resin", ofBatch, r.facts(noBatch, set(func(i *registry.Installation) { i.AdhesiveID = &r.other })), none},
		{"neither batch nor resin recorded", ofBatch, r.facts(noResin), possible},
		{"another batch of that resin", ofBatch, r.facts(set(func(i *registry.Installation) { i.BatchID = &r.otherBatch.ID })), none},
		{"the same text under another product", ofBatch, r.facts(set(func(i *registry.Installation) {
			i.AdhesiveID, i.BatchID = &r.other, &r.sameText.ID
		})), possible},
		{"surely not bonded", ofBatch, r.facts(throughBolt), none},
		{"form not known, nothing recorded", ofBatch, r.facts(func(f *registry.Facts) { f.Anchor.Form, f.Installations = "", nil }), possible},
		{"removed", ofBatch, r.facts(func(f *registry.Facts) { f.Anchor.Removed = true }), none},
		{"entered by mistake", ofBatch, r.facts(func(f *registry.Facts) { f.Anchor.Mistaken = true }), none},
		{"the batch, elsewhere", elsewhere, r.facts(), none},

		{"by its session", ofBatch, r.facts(noResin, func(f *registry.Facts) {
			s := registry.GluingSession{ID: uuid.New(), AdhesiveID: &r.resin, BatchID: &r.batch.ID}
			f.Sessions, f.Installations[0].SessionID = []registry.GluingSession{s}, &s.ID
		}), sure},
		{"by its session before it was corrected", ofBatch, r.facts(noResin, func(f *registry.Facts) {
			s := registry.GluingSession{ID: uuid.New(), AdhesiveID: &r.resin, BatchID: &r.batch.ID}
			now := registry.GluingSession{ID: uuid.New(), AdhesiveID: &r.resin, BatchID: &r.otherBatch.ID, Replaces: &s.ID}
			f.Sessions, f.Installations[0].SessionID = []registry.GluingSession{s, now}, &s.ID
		}), none},
		{"the surest of two settings", ofBatch, r.facts(func(f *registry.Facts) {
			f.Installations = append(f.Installations, registry.Installation{AdhesiveID: &r.other})
		}), sure},

		{"another batch, beside a record that names none", ofBatch, r.facts(noResin, func(f *registry.Facts) {
			f.Installations = append(f.Installations, registry.Installation{AdhesiveID: &r.resin, BatchID: &r.otherBatch.ID})
		}), none},

		{"the resin", ofResin, r.facts(), sure},
		{"the resin by the batch alone", ofResin, r.facts(set(func(i *registry.Installation) { i.AdhesiveID = nil })), sure},
		{"the resin, not recorded", ofResin, r.facts(noResin), possible},
		{"the bolt, as the anchor's product", ofBolt, r.facts(throughBolt, func(f *registry.Facts) { f.Anchor.ProductID = &r.bolt }), sure},
		{"the bolt, product not recorded", ofBolt, r.facts(throughBolt), possible},
		{"the bolt, of a glue-in", ofBolt, r.facts(), none},
		{"the bolt, another product", ofBolt, r.facts(throughBolt, func(f *registry.Facts) { f.Anchor.ProductID = &r.hanger }), none},
		{"the hanger hangs", ofHanger, r.facts(func(f *registry.Facts) { f.Anchor.ProductID = &r.bolt }, hangs(&r.hanger)), sure},
		{"a hanger not recorded hangs", ofHanger, r.facts(func(f *registry.Facts) { f.Anchor.ProductID = &r.bolt }, hangs(nil)), possible},
		{"another hanger hangs", ofHanger, r.facts(func(f *registry.Facts) { f.Anchor.ProductID = &r.bolt }, hangs(&r.bolt)), none},
		{"the hanger hung", ofHanger, r.facts(func(f *registry.Facts) { f.Anchor.ProductID = &r.bolt },
			hangs(&r.hanger, func(h *registry.Fitting) { h.EndedOn = date(2021, 1, 1) })), none},

		{"set on the first day", inMay, r.facts(), sure},
		{"set the day before", inMay, r.facts(set(func(i *registry.Installation) { i.DoneOn = calendar.Exactly(date(2020, 5, 1)) })), none},
		{"set some day that spring", inMay, r.facts(set(func(i *registry.Installation) {
			i.DoneOn = calendar.Span{From: date(2020, 3, 1), To: date(2020, 5, 31)}
		})), possible},
		{"day not known", inMay, r.facts(func(f *registry.Facts) { f.Anchor.SetOn, f.Installations[0].DoneOn = calendar.Span{}, calendar.Span{} }), possible},

		{"who set it, there", bySetter, r.facts(), sure},
		{"nobody knows who", bySetter, r.facts(set(func(i *registry.Installation) { i.PersonID = nil })), possible},
		{"somebody else", bySetter, r.facts(set(func(i *registry.Installation) { i.PersonID = &r.site })), none},
		{"other rock", inSoft, r.facts(), none},
		{"soft at the hole", inSoft, r.facts(set(func(i *registry.Installation) { i.Rock = registry.RockSoft })), sure},
		{"rock not known", inSoft, r.facts(func(f *registry.Facts) { f.Site.Rock = "" }), possible},
	}
	for _, test := range tests {
		if got := test.criterion.Hit(&test.facts); got != test.want {
			t.Errorf("%s: Hit = %q, want %q", test.name, got, test.want)
		}
	}
}

// Forgetting something never loses a hit, where what is recorded does not speak
// against itself. A text written alike under another product is a hint that goes
// with the text, so that it is left out here.
func TestForgettingLosesNoHit(t *testing.T) {
	t.Parallel()
	r := newRecalled()
	rapid.Check(t, func(t *rapid.T) {
		one := func(name string, ids ...*uuid.UUID) *uuid.UUID {
			return rapid.SampledFrom(append(ids, nil)).Draw(t, name)
		}
		some := func(name string, ids ...uuid.UUID) []uuid.UUID {
			return rapid.SliceOfNDistinct(rapid.SampledFrom(ids), 0, 2, rapid.ID[uuid.UUID]).Draw(t, name)
		}
		c := r.criterion(func(c *registry.NoticeCriterion) {
			c.ProductIDs = some("products", r.resin, r.bolt, r.hanger)
			c.BatchIDs = some("batches", r.batch.ID)
			c.SetterIDs = some("setters", r.setter)
			if rapid.Bool().Draw(t, "period") {
				c.From, c.To = date(2020, 1, 1), date(2020, 12, 31)
			}
		})
		f := r.facts(set(func(i *registry.Installation) {
			i.AdhesiveID, i.BatchID = one("adhesive", &r.resin, &r.other), one("batch", &r.batch.ID, &r.otherBatch.ID)
			for _, b := range []registry.Batch{r.batch, r.otherBatch} {
				if i.BatchID != nil && i.AdhesiveID != nil && *i.BatchID == b.ID {
					i.AdhesiveID = b.ProductID
				}
			}
			i.HardwareID, i.PersonID = one("hardware", &r.hanger), one("setter", &r.setter, &r.other)
			i.DoneOn = calendar.Exactly(date(rapid.IntRange(2019, 2021).Draw(t, "year"), 5, 2))
		}), func(f *registry.Facts) { f.Anchor.ProductID = nil })
		before := c.Hit(&f)
		i := &f.Installations[0]
		switch rapid.IntRange(0, 4).Draw(t, "forget") {
		case 0:
			i.BatchID = nil
		case 1:
			i.PersonID = nil
		case 2:
			i.DoneOn, f.Anchor.SetOn = calendar.Span{}, calendar.Span{}
		case 3:
			i.HardwareID = nil
		case 4:
			i.AdhesiveID, i.BatchID = nil, nil
		}
		if after := c.Hit(&f); before != "" && after == "" {
			t.Fatalf("Hit was %q, and nothing once something was forgotten", before)
		}
	})
}

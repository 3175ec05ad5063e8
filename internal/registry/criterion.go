package registry

import (
	"slices"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
)

// NoticeCriterion says which anchors a notice is about: those that answer every
// field that is given, each by any one of its values.
type NoticeCriterion struct {
	ProductIDs []uuid.UUID // hardware or adhesives
	BatchIDs   []uuid.UUID
	SetterIDs  []uuid.UUID // persons
	SiteIDs    []uuid.UUID
	Rocks      []RockClass
	From, To   calendar.Date // when set, both days included; zero: open
	// Products and Batches are what the ids stand for, and the products of those
	// batches: the store fills them in. What is missing here is not known.
	Products []Product
	Batches  []Batch
}

// MaxCriterion is the most values that a field of a criterion has.
const MaxCriterion = 100

// Given says whether there is a criterion at all.
func (n *NoticeCriterion) Given() bool {
	return len(n.ProductIDs)+len(n.BatchIDs)+len(n.SetterIDs)+len(n.SiteIDs)+len(n.Rocks) > 0 || !n.From.IsZero() || !n.To.IsZero()
}

// Validate reports every violation, keyed by JSON name.
func (n *NoticeCriterion) Validate() error {
	var c fault.Checks
	for field, count := range map[string]int{
		"product_ids": len(n.ProductIDs), "batch_ids": len(n.BatchIDs), "setter_ids": len(n.SetterIDs), "site_ids": len(n.SiteIDs),
	} {
		c.Require(count <= MaxCriterion, field, fault.OutOfRange, "to", number(MaxCriterion))
	}
	for _, r := range n.Rocks {
		checkListed(&c, "rocks", r, RockClasses())
	}
	c.Require(n.From.IsZero() || n.To.IsZero() || n.From <= n.To, "set_to", fault.Order)
	return c.Err()
}

// Hit says whether the criterion is about an anchor: surely, where what it was
// set with answers every field; possibly, where nothing known speaks against it;
// otherwise not. Of several settings, and of what hangs on it, the surest counts.
//
// A product or batch is looked for in what was set and in what hangs; other
// fields alone ask only after the setting. Surely not bonded, an anchor answers
// to no adhesive.
func (n *NoticeCriterion) Hit(f *Facts) NoticeHit {
	if f.Anchor.Removed || f.Anchor.Mistaken {
		return ""
	}
	return n.Reaches(f)
}

// Reaches is Hit, but for anchors that were removed too.
func (n *NoticeCriterion) Reaches(f *Facts) NoticeHit {
	place := n.atSite(f.Site.ID)
	if place == no {
		return ""
	}
	best := no
	f.eachSetting(func(s *setting) { best = max(best, n.answers(s)) })
	if len(n.ProductIDs)+len(n.BatchIDs) > 0 {
		f.eachHanging(func(s *setting) { best = max(best, n.answers(s)) })
	}
	switch best {
	case yes:
		return HitSure
	case unknown:
		return HitPossible
	}
	return ""
}

// answer is yes, no or not known; both of two answers are the lesser, either of
// them the greater.
type answer int

const (
	no answer = iota
	unknown
	yes
)

// answers asks every field that is given.
func (n *NoticeCriterion) answers(s *setting) answer {
	out := n.setWithin(s.on)
	if len(n.ProductIDs) > 0 {
		out = min(out, n.ofProduct(s))
	}
	if len(n.BatchIDs) > 0 {
		out = min(out, n.ofBatch(s))
	}
	if len(n.SetterIDs) > 0 {
		out = min(out, among(s.setter, n.SetterIDs))
	}
	if len(n.Rocks) > 0 {
		out = min(out, n.inRock(s.rock))
	}
	return out
}

func (n *NoticeCriterion) atSite(id uuid.UUID) answer {
	if len(n.SiteIDs) == 0 || slices.Contains(n.SiteIDs, id) {
		return yes
	}
	return no
}

// among says whether an id is one of the list; nil is not known.
func among(id *uuid.UUID, list []uuid.UUID) answer {
	switch {
	case id == nil:
		return unknown
	case slices.Contains(list, *id):
		return yes
	}
	return no
}

func (n *NoticeCriterion) inRock(r RockClass) answer {
	switch {
	case r == "":
		return unknown
	case slices.Contains(n.Rocks, r):
		return yes
	}
	return no
}

// setWithin says whether an uncertain day lies in the period.
func (n *NoticeCriterion) setWithin(on calendar.Span) answer {
	from, to := !n.From.IsZero(), !n.To.IsZero()
	switch {
	case !from && !to:
		return yes
	case !on.Known():
		return unknown
	case from && on.To < n.From || to && on.From > n.To:
		return no
	case from && on.From < n.From || to && on.To > n.To:
		return unknown
	}
	return yes
}

// ofProduct says whether one of the products is in the setting.
func (n *NoticeCriterion) ofProduct(s *setting) answer {
	out := no
	for _, id := range n.ProductIDs {
		out = max(out, s.has(id, n.product(id)))
	}
	return out
}

// product returns what an id stands for, nil if that is not known.
func (n *NoticeCriterion) product(id uuid.UUID) *Product {
	for i := range n.Products {
		if n.Products[i].ID == id {
			return &n.Products[i]
		}
	}
	return nil
}

// ofBatch says whether one of the batches is in the setting. A batch that is
// only written alike may be the same delivery under another product.
func (n *NoticeCriterion) ofBatch(s *setting) answer {
	out := no
	for _, id := range n.BatchIDs {
		at := slices.IndexFunc(n.Batches, func(b Batch) bool { return b.ID == id })
		switch {
		case s.batchID != nil && *s.batchID == id:
			return yes
		case at < 0:
			out = max(out, unknown)
		default:
			out = max(out, n.batchIn(s, &n.Batches[at]))
		}
	}
	return out
}

// batchIn says whether a setting that does not name the batch may have it.
func (n *NoticeCriterion) batchIn(s *setting, b *Batch) answer {
	if s.batch != nil && s.batch.Key() == b.Key() {
		return unknown
	}
	var product *Product
	if b.ProductID != nil {
		product = n.product(*b.ProductID)
	}
	if s.otherBatch(product) {
		return no
	}
	if b.ProductID == nil {
		return unknown
	}
	return min(unknown, s.has(*b.ProductID, product))
}

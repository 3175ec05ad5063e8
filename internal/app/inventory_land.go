package app

import (
	"context"
	"strconv"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

var persons = noun[registry.Person]{
	what: "person", add: AddPerson, change: ChangePerson, read: Store.Person,
	key:   func(n *registry.Person) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy:  func(n *registry.Person) { n.Name = tidy(n.Name) },
	check: checkPerson,
	put:   func(c *registry.Change, n registry.Person) { c.Persons = append(c.Persons, n) },
}

// checkPerson wants the name of a person who is erased, or whom a legal hold
// keeps from that, to stay: another in its place would be an erasure too.
func checkPerson(d *desk, before, n *registry.Person) {
	d.Nest("", n.Validate())
	if before == nil || n.Name == before.Name {
		return
	}
	d.Require(!before.Erased, "name", fault.NotAllowed)
	d.also.Unheld = append(d.also.Unheld, registry.Unheld{Over: registry.HoldPerson, ID: n.ID, AsOf: d.asOf})
}

// AddPerson stores a new person, by the terms of AddSite.
func (s *Service) AddPerson(ctx context.Context, who registry.Actor, n registry.Person) (stored registry.Person, created bool, err error) {
	return addNoun(ctx, s, who, n, persons)
}

// ChangePerson changes a person, by the terms of ChangeSite. Another name is
// fault.Conflict, code OnHold, while a legal hold suspends erasure of the person.
func (s *Service) ChangePerson(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Person) error) (registry.Person, error) {
	return changeNoun(ctx, s, who, id, version, edit, persons)
}

var landowners = noun[registry.Landowner]{
	what: "landowner", add: AddLandowner, change: ChangeLandowner, read: Store.Landowner,
	key:   func(n *registry.Landowner) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy:  func(n *registry.Landowner) { n.Name = tidy(n.Name) },
	check: checkLandowner,
	put:   func(c *registry.Change, n registry.Landowner) { c.Landowners = append(c.Landowners, n) },
}

// checkLandowner wants no parcel to be left to a landowner who ends, and name and
// contact to stay where checkPerson wants a name to. A contact where there was
// none takes nothing away.
func checkLandowner(d *desk, before, n *registry.Landowner) {
	d.Nest("", n.Validate())
	d.past("ended_on", n.EndedOn)
	if before != nil {
		d.fixed("name", n.Name == before.Name || before.ErasedOn.IsZero())
		d.fixed("contact", n.Contact == before.Contact || before.ErasedOn.IsZero())
		if n.Name != before.Name || before.Contact != "" && n.Contact != before.Contact {
			d.also.Unheld = append(d.also.Unheld, registry.Unheld{Over: registry.HoldLandowner, ID: n.ID, AsOf: d.asOf})
		}
	}
	if before == nil || n.EndedOn.IsZero() || !before.EndedOn.IsZero() {
		return
	}
	list, err := d.s.parcels(d.ctx, d.who, &n.ID)
	d.Nest("", err)
	live := 0
	for i := range list {
		if list[i].EndedOn.IsZero() {
			live++
		}
	}
	d.Require(live == 0, "ended_on", fault.InUse, "parcels", strconv.Itoa(live))
}

// AddLandowner stores a new landowner, by the terms of AddSite. Only owners may
// give a contact; from others it is fault.Forbidden.
func (s *Service) AddLandowner(ctx context.Context, who registry.Actor, n registry.Landowner) (stored registry.Landowner, created bool, err error) {
	if n.Contact != "" {
		if err := mayContact(who, AddLandowner); err != nil {
			return registry.Landowner{}, false, err
		}
	}
	stored, created, err = addNoun(ctx, s, who, n, landowners)
	return seenBy(who, stored), created, err
}

// unseen stands in the place of a contact while somebody edits the landowner who
// may not see it: whatever is written there, nothing too, is written over it.
const unseen = "\x00"

// ChangeLandowner changes a landowner, by the terms of ChangeSite; one who holds
// a parcel that stands does not end. Others than owners see no contact and may
// neither give one nor take it away, which is fault.Forbidden. Another name, or
// another contact than there was, is fault.Conflict, code OnHold, while a legal
// hold suspends erasure of the landowner.
func (s *Service) ChangeLandowner(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Landowner) error) (registry.Landowner, error) {
	n, err := changeNoun(ctx, s, who, id, version, func(n *registry.Landowner) error {
		forbidden := mayContact(who, ChangeLandowner)
		if forbidden == nil {
			return edit(n)
		}
		contact := n.Contact
		n.Contact = unseen
		if err := edit(n); err != nil {
			return err
		}
		if n.Contact != unseen {
			return forbidden
		}
		n.Contact = contact
		return nil
	}, landowners)
	return seenBy(who, n), err
}

// mayContact returns fault.Forbidden for all but owners.
func mayContact(who registry.Actor, op Operation) error {
	if who.Role.Rank() >= registry.RoleOwner.Rank() {
		return nil
	}
	return fault.New(fault.Forbidden, "%s: a landowner's contact is the owners' alone", op).
		With("operation", string(op), "role", string(who.Role), "least", string(registry.RoleOwner))
}

// seenBy leaves the contact to owners.
func seenBy(who registry.Actor, n registry.Landowner) registry.Landowner {
	if who.Role.Rank() < registry.RoleOwner.Rank() {
		n.Contact = ""
	}
	return n
}

var agreements = noun[registry.Agreement]{
	what: "agreement", add: AddAgreement, change: ChangeAgreement, read: Store.Agreement,
	key:  func(n *registry.Agreement) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy: func(n *registry.Agreement) { n.Issuer = tidy(n.Issuer) },
	check: func(d *desk, _, n *registry.Agreement) {
		d.Nest("", n.Validate())
		if n.LandownerID != nil {
			has(d, "landowner_id", *n.LandownerID, Store.Landowner)
		}
	},
	put: func(c *registry.Change, n registry.Agreement) { c.Agreements = append(c.Agreements, n) },
}

// AddAgreement stores a new agreement, by the terms of AddSite.
func (s *Service) AddAgreement(ctx context.Context, who registry.Actor, n registry.Agreement) (stored registry.Agreement, created bool, err error) {
	return addNoun(ctx, s, who, n, agreements)
}

// ChangeAgreement changes an agreement, by the terms of ChangeSite.
func (s *Service) ChangeAgreement(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Agreement) error) (registry.Agreement, error) {
	return changeNoun(ctx, s, who, id, version, edit, agreements)
}

var restrictions = noun[registry.Restriction]{
	what: "restriction", add: AddRestriction, change: ChangeRestriction, read: Store.Restriction,
	key:   func(n *registry.Restriction) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy:  func(n *registry.Restriction) { n.Why = tidy(n.Why) },
	check: checkRestriction,
	put:   func(c *registry.Change, n registry.Restriction) { c.Restrictions = append(c.Restrictions, n) },
}

func checkRestriction(d *desk, _, n *registry.Restriction) {
	d.Nest("", n.Validate())
	d.past("confirmed_on", n.ConfirmedOn)
	if n.Place != nil {
		d.place(*n.Place)
	}
	if n.ParcelID != nil {
		has(d, "parcel_id", *n.ParcelID, Store.Parcel)
	}
	d.Require(n.Yearly == nil || n.Yearly.Validate() != nil || everBars(n), "until", fault.Mismatch)
}

// everBars says whether a restriction with a window bars any day of the years
// it holds.
func everBars(r *registry.Restriction) bool {
	return r.Until.IsZero() || !barsIn(r, max(r.From, r.Until-longestGap), r.Until).IsZero()
}

// place wants a place to be there, and returns its site.
func (d *desk) place(p registry.Place) (site uuid.UUID) {
	switch p.Kind {
	case registry.AtSite:
		has(d, "place_id", p.ID, Store.Site)
		return p.ID
	case registry.AtSector:
		n, _ := has(d, "place_id", p.ID, Store.Sector)
		return n.SiteID
	case registry.AtRoute:
		n, _ := has(d, "place_id", p.ID, Store.Route)
		return n.SiteID
	case registry.AtPosition:
		n, _ := has(d, "place_id", p.ID, Store.Position)
		return n.SiteID
	}
	return uuid.Nil
}

// AddRestriction stores a new restriction, by the terms of AddSite.
func (s *Service) AddRestriction(ctx context.Context, who registry.Actor, n registry.Restriction) (stored registry.Restriction, created bool, err error) {
	return addNoun(ctx, s, who, n, restrictions)
}

// ChangeRestriction changes a restriction, by the terms of ChangeSite.
func (s *Service) ChangeRestriction(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Restriction) error) (registry.Restriction, error) {
	return changeNoun(ctx, s, who, id, version, edit, restrictions)
}

// longestGap is how many days may lie between two days of a yearly window, and
// more: 29 February comes back after eight years at the latest.
const longestGap = 9 * 366

// barsIn returns the first day from one to another, both included, that a
// restriction bars; zero if it bars none.
func barsIn(r *registry.Restriction, from, to calendar.Date) calendar.Date {
	from = max(from, r.From)
	for day := from; day <= min(to, from+longestGap); day++ {
		if r.Bars(day) {
			return day
		}
	}
	return 0
}

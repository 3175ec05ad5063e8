package postgres

import (
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// reachRows are the rows that say which anchors of the group a criterion is
// about: all of them, but only what it asks after. What is not recorded speaks
// for a hit, so that no index could find them.
type reachRows struct {
	anchors       []soughtRow
	sites         []siteRow
	products      []productRow
	batches       []batchRow
	sessions      []sessionRow
	installations []setRow
	fittings      []hangingRow
	retractions   []retractionRow
	living        []livingRow
	named         []uuid.UUID // anchors in the rock that a notice names
}

// soughtRow is what a criterion asks of an anchor.
type soughtRow struct {
	ID         uuid.UUID     `json:"id"`
	SiteID     uuid.UUID     `json:"site_id"`
	Form       word          `json:"form"`
	ProductID  *uuid.UUID    `json:"product_id"`
	SetOnFrom  calendar.Date `json:"set_on_from"`
	SetOnTo    calendar.Date `json:"set_on_to"`
	SetOnWords string        `json:"set_on_words"`
	Removed    bool          `json:"removed"`
	Mistaken   bool          `json:"mistaken"`
}

// setRow is what it asks of an installation.
type setRow struct {
	ID         uuid.UUID     `json:"id"`
	AnchorID   uuid.UUID     `json:"anchor_id"`
	DoneOnFrom calendar.Date `json:"done_on_from"`
	DoneOnTo   calendar.Date `json:"done_on_to"`
	PersonID   *uuid.UUID    `json:"person_id"`
	Replaces   *uuid.UUID    `json:"replaces"`
	SessionID  *uuid.UUID    `json:"session_id"`
	Form       word          `json:"form"`
	HardwareID *uuid.UUID    `json:"hardware_id"`
	AdhesiveID *uuid.UUID    `json:"adhesive_id"`
	BatchID    *uuid.UUID    `json:"batch_id"`
	Rock       word          `json:"rock"`
}

// hangingRow is what it asks of a fitting.
type hangingRow struct {
	AnchorID   uuid.UUID     `json:"anchor_id"`
	Presence   word          `json:"presence"`
	SetOnFrom  calendar.Date `json:"set_on_from"`
	SetOnTo    calendar.Date `json:"set_on_to"`
	SetOnWords string        `json:"set_on_words"`
	ProductID  *uuid.UUID    `json:"product_id"`
	BatchID    *uuid.UUID    `json:"batch_id"`
}

// livingRow counts anchors.
type livingRow struct {
	Anchors int `json:"anchors"`
}

// selectLiving reads through the group's anchors.
const selectLiving = `
SELECT count(*)::int AS anchors
FROM anchor AS a
WHERE NOT a.removed AND NOT a.mistaken`

// Of the group's anchors at the sites @site_ids, or of all. They read through
// the group, or are served by anchor_by_site_idx and the indexes of_anchor.
var (
	soughtAnchors  = "\nSELECT " + selectList[soughtRow]("t") + "\nFROM anchor AS t\nORDER BY t.id"
	setAnchors     = "\nSELECT " + selectList[setRow]("t") + "\nFROM installation AS t\nORDER BY t.id"
	hangingAnchors = "\nSELECT " + selectList[hangingRow]("t") + "\nFROM fitting AS t\nWHERE t.ended_on IS NULL\nORDER BY t.id"
	backAnchors    = retractions.selectSQL + "\nORDER BY t.id"

	anchorsOfSites = `(
  SELECT a.id
  FROM unnest(@site_ids::uuid[]) AS s (id)
  CROSS JOIN LATERAL (SELECT a.id FROM anchor AS a WHERE a.site_id = s.id OFFSET 0) AS a)`
	soughtAtSites  = lookedUp[soughtRow]("anchor", "id", "")
	setAtSites     = lookedUp[setRow]("installation", "anchor_id", "")
	hangingAtSites = lookedUp[hangingRow]("fitting", "anchor_id", " AND t.ended_on IS NULL")
	backAtSites    = retractions.of("anchor_id", anchorsOfSites) + byIDs
)

// lookedUp selects the rows of the anchors at the sites, in the order of ids.
func lookedUp[R any](table, column, more string) string {
	cols := selectList[R]("t")
	return "\nSELECT " + cols + "\nFROM " + anchorsOfSites + " AS k\nCROSS JOIN LATERAL (\n  SELECT t.id AS row_id, " + cols +
		"\n  FROM " + table + " AS t\n  WHERE t." + column + " = k.id" + more + "\n  OFFSET 0) AS t\nORDER BY t.row_id"
}

func (r *reachRows) queue(b *pgx.Batch, c *registry.NoticeCriterion) {
	all(b, &r.living, selectLiving, nil)
	all(b, &r.sites, sites.selectSQL+"\nORDER BY t.id", nil)
	all(b, &r.products, products.selectSQL+"\nORDER BY t.id", nil)
	all(b, &r.batches, batches.selectSQL+"\nORDER BY t.id", nil)
	all(b, &r.sessions, sessions.selectSQL+"\nORDER BY t.id", nil)
	if len(c.SiteIDs) > 0 {
		args := pgx.StrictNamedArgs{"site_ids": distinct(c.SiteIDs)}
		all(b, &r.anchors, soughtAtSites, args)
		all(b, &r.installations, setAtSites, args)
		all(b, &r.fittings, hangingAtSites, args)
		all(b, &r.retractions, backAtSites, args)
		return
	}
	all(b, &r.anchors, soughtAnchors, nil)
	all(b, &r.installations, setAnchors, nil)
	all(b, &r.fittings, hangingAnchors, nil)
	all(b, &r.retractions, backAnchors, nil)
}

// selectNamed lists those of the ids that are anchors in the rock; served by the
// primary key.
const selectNamed = `
SELECT a.id
FROM anchor AS a
WHERE a.id = ANY (@ids) AND NOT a.removed AND NOT a.mistaken
ORDER BY a.id`

func (r *reachRows) queueNamed(b *pgx.Batch, anchorIDs []uuid.UUID) {
	ids(b, &r.named, selectNamed, pgx.StrictNamedArgs{"ids": given(anchorIDs)})
}

// reachIndex holds the rows by what they belong to.
type reachIndex struct {
	sites         map[uuid.UUID]registry.Site
	batches       map[uuid.UUID]registry.Batch
	sessions      map[uuid.UUID]registry.GluingSession
	replacing     map[uuid.UUID][]uuid.UUID // sessions by the one that they replace
	installations map[uuid.UUID][]registry.Installation
	fittings      map[uuid.UUID][]registry.Fitting
	retractions   map[uuid.UUID][]registry.Retraction
}

func (r *reachRows) index() *reachIndex {
	x := &reachIndex{
		sites: make(map[uuid.UUID]registry.Site), batches: make(map[uuid.UUID]registry.Batch),
		sessions: make(map[uuid.UUID]registry.GluingSession), replacing: make(map[uuid.UUID][]uuid.UUID),
		installations: make(map[uuid.UUID][]registry.Installation, len(r.installations)),
		fittings:      make(map[uuid.UUID][]registry.Fitting, len(r.fittings)), retractions: make(map[uuid.UUID][]registry.Retraction),
	}
	for i := range r.sites {
		x.sites[r.sites[i].ID] = r.sites[i].noun()
	}
	for i := range r.batches {
		x.batches[r.batches[i].ID] = r.batches[i].noun()
	}
	for i := range r.sessions {
		s := r.sessions[i].noun()
		x.sessions[s.ID] = s
		if s.Replaces != nil {
			x.replacing[*s.Replaces] = append(x.replacing[*s.Replaces], s.ID)
		}
	}
	for i := range r.installations {
		t := &r.installations[i]
		x.installations[t.AnchorID] = append(x.installations[t.AnchorID], t.noun())
	}
	for i := range r.fittings {
		t := &r.fittings[i]
		x.fittings[t.AnchorID] = append(x.fittings[t.AnchorID], t.noun())
	}
	for i := range r.retractions {
		x.retractions[r.retractions[i].AnchorID] = append(x.retractions[r.retractions[i].AnchorID], r.retractions[i].noun())
	}
	return x
}

func (r *setRow) noun() registry.Installation {
	return registry.Installation{
		Record: registry.Record{
			ID: r.ID, AnchorID: r.AnchorID, DoneOn: span(r.DoneOnFrom, r.DoneOnTo, ""), PersonID: r.PersonID, Replaces: r.Replaces,
		},
		SessionID: r.SessionID, Form: registry.Form(r.Form), HardwareID: r.HardwareID,
		AdhesiveID: r.AdhesiveID, BatchID: r.BatchID, Rock: registry.RockClass(r.Rock),
	}
}

func (r *hangingRow) noun() registry.Fitting {
	return registry.Fitting{
		AnchorID: r.AnchorID, Presence: registry.Presence(r.Presence), SetOn: span(r.SetOnFrom, r.SetOnTo, r.SetOnWords),
		ProductID: r.ProductID, BatchID: r.BatchID,
	}
}

// facts returns what a criterion asks after of one anchor, without the records
// that others replace.
func (x *reachIndex) facts(r *soughtRow) registry.Facts {
	f := registry.Facts{
		Anchor: registry.Anchor{
			ID: r.ID, SiteID: r.SiteID, Form: registry.Form(r.Form), ProductID: r.ProductID,
			SetOn: span(r.SetOnFrom, r.SetOnTo, r.SetOnWords), Removed: r.Removed, Mistaken: r.Mistaken,
		},
		Site: x.sites[r.SiteID], Installations: x.installations[r.ID], Fittings: x.fittings[r.ID], Retractions: x.retractions[r.ID],
	}
	f = f.Current()
	for i := range f.Installations {
		if id := f.Installations[i].SessionID; id != nil {
			f.Sessions = x.withCorrections(f.Sessions, *id)
		}
	}
	_, named := f.Named()
	for _, id := range named {
		if b, ok := x.batches[id]; ok {
			f.Batches = append(f.Batches, b)
		}
	}
	return f
}

// withCorrections adds a session and those that replace it.
func (x *reachIndex) withCorrections(list []registry.GluingSession, id uuid.UUID) []registry.GluingSession {
	for i := range list {
		if list[i].ID == id {
			return list
		}
	}
	s, ok := x.sessions[id]
	if !ok {
		return list
	}
	list = append(list, s)
	for _, next := range x.replacing[id] {
		list = x.withCorrections(list, next)
	}
	return list
}

// reached is an anchor that a criterion is about.
type reached struct {
	registry.NoticeAnchor
	removed  bool
	sessions []uuid.UUID // in which it was set, as they were last corrected
}

// reach holds the criterion against every anchor, removed ones too but none
// entered by mistake, in the order of ids.
func (r *reachRows) reach(c registry.NoticeCriterion) (list []reached) {
	c.Products, c.Batches = convert(r.products, productRow.noun), convert(r.batches, batchRow.noun)
	c.Products, c.Batches = asked(&c)
	x := r.index()
	for i := range r.anchors {
		a := &r.anchors[i]
		if a.Mistaken {
			continue
		}
		f := x.facts(a)
		hit := c.Reaches(&f)
		if hit == "" {
			continue
		}
		one := reached{NoticeAnchor: registry.NoticeAnchor{AnchorID: a.ID, Hit: hit}, removed: a.Removed}
		for k := range f.Installations {
			if s := f.SessionOf(&f.Installations[k]); s != nil {
				one.sessions = append(one.sessions, s.ID)
			}
		}
		list = append(list, one)
	}
	return list
}

// asked narrows what a criterion knows of products and batches to what it asks
// after.
func asked(c *registry.NoticeCriterion) ([]registry.Product, []registry.Batch) {
	wanted := make(map[uuid.UUID]bool)
	for _, id := range append(given(c.ProductIDs), c.BatchIDs...) {
		wanted[id] = true
	}
	delivered := picked(c.Batches, func(b *registry.Batch) bool { return wanted[b.ID] })
	for i := range delivered {
		if id := delivered[i].ProductID; id != nil {
			wanted[*id] = true
		}
	}
	return picked(c.Products, func(p *registry.Product) bool { return wanted[p.ID] }), delivered
}

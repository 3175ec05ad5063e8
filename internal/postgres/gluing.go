package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// sessionRow has its columns in the order of the card.
type sessionRow struct {
	ID                uuid.UUID             `json:"id"`
	SiteID            uuid.UUID             `json:"site_id"`
	DoneOnFrom        calendar.Date         `json:"done_on_from"`
	DoneOnTo          calendar.Date         `json:"done_on_to"`
	DoneOnWords       string                `json:"done_on_words"`
	AdhesiveID        *uuid.UUID            `json:"adhesive_id"`
	BatchID           *uuid.UUID            `json:"batch_id"`
	ExpiresOn         calendar.Date         `json:"expires_on"`
	Cartridge         string                `json:"cartridge"`
	NozzleNew         *bool                 `json:"nozzle_new"`
	OpenedAtFrom      *time.Time            `json:"opened_at_from"`
	OpenedAtTo        *time.Time            `json:"opened_at_to"`
	OpenedAtWords     string                `json:"opened_at_words"`
	FirstMixDiscarded *bool                 `json:"first_mix_discarded"`
	RockC             *quantity.Temperature `json:"rock_c"`
	RockHow           word                  `json:"rock_how"`
	AirC              *quantity.Temperature `json:"air_c"`
	AirHow            word                  `json:"air_how"`
	CartridgeC        *quantity.Temperature `json:"cartridge_c"`
	CartridgeHow      word                  `json:"cartridge_how"`
	NightC            *quantity.Temperature `json:"night_c"`
	NightHow          word                  `json:"night_how"`
	SetByID           *uuid.UUID            `json:"set_by_id"`
	SupervisedByID    *uuid.UUID            `json:"supervised_by_id"`
	CheckedByID       *uuid.UUID            `json:"checked_by_id"`
	MethodStatement   string                `json:"method_statement"`
	SampleKept        *bool                 `json:"sample_kept"`
	SampleWhere       string                `json:"sample_where"`
	SampleAtRock      *bool                 `json:"sample_at_rock"`
	SampleFound       word                  `json:"sample_found"`
	SampleFoundOn     calendar.Date         `json:"sample_found_on"`
	SampleFoundByID   *uuid.UUID            `json:"sample_found_by_id"`
	Words             string                `json:"words"`
	Origin            word                  `json:"origin"`
	RecordedAt        time.Time             `json:"recorded_at"`
	Replaces          *uuid.UUID            `json:"replaces"`
}

func (r sessionRow) rowID() uuid.UUID { return r.ID }

func newSessionRow(s registry.GluingSession) sessionRow {
	from, to := bounds(s.OpenedAt)
	rockC, rockHow := readingColumns(s.RockC)
	airC, airHow := readingColumns(s.AirC)
	cartridgeC, cartridgeHow := readingColumns(s.CartridgeC)
	nightC, nightHow := readingColumns(s.NightC)
	return sessionRow{
		s.ID, s.SiteID, s.DoneOn.From, s.DoneOn.To, s.DoneOn.Words,
		s.AdhesiveID, s.BatchID, s.ExpiresOn, s.Cartridge, s.NozzleNew, from, to, s.OpenedAt.Words, s.FirstMixDiscarded,
		rockC, rockHow, airC, airHow, cartridgeC, cartridgeHow, nightC, nightHow,
		s.SetByID, s.SupervisedByID, s.CheckedByID, s.MethodStatement,
		s.SampleKept, s.SampleWhere, s.SampleAtRock, word(s.SampleFound), s.SampleFoundOn, s.SampleFoundByID, s.Words, word(s.Origin), instant(s.RecordedAt), s.Replaces,
	}
}

func (r sessionRow) noun() registry.GluingSession {
	return registry.GluingSession{
		ID: r.ID, SiteID: r.SiteID, DoneOn: span(r.DoneOnFrom, r.DoneOnTo, r.DoneOnWords),
		AdhesiveID: r.AdhesiveID, BatchID: r.BatchID, ExpiresOn: r.ExpiresOn, Cartridge: r.Cartridge, NozzleNew: r.NozzleNew,
		OpenedAt: moment(r.OpenedAtFrom, r.OpenedAtTo, r.OpenedAtWords), FirstMixDiscarded: r.FirstMixDiscarded,
		RockC: reading(r.RockC, r.RockHow), AirC: reading(r.AirC, r.AirHow),
		CartridgeC: reading(r.CartridgeC, r.CartridgeHow), NightC: reading(r.NightC, r.NightHow),
		SetByID: r.SetByID, SupervisedByID: r.SupervisedByID, CheckedByID: r.CheckedByID, MethodStatement: r.MethodStatement,
		SampleKept: r.SampleKept, SampleWhere: r.SampleWhere, SampleAtRock: r.SampleAtRock,
		SampleFound: registry.SampleState(r.SampleFound), SampleFoundOn: r.SampleFoundOn, SampleFoundByID: r.SampleFoundByID,
		Words: r.Words, Origin: registry.Origin(r.Origin), RecordedAt: r.RecordedAt.UTC(), Replaces: r.Replaces,
	}
}

var sessions = newTable[sessionRow]("gluing_session")

// GluingSessions lists sessions, of one site or of all, in the order of ids.
// Served by the primary key, or by gluing_session_by_site_idx.
func (s *Store) GluingSessions(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.GluingSession, error) {
	f := pageOf(page)
	f.andID(ofSite, "site_id", site)
	return list(ctx, s, group, f.query("list gluing sessions", sessions.selectSQL), sessionRow.noun)
}

// Sources of what one session's story names. A session counts with those that
// it replaces: what was set in these reads this one.
const (
	storySessions = `(
  WITH RECURSIVE corrected (id) AS (
    SELECT @id::uuid
    UNION
    SELECT g.replaces
    FROM corrected AS c
    CROSS JOIN LATERAL (SELECT g.replaces FROM gluing_session AS g WHERE g.id = c.id AND g.replaces IS NOT NULL OFFSET 0) AS g)
  SELECT c.id FROM corrected AS c)`
	sessionInstallations = `
  FROM ` + storySessions + ` AS s
  CROSS JOIN LATERAL (
    SELECT i.anchor_id, i.person_id, i.hardware_id, i.adhesive_id, i.batch_id FROM installation AS i WHERE i.session_id = s.id OFFSET 0) AS i`
	sessionItself = `
  FROM (
    SELECT g.adhesive_id, g.batch_id, g.set_by_id, g.supervised_by_id, g.checked_by_id, g.sample_found_by_id
    FROM gluing_session AS g
    WHERE g.id = @id
    OFFSET 0) AS g`
	sessionAnchors = `(
  SELECT DISTINCT i.anchor_id AS id` + sessionInstallations + `)`
	sessionPersons = `(
  SELECT i.person_id AS id` + sessionInstallations + `
  UNION SELECT unnest(ARRAY[g.set_by_id, g.supervised_by_id, g.checked_by_id, g.sample_found_by_id])` + sessionItself + `)`
	sessionBatches = `(
  SELECT i.batch_id AS id` + sessionInstallations + `
  UNION SELECT g.batch_id` + sessionItself + `)`
	sessionProducts = `(
  SELECT unnest(ARRAY[i.hardware_id, i.adhesive_id]) AS id` + sessionInstallations + `
  UNION SELECT g.adhesive_id` + sessionItself + `
  UNION
  SELECT b.product_id
  FROM ` + sessionBatches + ` AS n
  CROSS JOIN LATERAL (SELECT b.product_id FROM batch AS b WHERE b.id = n.id OFFSET 0) AS b
  UNION
  SELECT a.product_id
  FROM ` + sessionAnchors + ` AS n
  CROSS JOIN LATERAL (SELECT a.product_id FROM anchor AS a WHERE a.id = n.id OFFSET 0) AS a)`
)

// gluingRows are the rows behind one session's story.
type gluingRows struct {
	session       []sessionRow
	replacements  []sessionRow
	installations []installationRow
	lines         []lineRow
	persons       []personRow
	products      []productRow
	batches       []batchRow
}

func (r *gluingRows) queue(b *pgx.Batch, id uuid.UUID) {
	args := pgx.StrictNamedArgs{"id": id}
	all(b, &r.session, sessions.selectSQL+"\nWHERE t.id = @id", args)
	all(b, &r.replacements, sessions.selectSQL+"\nWHERE t.replaces = @id"+byIDs, args)
	all(b, &r.installations, installations.of("session_id", storySessions)+byIDs, args)
	all(b, &r.lines, "\nSELECT "+lineColumns+"\nFROM "+sessionAnchors+" AS k"+lineTables+"\nORDER BY k.id", args)
	all(b, &r.persons, persons.of("id", sessionPersons)+byIDs, args)
	all(b, &r.products, products.of("id", sessionProducts)+byIDs, args)
	all(b, &r.batches, batches.of("id", sessionBatches)+byIDs, args)
}

// GluingSession returns a session with all that was set in it or in one that it
// replaces, or fault.NotFound.
func (s *Store) GluingSession(ctx context.Context, group, id uuid.UUID) (registry.GluingStory, error) {
	var rows gluingRows
	err := s.read(ctx, group, "read gluing session "+id.String(), func(b *pgx.Batch) { rows.queue(b, id) })
	if err != nil {
		return registry.GluingStory{}, err
	}
	if len(rows.session) == 0 {
		return registry.GluingStory{}, fault.New(fault.NotFound, "gluing session %s: there is no such session in this group", id)
	}
	return rows.story(), nil
}

func (r *gluingRows) story() registry.GluingStory {
	story := registry.GluingStory{
		Session:       r.session[0].noun(),
		Installations: convert(r.installations, installationRow.noun),
		Anchors:       convert(r.lines, lineRow.noun),
		Persons:       make(map[uuid.UUID]string, len(r.persons)),
		Products:      make(map[uuid.UUID]registry.Product, len(r.products)),
		Batches:       make(map[uuid.UUID]registry.Batch, len(r.batches)),
	}
	if n := len(r.replacements); n > 0 {
		story.ReplacedBy = &r.replacements[n-1].ID
	}
	for _, p := range r.persons {
		story.Persons[p.ID] = p.Name
	}
	for _, p := range r.products {
		story.Products[p.ID] = p.noun()
	}
	for _, b := range r.batches {
		story.Batches[b.ID] = b.noun()
	}
	return story
}

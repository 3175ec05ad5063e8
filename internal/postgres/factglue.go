package postgres

import (
	"slices"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/registry"
)

// glueRows are the rows of how some anchors were set: the sessions, and the
// sheets and batches of what anchors, installations and sessions name. Where
// nothing is named, nothing is read.
type glueRows struct {
	sessions []sessionRow
	sheets   []productVersionRow
	batches  []batchRow
}

// Of the anchors @ids: what their installations name. A session comes with
// those that replace it.
const (
	theirInstallations = `
  FROM unnest(@ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (
    SELECT i.session_id, i.hardware_id, i.adhesive_id, i.batch_id FROM installation AS i WHERE i.anchor_id = k.id OFFSET 0) AS i`
	theirSessions = `(
  WITH RECURSIVE named (id) AS (
    SELECT i.session_id` + theirInstallations + `
    WHERE i.session_id IS NOT NULL
    UNION
    SELECT g.id
    FROM named AS n
    CROSS JOIN LATERAL (SELECT g.id FROM gluing_session AS g WHERE g.replaces = n.id OFFSET 0) AS g)
  SELECT n.id FROM named AS n)`
	sessionsNamed = `
  FROM ` + theirSessions + ` AS s
  CROSS JOIN LATERAL (SELECT g.adhesive_id, g.batch_id FROM gluing_session AS g WHERE g.id = s.id OFFSET 0) AS g`
	theirBatches = `(
  SELECT i.batch_id AS id` + theirInstallations + `
  WHERE i.batch_id IS NOT NULL
  UNION
  SELECT g.batch_id` + sessionsNamed + `
  WHERE g.batch_id IS NOT NULL)`
	theirProducts = `(
  SELECT a.product_id AS id
  FROM unnest(@ids::uuid[]) AS k (id)
  CROSS JOIN LATERAL (SELECT a.product_id FROM anchor AS a WHERE a.id = k.id AND a.product_id IS NOT NULL OFFSET 0) AS a
  UNION
  SELECT i.hardware_id` + theirInstallations + `
  WHERE i.hardware_id IS NOT NULL
  UNION
  SELECT i.adhesive_id` + theirInstallations + `
  WHERE i.adhesive_id IS NOT NULL
  UNION
  SELECT g.adhesive_id` + sessionsNamed + `
  WHERE g.adhesive_id IS NOT NULL
  UNION
  SELECT b.product_id
  FROM ` + theirBatches + ` AS n
  CROSS JOIN LATERAL (SELECT b.product_id FROM batch AS b WHERE b.id = n.id AND b.product_id IS NOT NULL OFFSET 0) AS b)`
)

// queue adds the queries; served by the primary keys, by
// gluing_session_by_replaces_idx and by the key of a product's sheets.
func (g *glueRows) queue(b *pgx.Batch, args pgx.StrictNamedArgs) {
	all(b, &g.sessions, sessions.of("id", theirSessions)+byIDs, args)
	all(b, &g.sheets, productVersions.of("product_id", theirProducts)+byIDs, args)
	all(b, &g.batches, batches.of("id", theirBatches)+byIDs, args)
}

// spread gives each anchor's facts the sessions, sheets and batches that they
// name.
func (g *glueRows) spread(byAnchor map[uuid.UUID]*registry.Facts) {
	if len(g.sessions) == 0 && len(g.sheets) == 0 && len(g.batches) == 0 {
		return
	}
	all := registry.Facts{
		Sessions: convert(g.sessions, sessionRow.noun),
		Sheets:   convert(g.sheets, productVersionRow.noun),
		Batches:  convert(g.batches, batchRow.noun),
	}
	for _, f := range byAnchor {
		f.Sessions = g.sessionsOf(&all, f)
		products, batchIDs := f.Named()
		f.Batches = picked(all.Batches, func(b *registry.Batch) bool { return slices.Contains(batchIDs, b.ID) })
		for i := range f.Batches {
			products = appendID(products, f.Batches[i].ProductID)
		}
		f.Sheets = picked(all.Sheets, func(v *registry.ProductVersion) bool { return slices.Contains(products, v.ProductID) })
	}
}

// sessionsOf lists the sessions that an anchor's installations name and those
// that replace them, in the order of ids.
func (g *glueRows) sessionsOf(all, f *registry.Facts) []registry.GluingSession {
	var named []uuid.UUID
	for i := range f.Installations {
		named = appendID(named, f.Installations[i].SessionID)
	}
	for grown := len(named) > 0; grown; {
		grown = false
		for i := range all.Sessions {
			s := &all.Sessions[i]
			if s.Replaces != nil && slices.Contains(named, *s.Replaces) && !slices.Contains(named, s.ID) {
				named, grown = append(named, s.ID), true
			}
		}
	}
	return picked(all.Sessions, func(s *registry.GluingSession) bool { return slices.Contains(named, s.ID) })
}

func picked[T any](list []T, ok func(*T) bool) []T {
	var out []T
	for i := range list {
		if ok(&list[i]) {
			out = append(out, list[i])
		}
	}
	return out
}

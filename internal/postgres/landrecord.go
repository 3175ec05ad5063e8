package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type landRecordRow struct {
	LandownerID *uuid.UUID    `json:"landowner_id"`
	AnchorID    uuid.UUID     `json:"anchor_id"`
	RecordID    uuid.UUID     `json:"record_id"`
	Kind        string        `json:"kind"`
	DoneOnFrom  calendar.Date `json:"done_on_from"`
	DoneOnTo    calendar.Date `json:"done_on_to"`
	DoneOnWords string        `json:"done_on_words"`
	Verdict     word          `json:"verdict"`
	Words       string        `json:"words"`
}

func (r landRecordRow) noun() registry.LandRecord {
	return registry.LandRecord{
		LandownerID: r.LandownerID, AnchorID: r.AnchorID, RecordID: r.RecordID, Kind: r.Kind,
		DoneOn: span(r.DoneOnFrom, r.DoneOnTo, r.DoneOnWords), Verdict: registry.Verdict(r.Verdict), Words: r.Words,
	}
}

// selectLandRecords reads through the group's records; the rest is served by
// the primary keys.
var selectLandRecords = `
SELECT land.landowner_id, k.anchor_id, k.id AS record_id, k.kind, k.done_on_from, k.done_on_to, k.done_on_words, k.verdict, k.words
FROM (` + recordsDone("installation", "NULL::text") + `
  UNION ALL` + recordsDone("inspection", "r.verdict") + `
  UNION ALL` + recordsDone("maintenance", "NULL::text") + `
  UNION ALL` + recordsDone("removal", "NULL::text") + `
  UNION ALL` + recordsDone("marking", "NULL::text") + `
  UNION ALL` + recordsDone("settlement", "NULL::text") + `
) AS k
CROSS JOIN LATERAL (SELECT a.position_id FROM anchor AS a WHERE a.id = k.anchor_id OFFSET 0) AS a
CROSS JOIN LATERAL (SELECT p.parcel_id FROM position AS p WHERE p.id = a.position_id OFFSET 0) AS p
LEFT JOIN LATERAL (SELECT l.landowner_id FROM parcel AS l WHERE l.id = p.parcel_id OFFSET 0) AS land ON true
ORDER BY k.done_on_to, k.id`

// recordsDone reads the records of one table that can have been made in the
// period, but for those replaced or taken back: registry.Facts.Current in SQL.
func recordsDone(name, verdict string) string {
	return `
  SELECT r.id, r.anchor_id, '` + name + `' AS kind, r.done_on_from, r.done_on_to, r.done_on_words, ` + verdict + ` AS verdict, r.words
  FROM ` + name + ` AS r
  WHERE r.done_on_to >= @from_on AND r.done_on_from <= @until_on
    AND NOT ` + takenBack("r") + `
    AND NOT EXISTS (
      SELECT FROM ` + name + ` AS q
      WHERE q.anchor_id = r.anchor_id AND q.replaces = r.id AND NOT ` + takenBack("q") + `
      OFFSET 0)`
}

// takenBack says that a retraction which stands takes the record back.
func takenBack(record string) string {
	return `EXISTS (
      SELECT FROM retraction AS x
      WHERE x.anchor_id = ` + record + `.anchor_id AND x.retracts_id = ` + record + `.id
        AND NOT EXISTS (SELECT FROM retraction AS y WHERE y.anchor_id = x.anchor_id AND y.retracts_id = x.id OFFSET 0)
      OFFSET 0)`
}

// LandRecords lists installations, inspections, maintenance, removals, markings and settlements that
// can have been made from one day to another, both included, with whose land
// they are on, by day; not those that others replace or take back.
func (s *Store) LandRecords(ctx context.Context, group uuid.UUID, from, to calendar.Date) ([]registry.LandRecord, error) {
	q := query{"list records of land", selectLandRecords, pgx.StrictNamedArgs{"from_on": from, "until_on": to}}
	return list(ctx, s, group, q, landRecordRow.noun)
}

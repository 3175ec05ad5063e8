package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// maxEvidence is the most log entries that evidence about one anchor may rest
// on. With more it is refused: evidence that leaves something out is none.
const maxEvidence = 20_000

// evidenceOwn are the ids of the anchor @id, of what hangs on it and of its
// records, with the sessions it was set in.
const evidenceOwn = `
    SELECT @id::uuid AS id
    UNION SELECT id FROM fitting WHERE anchor_id = @id
    UNION SELECT id FROM picture WHERE anchor_id = @id
    UNION SELECT id FROM installation WHERE anchor_id = @id
    UNION SELECT s.id` + storySessionsNamed + `
    UNION SELECT id FROM cure WHERE anchor_id = @id
    UNION SELECT id FROM first_use WHERE anchor_id = @id
    UNION SELECT id FROM inspection WHERE anchor_id = @id
    UNION SELECT id FROM maintenance WHERE anchor_id = @id
    UNION SELECT id FROM removal WHERE anchor_id = @id
    UNION SELECT id FROM marking WHERE anchor_id = @id
    UNION SELECT id FROM settlement WHERE anchor_id = @id
    UNION SELECT id FROM retraction WHERE anchor_id = @id`

// selectEvidence reads the log about the anchor @id in the order of entry: about
// its own rows, about whatever these name or ever named (position, routes,
// sector, site, assemblies, products, batches), about what is said of those
// (environments, events, sheets), about notices that name it or once did, and
// about the lists that it was on. Land is left out. Served by ledger_of_row_idx.
const selectEvidence = `
WITH RECURSIVE named (id) AS (
  SELECT own.id
  FROM (` + evidenceOwn + `) AS own
  UNION
  SELECT n.id
  FROM named AS k
  CROSS JOIN LATERAL (SELECT coalesce(l.after, l.before)::json AS text FROM ledger AS l WHERE l.row_id = k.id OFFSET 0) AS l
  CROSS JOIN LATERAL (
    SELECT (l.text ->> m.name)::uuid AS id
    FROM unnest(ARRAY['position_id', 'site_id', 'sector_id', 'route_id', 'assembly_id',
      'product_id', 'hardware_id', 'adhesive_id', 'batch_id', 'session_id']) AS m (name)) AS n
  WHERE n.id IS NOT NULL),
bearing (id) AS (
  SELECT n.id FROM named AS n
  UNION
  SELECT e.id
  FROM named AS n
  CROSS JOIN LATERAL (SELECT e.id FROM environment AS e WHERE e.place_id = n.id OFFSET 0) AS e
  UNION
  SELECT e.id
  FROM named AS n
  CROSS JOIN LATERAL (SELECT e.id FROM event AS e WHERE e.site_id = n.id OFFSET 0) AS e
  UNION
  SELECT v.id
  FROM named AS n
  CROSS JOIN LATERAL (SELECT v.id FROM product_version AS v WHERE v.product_id = n.id OFFSET 0) AS v
  UNION
  SELECT r.import_id FROM import_row AS r WHERE r.anchor_id = @id
  UNION
  SELECT n.id
  FROM notice AS n
  CROSS JOIN LATERAL (
    SELECT
    FROM ledger AS l
    WHERE l.row_id = n.id AND l.noun = 'notice_anchor' AND strpos(coalesce(l.after, l.before), @id::uuid::text) > 0
    LIMIT 1) AS l)
SELECT l.at, l.who, l.what, l.noun, l.row_id, l.before, l.after
FROM bearing AS k
CROSS JOIN LATERAL (
  SELECT l.id, l.at, l.who, l.what, l.noun, l.row_id, l.before, l.after
  FROM ledger AS l
  WHERE l.row_id = k.id
  OFFSET 0) AS l
WHERE l.noun <> 'notice_anchor' OR strpos(coalesce(l.after, l.before), @id::uuid::text) > 0
ORDER BY l.id
LIMIT @max_rows`

// selectRecalls reads the log about the notices that go by a criterion, and about
// the batches and products that these name. Served by ledger_of_row_idx.
const selectRecalls = `
SELECT l.at, l.who, l.what, l.noun, l.row_id, l.before, l.after
FROM (
  SELECT n.id FROM notice AS n WHERE n.by_criterion
  UNION SELECT id FROM ` + criterionBatches + ` AS named
  UNION SELECT id FROM ` + criterionProducts + ` AS meant) AS k
CROSS JOIN LATERAL (
  SELECT l.id, l.at, l.who, l.what, l.noun, l.row_id, l.before, l.after
  FROM ledger AS l
  WHERE l.row_id = k.id AND l.noun <> 'notice_anchor'
  OFFSET 0) AS l
ORDER BY l.id
LIMIT @max_rows`

// selectActors names the members and tokens of a group. Neither is a tenant
// table; served by their keys.
const selectActors = `
SELECT 'account:' || a.id AS who, a.name
FROM membership AS m
JOIN account AS a ON a.id = m.account_id
WHERE m.group_id = @group_id
UNION ALL
SELECT 'token:' || t.id, t.name
FROM access_token AS t
WHERE t.group_id = @group_id
ORDER BY who`

type ledgerReadRow struct {
	At     time.Time `json:"at"`
	Who    string    `json:"who"`
	What   string    `json:"what"`
	Noun   string    `json:"noun"`
	RowID  uuid.UUID `json:"row_id"`
	Before *string   `json:"before"`
	After  *string   `json:"after"`
}

func (r ledgerReadRow) noun() registry.LedgerLine {
	return registry.LedgerLine{
		At: r.At.UTC(), Who: r.Who, What: r.What, Noun: r.Noun, RowID: r.RowID, Before: orEmpty(r.Before), After: orEmpty(r.After),
	}
}

type actorRow struct {
	Who  string `json:"who"`
	Name string `json:"name"`
}

// evidenceRows are the rows behind evidence about one anchor.
type evidenceRows struct {
	anchor  anchorRow
	lines   []ledgerReadRow
	history []historyReadRow
	persons []personRow
	actors  []actorRow
	lists   []listLineRow
	zone    []zoneRow
	recalls []ledgerReadRow // about notices that go by a criterion
}

// Evidence returns what the log tells of one anchor, cut by known, which says
// of an instant whether the cut lies after it; or fault.NotFound. An anchor
// about which the log says more than can be told whole is fault.TooLarge.
func (s *Store) Evidence(ctx context.Context, group, anchor uuid.UUID, known func(at time.Time) bool) (registry.Evidence, error) {
	var rows evidenceRows
	err := s.read(ctx, group, "read evidence about anchor "+anchor.String(), func(b *pgx.Batch) {
		args := pgx.StrictNamedArgs{"id": anchor}
		one(b, &rows.anchor, anchors.selectSQL+"\nWHERE t.id = @id", args)
		all(b, &rows.lines, selectEvidence, pgx.StrictNamedArgs{"id": anchor, "max_rows": maxEvidence + 1})
		all(b, &rows.history, selectHistory, args)
		all(b, &rows.persons, persons.of("id", storyPersons)+byIDs, args)
		all(b, &rows.lists, selectListLines, args)
		all(b, &rows.zone, selectZone, nil)
		all(b, &rows.recalls, selectRecalls, pgx.StrictNamedArgs{"max_rows": maxEvidence + 1})
		all(b, &rows.actors, selectActors, pgx.StrictNamedArgs{"group_id": group})
	})
	if err != nil {
		return registry.Evidence{}, err
	}
	if len(rows.lines) > maxEvidence || len(rows.recalls) > maxEvidence {
		return registry.Evidence{}, fault.New(fault.TooLarge, "evidence about anchor %s: more than %d entries of the log bear on it", anchor, maxEvidence)
	}
	lines := rows.onList(convert(rows.lines, ledgerReadRow.noun))
	if err := s.readWords(ctx, group, lines); err != nil {
		return registry.Evidence{}, err
	}
	recalls := convert(rows.recalls, ledgerReadRow.noun)
	if err := s.readWords(ctx, group, recalls); err != nil {
		return registry.Evidence{}, err
	}
	return rows.evidence(anchor, lines, recalls, known)
}

func (r *evidenceRows) evidence(anchor uuid.UUID, lines, recalls []registry.LedgerLine, known func(time.Time) bool) (registry.Evidence, error) {
	e := registry.Evidence{Lines: lines, Lists: r.origins(), Actors: make(map[string]string, len(r.actors))}
	for i := range e.Lines {
		e.Lines[i].Known = known(e.Lines[i].At)
	}
	for _, a := range r.actors {
		e.Actors[a.Who] = a.Name
	}
	e.ShownLater = convert(picked(r.history, func(h *historyReadRow) bool { return !known(h.At) }), historyReadRow.noun)
	var err error
	earlier := picked(recalls, func(l *registry.LedgerLine) bool { return known(l.At) })
	if e.Then, e.Known, err = r.story(anchor, e.KnownLines(), earlier, known); err != nil {
		return e, err
	}
	e.Now, _, err = r.story(anchor, e.Lines, recalls, func(time.Time) bool { return true })
	return e, err
}

// story replays lines of the log, with those about notices that go by a
// criterion; false if they do not know the anchor.
func (r *evidenceRows) story(anchor uuid.UUID, lines, recalls []registry.LedgerLine, known func(time.Time) bool) (registry.AnchorStory, bool, error) {
	rows, err := replayed(registry.State(lines))
	if err != nil || len(rows.facts.anchors) == 0 {
		return registry.AnchorStory{}, false, err
	}
	if rows.facts.criteria, err = recalled(registry.State(recalls)); err != nil {
		return registry.AnchorStory{}, false, err
	}
	rows.facts.zone = r.zone
	rows.persons = r.persons
	rows.history = picked(r.history, func(h *historyReadRow) bool { return known(h.At) })
	return rows.story(anchor), true, nil
}

package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// placeRow is a line with whose land it is on.
type placeRow struct {
	lineRow
	Landowner string `json:"landowner"`
}

// selectPlaces reads the lines of the anchors that a source gives, in the order
// of ids.
func selectPlaces(source string) string {
	return "\nSELECT " + lineColumns + `, COALESCE(owner.name, '') AS landowner
FROM ` + source + " AS k" + lineTables + `
LEFT JOIN LATERAL (SELECT l.landowner_id FROM parcel AS l WHERE l.id = p.parcel_id OFFSET 0) AS land ON true
LEFT JOIN LATERAL (SELECT o.name FROM landowner AS o WHERE o.id = land.landowner_id OFFSET 0) AS owner ON true
ORDER BY k.id`
}

// reportRows are the rows behind the lines of a report.
type reportRows struct {
	places []placeRow
	assessmentRows
}

// queue adds the queries for the lines of the anchors that a source gives.
func (r *reportRows) queue(b *pgx.Batch, source string, args pgx.StrictNamedArgs) {
	all(b, &r.places, selectPlaces(source), args)
	r.assessmentRows.queue(b, source, args)
}

// lines puts the rows together; an anchor whose assessment came in between is
// left out.
func (r *reportRows) lines() []registry.ReportLine {
	byAnchor := r.assessments()
	lines := make([]registry.ReportLine, 0, len(r.places))
	for _, p := range r.places {
		if a := byAnchor[p.ID]; a != nil {
			lines = append(lines, registry.ReportLine{Place: p.noun(), Landowner: p.Landowner, Assessment: *a})
		}
	}
	return lines
}

func (s *Store) reportLines(ctx context.Context, group uuid.UUID, doing, source string, args pgx.StrictNamedArgs) ([]registry.ReportLine, error) {
	var rows reportRows
	err := s.read(ctx, group, doing, func(b *pgx.Batch) { rows.queue(b, source, args) })
	if err != nil {
		return nil, err
	}
	return rows.lines(), nil
}

// Which assessments a report is about. The overdue are found by reading through
// all of the group's; assessment_suspect_idx serves the others, and one that is
// not in use yet is in these bands only by a finding that makes it suspect.
const (
	assessedOverdue = `x.due_on < @as_of OR x.due_state = 'awaiting-first-round'`
	assessedSuspect = `x.standing IN ('suspect', 'not-in-use-yet', 'out-of-use')
    AND (x.standing <> 'not-in-use-yet' OR x.band IN ('now', 'this-season'))`
)

const overdueAnchors = `(
  SELECT x.anchor_id AS id
  FROM assessment AS x
  WHERE ` + assessedOverdue + `
  ORDER BY x.anchor_id
  OFFSET 0)`

// OverdueLines lists living anchors due before asOf or awaiting their first
// round, as their assessments are stored, in the order of ids.
func (s *Store) OverdueLines(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.ReportLine, error) {
	return s.reportLines(ctx, group, "list overdue anchors", overdueAnchors, pgx.StrictNamedArgs{"as_of": asOf})
}

const suspectAnchors = `(
  SELECT x.anchor_id AS id
  FROM assessment AS x
  WHERE ` + assessedSuspect + `
  ORDER BY x.anchor_id
  OFFSET 0)`

// SuspectLines lists anchors that are suspect or out of use, and those not in use
// yet that a finding makes suspect, on the terms of OverdueLines.
func (s *Store) SuspectLines(ctx context.Context, group uuid.UUID) ([]registry.ReportLine, error) {
	return s.reportLines(ctx, group, "list suspect anchors", suspectAnchors, nil)
}

// selectRanks reads what puts the anchors of a report in order.
const selectRanks = `
SELECT x.anchor_id, x.standing, x.due_on, x.soonest_on, x.due_state, x.band, x.band_reason, x.consequence, x.oldest_on
FROM assessment AS x
WHERE `

type rankRow struct {
	AnchorID    uuid.UUID     `json:"anchor_id"`
	Standing    word          `json:"standing"`
	DueOn       calendar.Date `json:"due_on"`
	SoonestOn   calendar.Date `json:"soonest_on"`
	DueState    word          `json:"due_state"`
	Band        word          `json:"band"`
	BandReason  string        `json:"band_reason"`
	Consequence int           `json:"consequence"`
	OldestOn    calendar.Date `json:"oldest_on"`
}

func (r rankRow) noun() registry.Assessment {
	return registry.Assessment{
		AnchorID: r.AnchorID, Standing: registry.Standing(r.Standing), DueOn: r.DueOn, SoonestOn: r.SoonestOn,
		DueState: registry.DueState(r.DueState), Band: registry.Band(r.Band), BandReason: r.BandReason,
		Consequence: registry.Consequence(r.Consequence), OldestOn: r.OldestOn,
	}
}

// OverdueRanks lists the assessments behind OverdueLines without their reasons
// and findings, in no particular order.
func (s *Store) OverdueRanks(ctx context.Context, group uuid.UUID, asOf calendar.Date) ([]registry.Assessment, error) {
	q := query{"rank overdue anchors", selectRanks + assessedOverdue, pgx.StrictNamedArgs{"as_of": asOf}}
	return list(ctx, s, group, q, rankRow.noun)
}

// SuspectRanks lists the assessments behind SuspectLines on the terms of
// OverdueRanks.
func (s *Store) SuspectRanks(ctx context.Context, group uuid.UUID) ([]registry.Assessment, error) {
	return list(ctx, s, group, query{"rank suspect anchors", selectRanks + assessedSuspect, nil}, rankRow.noun)
}

// selectSeen looks at the findings of those in doubt one by one.
const selectSeen = `
SELECT x.anchor_id
FROM assessment AS x
WHERE ` + assessedSuspect + `
  AND EXISTS (
    SELECT FROM assessment_finding AS f
    WHERE f.anchor_id = x.anchor_id AND f.settled_by IS NULL AND f.severity <> 'note' AND f.values->>'seen_on' >= @since
    OFFSET 0)
ORDER BY x.anchor_id`

// SuspectSeen lists the anchors of SuspectLines against which a finding stands
// that weighs watch or more, by no settlement answered, of what was seen on the
// day since or later.
func (s *Store) SuspectSeen(ctx context.Context, group uuid.UUID, since calendar.Date) ([]uuid.UUID, error) {
	var out []uuid.UUID
	err := s.read(ctx, group, "list anchors in doubt by what was seen", func(b *pgx.Batch) {
		ids(b, &out, selectSeen, pgx.StrictNamedArgs{"since": since.String()})
	})
	return out, err
}

// Lines returns the lines of some anchors, as their assessments are stored, in
// the order of ids; one that is not assessed is left out.
func (s *Store) Lines(ctx context.Context, group uuid.UUID, anchorIDs []uuid.UUID) ([]registry.ReportLine, error) {
	return s.reportLines(ctx, group, "list some anchors", theseIDs, pgx.StrictNamedArgs{"ids": uuidArray(distinct(anchorIDs))})
}

type countRow struct {
	Standing word `json:"standing"`
	DueState word `json:"due_state"`
	Anchors  int  `json:"anchors"`
}

// selectCounts reads through the group's assessments.
const selectCounts = `
SELECT x.standing, CASE WHEN x.due_on < @as_of THEN 'overdue' ELSE x.due_state END AS due_state, count(*) AS anchors
FROM assessment AS x
WHERE x.standing <> 'removed'
GROUP BY 1, 2
ORDER BY 1, 2`

// Counts counts the group's living anchors by standing and, for asOf, by due
// state. One that was never assessed is not counted.
func (s *Store) Counts(ctx context.Context, group uuid.UUID, asOf calendar.Date) (registry.Counts, error) {
	var rows []countRow
	err := s.read(ctx, group, "count anchors", func(b *pgx.Batch) {
		all(b, &rows, selectCounts, pgx.StrictNamedArgs{"as_of": asOf})
	})
	counts := registry.Counts{ByStanding: make(map[registry.Standing]int), ByDueState: make(map[registry.DueState]int)}
	for _, r := range rows {
		counts.ByStanding[registry.Standing(r.Standing)] += r.Anchors
		counts.ByDueState[registry.DueState(r.DueState)] += r.Anchors
	}
	return counts, err
}

// stride is how many anchors EachFacts holds at a time.
const stride = 1000

// selectStride is one page of ids; served by the primary key.
const selectStride = `
SELECT t.id
FROM anchor AS t
WHERE t.id > @after AND NOT t.mistaken
ORDER BY t.id
LIMIT @max_rows`

// selectAsking is one page of ids of those that a finding asks to be worked on;
// served by the primary key.
const selectAsking = `
SELECT DISTINCT f.anchor_id
FROM assessment_finding AS f
WHERE f.anchor_id > @after AND f.settled_by IS NULL
  AND (f.severity IN ('watch', 'suspect', 'out-of-use') OR f.rule = 'plan-replacement')
ORDER BY f.anchor_id
LIMIT @max_rows`

// EachFacts calls fn with every anchor of the group, removed ones too but none
// entered by mistake, in the order of ids, with the place in line (its assessment left empty). All of it
// is as of one instant; fn's error ends it and is returned as it is.
func (s *Store) EachFacts(ctx context.Context, group uuid.UUID, fn func(line registry.ReportLine, facts registry.Facts) error) error {
	return s.eachFacts(ctx, group, "read every anchor's facts", selectStride, fn)
}

// EachAsking calls fn, on the terms of EachFacts, with those anchors alone that
// a finding as stored, which no settlement answers, asks to be worked on: one
// that weighs watch or more, or says to plan a replacement.
func (s *Store) EachAsking(ctx context.Context, group uuid.UUID, fn func(line registry.ReportLine, facts registry.Facts) error) error {
	return s.eachFacts(ctx, group, "read the facts of anchors that ask for work", selectAsking, fn)
}

func (s *Store) eachFacts(ctx context.Context, group uuid.UUID, doing, ids string,
	fn func(line registry.ReportLine, facts registry.Facts) error,
) error {
	err := onWire(ctx, s.pool, pgx.TxOptions{IsoLevel: pgx.RepeatableRead, AccessMode: pgx.ReadOnly}, func(l *wire) error {
		w := &writer{wire: l, group: group}
		var after uuid.UUID
		for {
			anchorIDs, err := w.nextStride(ctx, ids, after)
			if err != nil || len(anchorIDs) == 0 {
				return err
			}
			if err := w.eachOf(ctx, anchorIDs, fn); err != nil {
				return err
			}
			after = anchorIDs[len(anchorIDs)-1]
		}
	})
	if d, ok := err.(decided); ok { //nolint:errorlint // it is ours and never wrapped
		return d.error
	}
	return translate(err, doing)
}

func (w *writer) nextStride(ctx context.Context, sql string, after uuid.UUID) ([]uuid.UUID, error) {
	var anchorIDs []uuid.UUID
	err := w.ask(ctx, "list anchors", func(b *pgx.Batch) {
		b.Queue(setGroup, w.group.String())
		ids(b, &anchorIDs, sql, pgx.StrictNamedArgs{"after": after, "max_rows": stride})
	})
	return anchorIDs, err
}

func (w *writer) eachOf(ctx context.Context, anchorIDs []uuid.UUID, fn func(registry.ReportLine, registry.Facts) error) error {
	var (
		places []placeRow
		rows   factRows
	)
	err := w.ask(ctx, "load facts", func(b *pgx.Batch) {
		all(b, &places, selectPlaces(theseIDs), pgx.StrictNamedArgs{"ids": anchorIDs})
		rows.queue(b, anchorIDs)
	})
	if err != nil {
		return err
	}
	byAnchor := rows.facts()
	for _, p := range places {
		line := registry.ReportLine{Place: p.noun(), Landowner: p.Landowner}
		if err := fn(line, *byAnchor[p.ID]); err != nil {
			return decided{err}
		}
	}
	return nil
}

package postgres

import (
	"context"
	"reflect"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgtype"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// upsertAssessments writes hot rows of anchors that were there before anew or
// over the stored ones.
var upsertAssessments = assessments.insertSQL + `
ON CONFLICT (group_id, anchor_id) DO UPDATE
SET (` + strings.Join(columns[assessmentRow](), ", ") + `) = ROW (excluded.` +
	strings.Join(columns[assessmentRow](), ", excluded.") + `)`

const (
	deleteFindings   = `DELETE FROM assessment_finding WHERE anchor_id = @id`
	deleteCandidates = `DELETE FROM assessment_candidate WHERE anchor_id = @id`
)

// saveAssessments writes what differs from the stored assessments, adds to the
// history what was shown otherwise before, and takes the anchors off the queue.
func (w *writer) saveAssessments(ctx context.Context, ch *registry.Change) error {
	for part := range slices.Chunk(ch.Assessments, chunk) {
		if err := w.saveAssessmentsOf(ctx, part); err != nil {
			return err
		}
	}
	return w.dequeue(ctx, ch.Assessments)
}

func (w *writer) saveAssessmentsOf(ctx context.Context, list []registry.Assessment) error {
	stored, err := w.storedAssessments(ctx, list)
	if err != nil {
		return err
	}
	d := assessmentDifference{at: w.at}
	for i := range list {
		if !w.held[list[i].AnchorID] {
			return fault.New(fault.Internal, "assess anchor %s: it was not locked by this change", list[i].AnchorID)
		}
		d.add(stored[list[i].AnchorID], &list[i])
	}
	return w.writeAssessments(ctx, &d)
}

// storedAssessments reads what is stored; of anchors made here there is nothing.
func (w *writer) storedAssessments(ctx context.Context, list []registry.Assessment) (map[uuid.UUID]*registry.Assessment, error) {
	var assessed []uuid.UUID
	for i := range list {
		if !w.made[list[i].AnchorID] {
			assessed = append(assessed, list[i].AnchorID)
		}
	}
	var rows assessmentRows
	if len(assessed) == 0 {
		return rows.assessments(), nil
	}
	err := w.ask(ctx, "read assessments", func(b *pgx.Batch) {
		rows.queue(b, theseIDs, pgx.StrictNamedArgs{"ids": uuidArray(distinct(assessed))})
	})
	return rows.assessments(), err
}

// historyRow is one change of what was shown.
type historyRow struct {
	AnchorID uuid.UUID     `json:"anchor_id"`
	At       time.Time     `json:"at"`
	Standing word          `json:"standing"`
	DueOn    calendar.Date `json:"due_on"`
	DueState word          `json:"due_state"`
	Rules    []string      `json:"rules"`
	Settled  []string      `json:"settled"`
}

var history = newTable[historyRow]("assessment_history")

// assessmentDifference gathers what must be written.
type assessmentDifference struct {
	at             time.Time
	hot            []assessmentRow
	findings       []findingRow
	candidates     []candidateRow
	findingsGone   []uuid.UUID // anchors whose stored findings go first
	candidatesGone []uuid.UUID
	history        []historyRow
}

// add compares one assessment with the stored one (nil: none). The day it was
// computed for is no difference.
func (d *assessmentDifference) add(before, after *registry.Assessment) {
	if before == nil {
		before = &registry.Assessment{AsOf: after.AsOf}
	}
	was, is := newAssessmentRow(*before), newAssessmentRow(*after)
	if is.AsOf = was.AsOf; was != is {
		is.AsOf = after.AsOf
		d.hot = append(d.hot, is)
	}
	if rows, old := newFindingRows(*after), newFindingRows(*before); !reflect.DeepEqual(rows, old) {
		d.findings = append(d.findings, rows...)
		if len(old) > 0 {
			d.findingsGone = append(d.findingsGone, after.AnchorID)
		}
	}
	if rows, old := newCandidateRows(*after), newCandidateRows(*before); !reflect.DeepEqual(rows, old) {
		d.candidates = append(d.candidates, rows...)
		if len(old) > 0 {
			d.candidatesGone = append(d.candidatesGone, after.AnchorID)
		}
	}
	rules, settled := ruleIDs(after), settledIDs(after)
	if before.Standing != after.Standing || before.DueOn != after.DueOn ||
		!slices.Equal(ruleIDs(before), rules) || !slices.Equal(settledIDs(before), settled) {
		d.history = append(d.history, historyRow{
			after.AnchorID, d.at, word(after.Standing), after.DueOn, word(after.DueState), rules, settled,
		})
	}
}

func (w *writer) writeAssessments(ctx context.Context, d *assessmentDifference) error {
	fresh, hot := w.firstOf(d.hot)
	return first(
		func() error { return put(ctx, w, assessments, assessments.insertSQL, fresh) },
		func() error { return put(ctx, w, assessments, upsertAssessments, hot) },
		func() error { return w.clear(ctx, deleteFindings, d.findingsGone) },
		func() error { return put(ctx, w, findings, findings.insertSQL, d.findings) },
		func() error { return w.clear(ctx, deleteCandidates, d.candidatesGone) },
		func() error { return put(ctx, w, candidates, candidates.insertSQL, d.candidates) },
		func() error { return put(ctx, w, history, history.insertSQL, d.history) },
	)
}

// firstOf parts the first assessments of anchors made here from the others.
func (w *writer) firstOf(hot []assessmentRow) (fresh, others []assessmentRow) {
	for i := range hot {
		if id := hot[i].AnchorID; w.made[id] {
			fresh = append(fresh, hot[i])
			delete(w.made, id)
			continue
		}
		others = append(others, hot[i])
	}
	return fresh, others
}

// clear runs a statement for each anchor, in one round trip.
func (w *writer) clear(ctx context.Context, sql string, anchorIDs []uuid.UUID) error {
	var b pgx.Batch
	for _, id := range anchorIDs {
		b.Queue(sql, pgx.StrictNamedArgs{"id": pgtype.UUID{Bytes: id, Valid: true}})
	}
	return w.send(ctx, "write assessments", &b)
}

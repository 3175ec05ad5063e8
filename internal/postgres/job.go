package postgres

import (
	"context"
	"encoding/json"
	"iter"
	"math/bits"
	"time"

	jsonv2 "github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
)

type jobRow struct {
	ID        uuid.UUID         `json:"id"`
	FileName  string            `json:"file_name"`
	FileHash  string            `json:"file_hash"`
	Headings  []string          `json:"headings"`
	Columns   map[string]string `json:"columns"`
	Encoding  string            `json:"encoding"`
	Delimiter string            `json:"delimiter"`
	Who       string            `json:"who"`
	At        time.Time         `json:"at"`
	State     word              `json:"state"`
	Code      string            `json:"code"`
	Pieces    int               `json:"pieces"`
	Taken     int               `json:"taken"`
	RowsDone  int               `json:"rows_done"`
	Begun     bool              `json:"begun"`
	Report    json.RawMessage   `json:"report"`

	Trial    bool                   `json:"trial"`
	Sifted   json.RawMessage        `json:"sifted"`
	UndoWho  *string                `json:"undo_who"`
	UndoAt   *time.Time             `json:"undo_at"`
	InTheWay *registry.Refusal      `json:"in_the_way"`
	Undone   *registry.UndoneCounts `json:"undone"`
}

func newJobRow(j *registry.ImportJob) jobRow {
	return jobRow{
		j.ID, j.FileName, j.FileHash, texts(j.Headings), j.Columns, j.Encoding, j.Delimiter, j.Who, instant(j.At),
		word(j.State), j.Code, j.Pieces, j.Taken, j.RowsDone, j.Begun, json.RawMessage(j.Report),
		j.Trial, json.RawMessage(j.Sifted), nil, nil, nil, nil,
	}
}

func (r jobRow) noun() registry.ImportJob {
	j := registry.ImportJob{
		ID: r.ID, FileName: r.FileName, FileHash: r.FileHash, Headings: r.Headings, Columns: r.Columns, Encoding: r.Encoding,
		Delimiter: r.Delimiter, Who: r.Who, At: r.At, State: registry.JobState(r.State), Code: r.Code, Pieces: r.Pieces,
		Taken: r.Taken, RowsDone: r.RowsDone, Begun: r.Begun, Report: r.Report, Trial: r.Trial, Sifted: r.Sifted,
		UndoAt: r.UndoAt, InTheWay: r.InTheWay, Undone: r.Undone,
	}
	if r.UndoWho != nil {
		j.UndoWho = *r.UndoWho
	}
	return j
}

var jobs = newTable[jobRow]("import_job")

type pieceRow struct {
	ImportID uuid.UUID `json:"import_id"`
	Rank     int       `json:"rank"`
	Rows     string    `json:"rows"`
}

// insertPiece has the rows as a value of their own: within JSON each quote of
// them would be written and read once more.
const insertPiece = `
INSERT INTO import_piece (group_id, import_id, rank, rows)
VALUES (@group_id, @import_id, @rank, @rows)`

// AddJob keeps a long list with its pieces, which wait to be entered. They are
// taken from rest one by one, the next while the one before is kept.
func (s *Store) AddJob(ctx context.Context, who registry.Actor, job registry.ImportJob, rest iter.Seq[registry.Piece]) error {
	err := onWire(ctx, s.pool, pgx.TxOptions{}, func(l *wire) error {
		w := &writer{wire: l, group: who.GroupID}
		if err := w.ask(ctx, "keep a long list", func(b *pgx.Batch) { b.Queue(setGroup, w.group.String()) }); err != nil {
			return err
		}
		if err := w.putJob(ctx, &job); err != nil {
			return err
		}
		rank := 0
		for p := range rest {
			text, err := pieceText(p)
			if err != nil {
				return err
			}
			args := pgx.StrictNamedArgs{"group_id": w.group, "import_id": job.ID, "rank": rank, "rows": text}
			if err := w.start(ctx, "keep rows of a long list", insertPiece, args); err != nil {
				return err
			}
			rank++
		}
		return nil
	})
	return translate(err, "keep a long list")
}

// pieceText writes a piece down without what is not known of its rows, which is
// most of it. A letter that is none becomes the sign for that.
func pieceText(p registry.Piece) (string, error) {
	text, err := jsonv2.Marshal(p, jsonv2.OmitZeroStructFields(true), jsontext.AllowInvalidUTF8(true))
	if err != nil {
		return "", fault.Wrap(fault.Internal, err, "write rows of a list as JSON")
	}
	return string(text), nil
}

// putJob enters a job, which the ledger does not name.
func (w *writer) putJob(ctx context.Context, job *registry.ImportJob) error {
	return put(ctx, w, jobs, jobs.insertSQL, []jobRow{newJobRow(job)})
}

// ImportJob returns a long list and how far it is.
func (s *Store) ImportJob(ctx context.Context, group, id uuid.UUID) (registry.ImportJob, error) {
	return single(ctx, s, group, byID("read long list", jobs.selectSQL, id), jobRow.noun)
}

// selectOpenJobs is served by import_job_open_idx.
var selectOpenJobs = jobs.selectSQL + `
WHERE t.state IN ('waiting', 'running', 'failed', 'undoing', 'trying') OR t.sifted IS NOT NULL
ORDER BY t.id`

// OpenJobs lists the long lists at which something is left to do, in the order
// they were handed in: those that failed too, and trials whose rows are kept.
func (s *Store) OpenJobs(ctx context.Context, group uuid.UUID) ([]registry.ImportJob, error) {
	return list(ctx, s, group, query{"list long lists", selectOpenJobs, nil}, jobRow.noun)
}

const selectImportReport = `
SELECT i.report, i.at, EXISTS (SELECT FROM import_undo AS u WHERE u.import_id = i.id) AS undone
FROM import AS i
WHERE i.id = @id`

// importReportRow is what became of a list that was entered at once.
type importReportRow struct {
	Report json.RawMessage `json:"report"`
	At     time.Time       `json:"at"`
	Undone bool            `json:"undone"`
}

// EnteredImport returns a list that was entered at once, as a job that is done:
// its id, instant, state and report.
func (s *Store) EnteredImport(ctx context.Context, group, id uuid.UUID) (registry.ImportJob, error) {
	q := query{"read import " + id.String(), selectImportReport, pgx.StrictNamedArgs{"id": id}}
	return single(ctx, s, group, q, func(r importReportRow) registry.ImportJob {
		j := registry.ImportJob{ID: id, At: r.At, State: registry.JobDone, Begun: true, Report: r.Report}
		if r.Undone {
			j.State = registry.JobUndone
		}
		return j
	})
}

// listedImportRow is a list that was handed in, with the counts of its report.
type listedImportRow struct {
	ID       uuid.UUID       `json:"id"`
	At       time.Time       `json:"at"`
	State    word            `json:"state"`
	Code     string          `json:"code"`
	Pieces   int             `json:"pieces"`
	RowsDone int             `json:"rows_done"`
	Trial    bool            `json:"trial"`
	UndoAt   *time.Time      `json:"undo_at"`
	Report   json.RawMessage `json:"report"`
}

// selectNewest is served by the primary keys.
const selectNewest = `
SELECT t.id, t.at, t.state, t.code, t.pieces, t.rows_done, t.trial, t.undo_at,
  json_build_object('file_name', t.report->'file_name', 'encoding', t.report->'encoding', 'delimiter', t.report->'delimiter',
    'rows', t.report->'rows', 'entered', t.report->'entered', 'changed', t.report->'changed', 'clashes', t.report->'clashes',
    'successors', t.report->'successors', 'duplicates', t.report->'duplicates', 'blank', t.report->'blank',
    'refused', t.report->'refused', 'unchanged', t.report->'unchanged', 'proposals', COALESCE(t.report->'proposals', '0')) AS report
FROM (
  (SELECT j.id, j.at, j.state, j.code, j.pieces, j.rows_done, j.trial, j.undo_at, j.report
  FROM import_job AS j
  ORDER BY j.id DESC
  LIMIT @max_rows)
  UNION ALL
  (SELECT i.id, i.at, CASE WHEN EXISTS (SELECT FROM import_undo AS u WHERE u.import_id = i.id) THEN 'undone' ELSE 'done' END,
    '', 0, 0, false, NULL, i.report
  FROM import AS i
  WHERE NOT EXISTS (SELECT FROM import_job AS j WHERE j.id = i.id)
  ORDER BY i.id DESC
  LIMIT @max_rows)) AS t
ORDER BY t.id DESC
LIMIT @max_rows`

// NewestImports lists up to limit lists, entered at once or as jobs, newest
// first, with no more than the counts of their reports.
func (s *Store) NewestImports(ctx context.Context, group uuid.UUID, limit int) ([]registry.ImportJob, error) {
	q := query{"list imports", selectNewest, pgx.StrictNamedArgs{"max_rows": limit}}
	return list(ctx, s, group, q, func(r listedImportRow) registry.ImportJob {
		return registry.ImportJob{
			ID: r.ID, At: r.At, State: registry.JobState(r.State), Code: r.Code, Pieces: r.Pieces, RowsDone: r.RowsDone,
			Trial: r.Trial, UndoAt: r.UndoAt, Report: r.Report,
		}
	})
}

// TakePiece holds off other intakes of the group, however long that takes, and enters the next piece of a
// job as Intake does, with what decide says of the job afterwards in
// Change.Job. A job that has none left is returned as it is. wanted is asked
// with the piece's list.
func (s *Store) TakePiece(ctx context.Context, who registry.Actor, id uuid.UUID, wanted func(registry.List) registry.Wanted,
	decide func(registry.ImportJob, registry.List, registry.Known, houserules.Rules) (registry.Change, error),
) (registry.ImportJob, error) {
	var job registry.ImportJob
	err := s.write(ctx, who, "enter a piece of import "+id.String(), func(w *writer) (registry.Change, error) {
		rules, err := w.holdIntake(ctx, 0)
		if err != nil {
			return registry.Change{}, err
		}
		if job, err = w.job(ctx, id); err != nil || !job.Open() {
			return registry.Change{}, err
		}
		key := pieceKey{w.group, id, job.Taken}
		piece, err := s.piece(ctx, w, key)
		if err != nil {
			return registry.Change{}, err
		}
		rows := job.List(*piece)
		known, err := w.loadKnown(ctx, wanted(rows))
		if err != nil {
			return registry.Change{}, err
		}
		ch, err := decide(job, rows, known, rules)
		if err != nil {
			return registry.Change{}, decided{err}
		}
		if job = *ch.Job; job.Open() {
			key.rank = job.Taken
			go s.readAhead(ctx, key) // while this one is written
		}
		return ch, nil
	})
	return job, err
}

// job reads a job.
func (w *writer) job(ctx context.Context, id uuid.UUID) (registry.ImportJob, error) {
	var row jobRow
	q := byID("read long list", jobs.selectSQL, id)
	err := w.ask(ctx, q.doing, func(b *pgx.Batch) { one(b, &row, q.sql, q.args) })
	return row.noun(), err
}

const updateJob = `
UPDATE import_job AS t
SET state = @state, code = @code, taken = @taken, rows_done = @rows_done, begun = @begun, report = @report
WHERE t.id = @id`

const updatePiece = `
UPDATE import_piece AS t
SET rows = NULL, at = @at
WHERE t.import_id = @id AND t.rank = @rank`

// saveJob notes how far a long list is, with the piece that got it there. What
// grew is analysed whenever the pieces have doubled.
func (w *writer) saveJob(ctx context.Context, ch *registry.Change) error {
	if ch.Job == nil {
		return nil
	}
	w.calm, w.pieces = bits.OnesCount(uint(ch.Job.Taken)) != 1, ch.Job.Taken
	piece := pgx.StrictNamedArgs{"id": ch.Job.ID, "rank": ch.Job.Taken - 1, "at": w.at}
	return first(
		func() error { return w.exec(ctx, "empty a piece", updatePiece, piece) },
		func() error { return w.exec(ctx, "note how far a list is", updateJob, jobArgs(ch.Job)) },
	)
}

func jobArgs(j *registry.ImportJob) pgx.StrictNamedArgs {
	return pgx.StrictNamedArgs{
		"id": j.ID, "state": string(j.State), "code": j.Code, "taken": j.Taken, "rows_done": j.RowsDone, "begun": j.Begun,
		"report": json.RawMessage(j.Report),
	}
}

const updateJobState = `
UPDATE import_job AS t
SET state = @state, code = @code
WHERE t.id = @id AND t.state IN ('waiting', 'running', 'failed') AND NOT t.trial`

// SetJob lets a job that is being entered fail with a code, or wait again.
func (s *Store) SetJob(ctx context.Context, group, id uuid.UUID, state registry.JobState, code string) error {
	return s.read(ctx, group, "change long list "+id.String(), func(b *pgx.Batch) {
		b.Queue(updateJobState, pgx.StrictNamedArgs{"id": id, "state": string(state), "code": code})
	})
}

-- Undoing and trying a long list are work in hand too.

ALTER TABLE import_job
  ADD COLUMN trial boolean NOT NULL DEFAULT false,
  ADD COLUMN sifted json,
  ADD COLUMN undo_who text,
  ADD COLUMN undo_at timestamptz,
  ADD COLUMN in_the_way json,
  ADD COLUMN undone json;
ALTER TABLE import_job
  DROP CONSTRAINT import_job_state_listed,
  ADD CONSTRAINT import_job_state_listed
    CHECK (state IN ('waiting', 'running', 'done', 'failed', 'undoing', 'undone', 'trying', 'tried')),
  ADD CONSTRAINT import_job_trial_misfit
    CHECK (CASE WHEN trial THEN state IN ('trying', 'tried', 'failed') AND NOT begun ELSE state NOT IN ('trying', 'tried') AND sifted IS NULL END),
  ADD CONSTRAINT import_job_undo_at_pair CHECK ((undo_who IS NULL) = (undo_at IS NULL) AND (state <> 'undoing' OR undo_at IS NOT NULL));
COMMENT ON COLUMN import_job.trial IS 'It is only to be tried: nothing of it is entered.';
COMMENT ON COLUMN import_job.sifted IS 'Of a trial whose rows are kept to be entered, the report that entering begins with. NULL: its rows go as they are tried.';
COMMENT ON COLUMN import_job.undo_who IS 'Who asked last for it to be undone, as the ledger names them. NULL: nobody.';
COMMENT ON COLUMN import_job.undo_at IS 'When that was. NULL: nobody asked.';
COMMENT ON COLUMN import_job.in_the_way IS 'What stood in the way when it was last to be undone, as codes and values. NULL: nothing.';
COMMENT ON COLUMN import_job.undone IS 'How much was taken back. NULL: it is not undone, or was by an earlier version.';
COMMENT ON COLUMN import_piece.rows IS 'The rows with what was doubted of them, as JSON. NULL: entered, or tried and gone.';
COMMENT ON COLUMN import_piece.at IS 'When it was entered, as the ledger has it, or its rows went. NULL: it waits.';
GRANT UPDATE (trial, sifted, who, at, undo_who, undo_at, in_the_way, undone) ON import_job TO rockledger_app;

DROP INDEX import_job_open_idx;
CREATE INDEX import_job_open_idx ON import_job (group_id, id)
  WHERE state IN ('waiting', 'running', 'failed', 'undoing', 'trying') OR sifted IS NOT NULL;

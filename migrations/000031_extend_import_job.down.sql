DELETE FROM import_job WHERE trial;
DROP INDEX import_job_open_idx;
UPDATE import_job SET state = CASE WHEN taken < pieces THEN 'failed' ELSE 'done' END WHERE state = 'undoing';
COMMENT ON COLUMN import_piece.rows IS 'The rows with what was doubted of them, as JSON. NULL: entered.';
COMMENT ON COLUMN import_piece.at IS 'When it was entered, as the ledger has it. NULL: it waits.';
REVOKE UPDATE (who, at) ON import_job FROM rockledger_app;
ALTER TABLE import_job
  DROP CONSTRAINT import_job_undo_at_pair,
  DROP CONSTRAINT import_job_trial_misfit,
  DROP CONSTRAINT import_job_state_listed,
  ADD CONSTRAINT import_job_state_listed CHECK (state IN ('waiting', 'running', 'done', 'failed', 'undone'));
ALTER TABLE import_job
  DROP COLUMN undone,
  DROP COLUMN in_the_way,
  DROP COLUMN undo_at,
  DROP COLUMN undo_who,
  DROP COLUMN sifted,
  DROP COLUMN trial;
CREATE INDEX import_job_open_idx ON import_job (group_id, id) WHERE state IN ('waiting', 'running', 'failed');

-- Long lists are entered in pieces, each in a transaction of its own.

CREATE TABLE import_job (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  file_name text NOT NULL,
  file_hash text NOT NULL CONSTRAINT import_job_file_hash_malformed CHECK (file_hash ~ '^[0-9a-f]{64}$'),
  headings text[] NOT NULL,
  columns json NOT NULL,
  encoding text NOT NULL,
  delimiter text NOT NULL,
  who text NOT NULL,
  at timestamptz NOT NULL,
  state text NOT NULL CONSTRAINT import_job_state_listed CHECK (state IN ('waiting', 'running', 'done', 'failed', 'undone')),
  code text NOT NULL DEFAULT '',
  pieces int NOT NULL,
  taken int NOT NULL DEFAULT 0 CONSTRAINT import_job_taken_range CHECK (taken BETWEEN 0 AND pieces),
  rows_done int NOT NULL CONSTRAINT import_job_rows_done_range CHECK (rows_done >= 0),
  begun boolean NOT NULL DEFAULT false,
  report json NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT import_job_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
CREATE INDEX import_job_open_idx ON import_job (group_id, id) WHERE state IN ('waiting', 'running', 'failed');
COMMENT ON TABLE import_job IS 'A long list on its way into the register. Its id is that of its import, which is there once anything was entered.';
COMMENT ON COLUMN import_job.file_hash IS 'SHA-256 of the file''s bytes, hexadecimal.';
COMMENT ON COLUMN import_job.columns IS 'Which heading was taken for which field.';
COMMENT ON COLUMN import_job.who IS 'Who handed it in, as the ledger names them.';
COMMENT ON COLUMN import_job.code IS 'Why it failed, as a code. Empty: it did not.';
COMMENT ON COLUMN import_job.taken IS 'How many of its pieces were entered.';
COMMENT ON COLUMN import_job.rows_done IS 'How many of its rows were decided on, those that needed no look at the register too.';
COMMENT ON COLUMN import_job.begun IS 'Its import is there.';
COMMENT ON COLUMN import_job.report IS 'What became of its rows so far; lists in it are bounded.';

CREATE TABLE import_piece (
  group_id uuid NOT NULL,
  import_id uuid NOT NULL,
  rank int NOT NULL,
  rows text,
  at timestamptz,
  PRIMARY KEY (group_id, import_id, rank),
  CONSTRAINT import_piece_import_id_fk FOREIGN KEY (group_id, import_id) REFERENCES import_job ON DELETE CASCADE,
  CONSTRAINT import_piece_rows_pair CHECK ((rows IS NULL) <> (at IS NULL))
);
COMMENT ON TABLE import_piece IS 'Rows of a long list that wait to be entered together.';
COMMENT ON COLUMN import_piece.rank IS 'Order of entry, from 0.';
COMMENT ON COLUMN import_piece.rows IS 'The rows with what was doubted of them, as JSON. NULL: entered.';
COMMENT ON COLUMN import_piece.at IS 'When it was entered, as the ledger has it. NULL: it waits.';

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['import_job', 'import_piece'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;
GRANT SELECT, INSERT ON import_job, import_piece TO rockledger_app;
GRANT UPDATE (state, code, taken, rows_done, begun, report) ON import_job TO rockledger_app;
GRANT UPDATE (rows, at) ON import_piece TO rockledger_app;

-- Whether a row changed an anchor that an earlier list entered: what a report
-- names is bounded.
ALTER TABLE import_row ADD COLUMN changed boolean NOT NULL DEFAULT false;
COMMENT ON COLUMN import_row.changed IS 'The row changed an anchor that an earlier list had entered.';
UPDATE import_row AS r
SET changed = true
FROM import AS i
CROSS JOIN LATERAL json_array_elements(i.report->'changed_cells') AS c (cell)
WHERE json_typeof(i.report->'changed_cells') = 'array'
  AND r.group_id = i.group_id AND r.import_id = i.id AND r.anchor_id = (c.cell->>'anchor_id')::uuid;

-- A piece looks up what it needs, not the whole group.
CREATE INDEX import_row_by_key_idx ON import_row (group_id, key);

ALTER FUNCTION analyse_grown RESET default_statistics_target;

ALTER TABLE assessment_candidate
  ALTER COLUMN values SET STATISTICS -1,
  ALTER COLUMN source SET STATISTICS -1,
  ALTER COLUMN factor SET STATISTICS -1;
ALTER TABLE assessment_finding
  ALTER COLUMN values SET STATISTICS -1,
  ALTER COLUMN source SET STATISTICS -1,
  ALTER COLUMN settles SET STATISTICS -1;
ALTER TABLE import_row
  ALTER COLUMN print SET STATISTICS -1,
  ALTER COLUMN cells SET STATISTICS -1,
  ALTER COLUMN taken SET STATISTICS -1;
ALTER TABLE ledger_salt
  ALTER COLUMN salt SET STATISTICS -1;
ALTER TABLE ledger
  ALTER COLUMN before SET STATISTICS -1,
  ALTER COLUMN after SET STATISTICS -1,
  ALTER COLUMN hash SET STATISTICS -1;

CREATE INDEX ledger_by_instant_idx ON ledger (group_id, at);

DROP INDEX installation_by_adhesive_idx;
CREATE INDEX installation_by_adhesive_idx ON installation (group_id, adhesive_id);
DROP INDEX installation_by_hardware_idx;
CREATE INDEX installation_by_hardware_idx ON installation (group_id, hardware_id);
DROP INDEX installation_by_session_idx;
CREATE INDEX installation_by_session_idx ON installation (group_id, session_id);
DROP INDEX installation_by_batch_idx;
CREATE INDEX installation_by_batch_idx ON installation (group_id, batch_id);
DROP INDEX anchor_by_product_idx;
CREATE INDEX anchor_by_product_idx ON anchor (group_id, product_id);

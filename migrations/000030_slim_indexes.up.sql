-- What a long list enters by the hundred thousand: fewer indexes, and no
-- statistics that no query is planned by. Anchors taken over from a list name
-- hardly ever a product, a session or a batch.
DROP INDEX anchor_by_product_idx;
CREATE INDEX anchor_by_product_idx ON anchor (group_id, product_id) WHERE product_id IS NOT NULL;
DROP INDEX installation_by_batch_idx;
CREATE INDEX installation_by_batch_idx ON installation (group_id, batch_id) WHERE batch_id IS NOT NULL;
DROP INDEX installation_by_session_idx;
CREATE INDEX installation_by_session_idx ON installation (group_id, session_id) WHERE session_id IS NOT NULL;
DROP INDEX installation_by_hardware_idx;
CREATE INDEX installation_by_hardware_idx ON installation (group_id, hardware_id) WHERE hardware_id IS NOT NULL;
DROP INDEX installation_by_adhesive_idx;
CREATE INDEX installation_by_adhesive_idx ON installation (group_id, adhesive_id) WHERE adhesive_id IS NOT NULL;

-- What an import entered is found by its transactions, in ledger_in_order_idx.
DROP INDEX ledger_by_instant_idx;

-- Texts and lists that are never searched: to sort them is most of an analysis.
ALTER TABLE ledger
  ALTER COLUMN before SET STATISTICS 0,
  ALTER COLUMN after SET STATISTICS 0,
  ALTER COLUMN hash SET STATISTICS 0;
ALTER TABLE ledger_salt
  ALTER COLUMN salt SET STATISTICS 0;
ALTER TABLE import_row
  ALTER COLUMN print SET STATISTICS 0,
  ALTER COLUMN cells SET STATISTICS 0,
  ALTER COLUMN taken SET STATISTICS 0;
ALTER TABLE assessment_finding
  ALTER COLUMN values SET STATISTICS 0,
  ALTER COLUMN source SET STATISTICS 0,
  ALTER COLUMN settles SET STATISTICS 0;
ALTER TABLE assessment_candidate
  ALTER COLUMN values SET STATISTICS 0,
  ALTER COLUMN source SET STATISTICS 0,
  ALTER COLUMN factor SET STATISTICS 0;

-- What grew is analysed while a list is being entered: a tenth of the usual sample
-- tells a few rows from many, and autovacuum looks closer later.
ALTER FUNCTION analyse_grown SET default_statistics_target = 20;

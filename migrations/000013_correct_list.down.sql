DROP INDEX ledger_by_instant_idx;
DROP TABLE import_undo;
ALTER TABLE anchor DROP COLUMN mistaken;
DROP INDEX import_row_of_anchor_idx;
ALTER TABLE import_row DROP COLUMN taken;

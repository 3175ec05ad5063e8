DROP INDEX import_row_by_key_idx;
ALTER TABLE import_row DROP COLUMN changed;
DROP TABLE import_piece;
DROP TABLE import_job;

DROP TABLE legal_hold;
DROP TABLE erasure;
ALTER TABLE person DROP COLUMN erased;

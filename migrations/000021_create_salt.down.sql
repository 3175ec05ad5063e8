DROP TABLE ledger_salt;
COMMENT ON COLUMN ledger.before IS 'Canonical JSON (RFC 8785) of the row before, without names of persons and landowners. NULL: new.';
COMMENT ON COLUMN ledger.after IS 'Canonical JSON (RFC 8785) of the row after, without names of persons and landowners.';

-- What the ledger binds without telling: a salt for each such row, which can be
-- erased.

CREATE TABLE ledger_salt (
  group_id uuid NOT NULL,
  noun text NOT NULL,
  row_id uuid NOT NULL,
  salt bytea NOT NULL CONSTRAINT ledger_salt_salt_malformed CHECK (octet_length(salt) = 32),
  PRIMARY KEY (group_id, noun, row_id),
  CONSTRAINT ledger_salt_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE ledger_salt IS 'Salts of the veils in the ledger. Once a row''s is deleted nobody can find out what its entries veil.';
COMMENT ON COLUMN ledger_salt.noun IS 'The table of the row.';
COMMENT ON COLUMN ledger.before IS 'Canonical JSON (RFC 8785) of the row before, names, contacts and free text veiled: member private is their HMAC-SHA-256 under the row''s salt. NULL: new. Entries from before the veil hold free text.';
COMMENT ON COLUMN ledger.after IS 'Canonical JSON (RFC 8785) of the row after, veiled in the same way. NULL: it is gone.';
ALTER TABLE ledger_salt ENABLE ROW LEVEL SECURITY;
CREATE POLICY own_group ON ledger_salt
  USING (group_id = NULLIF(current_setting('rockledger.group_id', true), '')::uuid)
  WITH CHECK (group_id = NULLIF(current_setting('rockledger.group_id', true), '')::uuid);
GRANT SELECT, INSERT, DELETE ON ledger_salt TO rockledger_app;

-- A group's newest seal, noted apart from the seals: what is taken off their end
-- leaves a note that no seal answers to, and the next seal goes on from it.

CREATE TABLE ledger_tip (
  group_id uuid NOT NULL,
  era int NOT NULL CONSTRAINT ledger_tip_era_positive CHECK (era > 0),
  number int NOT NULL CONSTRAINT ledger_tip_number_positive CHECK (number > 0),
  hash bytea NOT NULL CONSTRAINT ledger_tip_hash_malformed CHECK (octet_length(hash) = 32),
  PRIMARY KEY (group_id),
  CONSTRAINT ledger_tip_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE ledger_tip IS 'A group''s newest seal, written with it. The service may move it on, never take it away.';
COMMENT ON COLUMN ledger_tip.hash IS 'Hash of that seal.';
INSERT INTO ledger_tip (group_id, era, number, hash)
SELECT DISTINCT ON (s.group_id) s.group_id, s.era, s.number, s.hash
FROM ledger_seal AS s
ORDER BY s.group_id, s.era DESC, s.number DESC;
ALTER TABLE ledger_tip ENABLE ROW LEVEL SECURITY;
CREATE POLICY own_group ON ledger_tip
  USING (group_id = (SELECT NULLIF(current_setting('rockledger.group_id', true), '')::uuid))
  WITH CHECK (group_id = (SELECT NULLIF(current_setting('rockledger.group_id', true), '')::uuid));
GRANT SELECT, INSERT, UPDATE ON ledger_tip TO rockledger_app;

-- Seals over the ledger, and the eras that its transaction ids are counted in.

CREATE TABLE ledger_era (
  era int PRIMARY KEY CONSTRAINT ledger_era_era_positive CHECK (era > 0),
  raised_at timestamptz NOT NULL DEFAULT now(),
  why text NOT NULL CONSTRAINT ledger_era_why_given CHECK (btrim(why) <> '')
);
COMMENT ON TABLE ledger_era IS 'The highest era is the present one. A restore raises it, since transaction ids begin anew; the service may not.';
GRANT SELECT ON ledger_era TO rockledger_app;

-- What was entered before may come from another server: it is an era of its own.
INSERT INTO ledger_era (era, why) VALUES (1, 'first');
INSERT INTO ledger_era (era, why) SELECT 2, 'sealing begins' WHERE EXISTS (SELECT FROM ledger);

ALTER TABLE ledger ADD COLUMN era int NOT NULL DEFAULT 1 CONSTRAINT ledger_era_positive CHECK (era > 0);
ALTER TABLE ledger ALTER COLUMN era DROP DEFAULT;
COMMENT ON COLUMN ledger.txid IS 'The transaction that entered it; counted anew in each era.';

-- The order of sealing.
CREATE INDEX ledger_in_order_idx ON ledger (group_id, era, txid, id);

CREATE TABLE ledger_seal (
  group_id uuid NOT NULL,
  era int NOT NULL CONSTRAINT ledger_seal_era_positive CHECK (era > 0),
  number int NOT NULL CONSTRAINT ledger_seal_number_positive CHECK (number > 0),
  at timestamptz NOT NULL,
  entries int NOT NULL CONSTRAINT ledger_seal_entries_positive CHECK (entries > 0),
  first_id bigint NOT NULL,
  last_id bigint NOT NULL,
  until_txid xid8 NOT NULL,
  root bytea NOT NULL CONSTRAINT ledger_seal_root_malformed CHECK (octet_length(root) = 32),
  previous bytea CONSTRAINT ledger_seal_previous_malformed CHECK (octet_length(previous) = 32),
  hash bytea NOT NULL CONSTRAINT ledger_seal_hash_malformed CHECK (octet_length(hash) = 32),
  PRIMARY KEY (group_id, era, number),
  CONSTRAINT ledger_seal_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE ledger_seal IS 'A hash over a closed stretch of a group''s ledger, chained to the seal before; never changed.';
COMMENT ON COLUMN ledger_seal.first_id IS 'Id of the first entry, in the order of transaction and id.';
COMMENT ON COLUMN ledger_seal.last_id IS 'Id of the last entry.';
COMMENT ON COLUMN ledger_seal.until_txid IS 'Every entry of an earlier transaction of the era is in this seal or one before.';
COMMENT ON COLUMN ledger_seal.root IS 'Merkle tree hash (RFC 6962) over transaction, id and hash of the entries.';
COMMENT ON COLUMN ledger_seal.previous IS 'Hash of the seal before, by era and number. NULL: the group''s first.';
COMMENT ON COLUMN ledger_seal.hash IS 'SHA-256 of the seal''s canonical text.';
ALTER TABLE ledger_seal ENABLE ROW LEVEL SECURITY;
CREATE POLICY own_group ON ledger_seal
  USING (group_id = NULLIF(current_setting('rockledger.group_id', true), '')::uuid)
  WITH CHECK (group_id = NULLIF(current_setting('rockledger.group_id', true), '')::uuid);
GRANT SELECT, INSERT ON ledger_seal TO rockledger_app;

DROP TABLE ledger_seal;
DROP INDEX ledger_in_order_idx;
COMMENT ON COLUMN ledger.txid IS NULL;
ALTER TABLE ledger DROP COLUMN era;
DROP TABLE ledger_era;

-- Finding all that the log says of one row, for evidence about an anchor.
CREATE INDEX ledger_of_row_idx ON ledger (group_id, row_id, id);

DROP INDEX ledger_of_row_idx;

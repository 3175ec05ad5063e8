DROP TABLE ledger_tip;

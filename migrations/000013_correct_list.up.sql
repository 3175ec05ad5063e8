-- Corrected lists are compared with the list before; an import can be undone.

ALTER TABLE import_row ADD COLUMN taken json;
COMMENT ON COLUMN import_row.taken IS 'What was read from the cells. NULL: entered before this was kept, so that a corrected row is refused.';
CREATE INDEX import_row_of_anchor_idx ON import_row (group_id, anchor_id);

ALTER TABLE anchor ADD COLUMN mistaken boolean NOT NULL DEFAULT false;
ALTER TABLE anchor ADD CONSTRAINT anchor_mistaken_misfit CHECK (removed OR NOT mistaken);
COMMENT ON COLUMN anchor.mistaken IS 'Entered by mistake: it never was. It stays for the ledger and is on no list.';

CREATE INDEX anchor_mistaken_idx ON anchor (group_id, id) WHERE mistaken;

CREATE TABLE import_undo (
  group_id uuid NOT NULL,
  import_id uuid NOT NULL,
  anchors int NOT NULL,
  at timestamptz NOT NULL,
  PRIMARY KEY (group_id, import_id),
  CONSTRAINT import_undo_import_id_fk FOREIGN KEY (group_id, import_id) REFERENCES import ON DELETE RESTRICT
);
COMMENT ON TABLE import_undo IS 'A list taken back; its rows count as never entered, and it may be entered again.';
COMMENT ON COLUMN import_undo.anchors IS 'How many anchors were taken back with it.';
ALTER TABLE import_undo ENABLE ROW LEVEL SECURITY;
CREATE POLICY own_group ON import_undo
  USING (group_id = NULLIF(current_setting('rockledger.group_id', true), '')::uuid)
  WITH CHECK (group_id = NULLIF(current_setting('rockledger.group_id', true), '')::uuid);
GRANT SELECT, INSERT ON import_undo TO rockledger_app;

-- Which rows a change entered, when it must be undone.
CREATE INDEX ledger_by_instant_idx ON ledger (group_id, at);

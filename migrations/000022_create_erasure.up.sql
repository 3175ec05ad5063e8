-- Persons can be erased, unless a legal hold suspends it.

ALTER TABLE person ADD COLUMN erased boolean NOT NULL DEFAULT false;
COMMENT ON COLUMN person.erased IS 'The name was erased; another text stands in its place.';

CREATE TABLE erasure (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  person_id uuid NOT NULL,
  reason text NOT NULL CONSTRAINT erasure_reason_given CHECK (btrim(reason) <> ''),
  at timestamptz NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT erasure_person_id_key UNIQUE (group_id, person_id),
  CONSTRAINT erasure_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT
);
COMMENT ON TABLE erasure IS 'That a person''s name was erased, and why.';

CREATE TABLE legal_hold (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  over text NOT NULL CONSTRAINT legal_hold_over_listed CHECK (over IN ('all', 'site', 'anchor', 'person')),
  over_id uuid,
  reason text NOT NULL CONSTRAINT legal_hold_reason_given CHECK (btrim(reason) <> ''),
  until_on date,
  lifted_on date,
  PRIMARY KEY (group_id, id),
  CONSTRAINT legal_hold_over_id_pair CHECK ((over = 'all') = (over_id IS NULL)),
  CONSTRAINT legal_hold_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE legal_hold IS 'Suspends the erasure of persons.';
COMMENT ON COLUMN legal_hold.over_id IS 'The site, anchor or person. NULL: over all.';
COMMENT ON COLUMN legal_hold.until_on IS 'The last day. NULL: until it is lifted.';
COMMENT ON COLUMN legal_hold.lifted_on IS 'NULL: it was not lifted.';

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['erasure', 'legal_hold'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;
GRANT SELECT, INSERT ON erasure TO rockledger_app;
GRANT SELECT, INSERT, UPDATE ON legal_hold TO rockledger_app;

-- Records that answer a finding or take another record back.

CREATE TABLE settlement (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT settlement_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  rule text NOT NULL CONSTRAINT settlement_rule_given CHECK (rule <> ''),
  values json NOT NULL,
  reason text NOT NULL CONSTRAINT settlement_reason_given CHECK (btrim(reason) <> ''),
  until_on date,
  PRIMARY KEY (group_id, id),
  CONSTRAINT settlement_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT settlement_until_on_order CHECK (until_on >= done_on_to),
  CONSTRAINT settlement_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT settlement_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT settlement_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES settlement ON DELETE RESTRICT
);
CREATE INDEX settlement_of_anchor_idx ON settlement (group_id, anchor_id);
COMMENT ON TABLE settlement IS 'A named person''s answer to one finding; it reopens when the finding''s values change.';
COMMENT ON COLUMN settlement.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN settlement.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN settlement.person_id IS 'Who did it. NULL: not known.';
COMMENT ON COLUMN settlement.replaces IS 'The record that this one corrects. NULL: none.';
COMMENT ON COLUMN settlement.values IS 'Of the finding when it was settled: names and texts in the rule''s order.';
COMMENT ON COLUMN settlement.until_on IS 'Last day. NULL: open.';

CREATE TABLE retraction (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT retraction_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  retracts_id uuid NOT NULL,
  reason text NOT NULL CONSTRAINT retraction_reason_given CHECK (btrim(reason) <> ''),
  PRIMARY KEY (group_id, id),
  CONSTRAINT retraction_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT retraction_retracts_id_misfit CHECK (retracts_id <> id),
  CONSTRAINT retraction_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT retraction_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT retraction_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES retraction ON DELETE RESTRICT
);
CREATE INDEX retraction_of_anchor_idx ON retraction (group_id, anchor_id);
COMMENT ON TABLE retraction IS 'Takes another record of the same anchor back; both stay.';
COMMENT ON COLUMN retraction.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN retraction.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN retraction.person_id IS 'Who did it. NULL: not known.';
COMMENT ON COLUMN retraction.replaces IS 'The record that this one corrects. NULL: none.';
COMMENT ON COLUMN retraction.retracts_id IS 'A record of any kind, so no foreign key.';

ALTER TABLE assessment_finding ADD COLUMN settled_by uuid;
COMMENT ON COLUMN assessment_finding.settled_by IS 'The settlement that answers it. NULL: none does.';

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['settlement', 'retraction'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

-- Records are never updated or deleted.
GRANT SELECT, INSERT ON settlement, retraction TO rockledger_app;

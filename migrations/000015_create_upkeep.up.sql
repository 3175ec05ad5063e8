-- What is done to anchors that stay, what keeps people off them, and how they come out.

ALTER TABLE fitting ADD COLUMN product_id uuid;
ALTER TABLE fitting ADD COLUMN batch_id uuid;
ALTER TABLE fitting ADD CONSTRAINT fitting_product_id_fk FOREIGN KEY (group_id, product_id) REFERENCES product ON DELETE RESTRICT;
ALTER TABLE fitting ADD CONSTRAINT fitting_batch_id_fk FOREIGN KEY (group_id, batch_id) REFERENCES batch ON DELETE RESTRICT;
COMMENT ON COLUMN fitting.product_id IS 'Hardware. NULL: not known.';
COMMENT ON COLUMN fitting.batch_id IS 'Batch of the product. NULL: not known.';

ALTER TABLE removal ADD COLUMN how text
  CONSTRAINT removal_how_listed CHECK (how IN ('unscrewed', 'pulled', 'cored-out', 'cut-off', 'broke-off', 'fell-out'));
ALTER TABLE removal ADD COLUMN stub_mm float8 CONSTRAINT removal_stub_mm_range CHECK (stub_mm > 0 AND stub_mm <= 1000);
ALTER TABLE removal ADD COLUMN old_hole text
  CONSTRAINT removal_old_hole_listed CHECK (old_hole IN ('filled', 'used-again', 'left-open', 'stub-left'));
ALTER TABLE removal ADD COLUMN observations text[] NOT NULL DEFAULT '{}' CONSTRAINT removal_observations_listed CHECK (observations <@ ARRAY[
  'spins', 'anchor-turns', 'hanger-turns', 'loose-nut', 'rust', 'surface-rust', 'tea-staining', 'cracked-glue', 'hanger-bent',
  'hollow-sound', 'cracked-rock', 'cracked-metal']);
ALTER TABLE removal ADD COLUMN metal_kept boolean;
ALTER TABLE removal ADD COLUMN metal_where text NOT NULL DEFAULT '';
COMMENT ON COLUMN removal.how IS 'NULL: not recorded.';
COMMENT ON COLUMN removal.stub_mm IS 'How far what is left stands out of the rock, millimetres. NULL: not recorded.';
COMMENT ON COLUMN removal.old_hole IS 'What became of the hole. NULL: not recorded.';
COMMENT ON COLUMN removal.observations IS 'What was seen once it was out.';
COMMENT ON COLUMN removal.metal_kept IS 'NULL: not recorded, which is not no.';
COMMENT ON COLUMN removal.metal_where IS 'Where the kept metal lies, in words. Empty: not recorded.';

CREATE TABLE maintenance (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT maintenance_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  done text[] NOT NULL CONSTRAINT maintenance_done_given CHECK (cardinality(done) > 0)
    CONSTRAINT maintenance_done_listed CHECK (done <@ ARRAY[
      'tightened', 'fitting-renewed', 'fitting-added', 'fitting-taken', 'rock-cleared', 'cleaned']),
  fitting_id uuid,
  new_fitting_id uuid,
  torque_nm float8 CONSTRAINT maintenance_torque_nm_range CHECK (torque_nm >= 0 AND torque_nm <= 500),
  torque_tool text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT maintenance_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT maintenance_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT maintenance_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT maintenance_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES maintenance ON DELETE RESTRICT,
  CONSTRAINT maintenance_fitting_id_fk FOREIGN KEY (group_id, fitting_id) REFERENCES fitting ON DELETE RESTRICT,
  CONSTRAINT maintenance_new_fitting_id_fk FOREIGN KEY (group_id, new_fitting_id) REFERENCES fitting ON DELETE RESTRICT
);
CREATE INDEX maintenance_of_anchor_idx ON maintenance (group_id, anchor_id);
COMMENT ON TABLE maintenance IS 'What somebody did to an anchor that stays.';
COMMENT ON COLUMN maintenance.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN maintenance.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN maintenance.person_id IS 'Who did it. NULL: not known.';
COMMENT ON COLUMN maintenance.replaces IS 'The record that this one corrects. NULL: none.';
COMMENT ON COLUMN maintenance.done IS 'The kinds of work.';
COMMENT ON COLUMN maintenance.fitting_id IS 'The fitting worked on; where it was renewed or taken off, the old one. NULL: not said.';
COMMENT ON COLUMN maintenance.new_fitting_id IS 'The fitting that came with it. NULL: none.';
COMMENT ON COLUMN maintenance.torque_nm IS 'Newton metres. NULL: not measured.';
COMMENT ON COLUMN maintenance.torque_tool IS 'What it was tightened with, in words. Empty: not said.';

CREATE TABLE marking (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT marking_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  how text[] NOT NULL CONSTRAINT marking_how_listed CHECK (how <@ ARRAY['tape', 'tag', 'hanger-taken', 'eye-blocked', 'sign']),
  lifts uuid,
  PRIMARY KEY (group_id, id),
  CONSTRAINT marking_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT marking_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT marking_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT marking_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES marking ON DELETE RESTRICT,
  CONSTRAINT marking_how_misfit CHECK ((cardinality(how) = 0) = (lifts IS NOT NULL)),
  CONSTRAINT marking_lifts_misfit CHECK (lifts <> id),
  CONSTRAINT marking_lifts_fk FOREIGN KEY (group_id, lifts) REFERENCES marking ON DELETE RESTRICT
);
CREATE INDEX marking_of_anchor_idx ON marking (group_id, anchor_id);
COMMENT ON TABLE marking IS 'What was done at the rock to keep people off an anchor, or that it was taken away again.';
COMMENT ON COLUMN marking.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN marking.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN marking.person_id IS 'Who did it. NULL: not known.';
COMMENT ON COLUMN marking.replaces IS 'The record that this one corrects. NULL: none.';
COMMENT ON COLUMN marking.how IS 'Empty where it lifts another.';
COMMENT ON COLUMN marking.lifts IS 'The marking that was taken away. NULL: this one was put up.';

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['maintenance', 'marking'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

-- Records are never updated or deleted.
GRANT SELECT, INSERT ON maintenance, marking TO rockledger_app;

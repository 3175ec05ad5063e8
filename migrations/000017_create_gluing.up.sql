-- Gluing sessions, how the anchors of one were set, their cure, and first use.

CREATE TABLE gluing_session (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  site_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  adhesive_id uuid,
  batch_id uuid,
  expires_on date,
  cartridge text NOT NULL,
  nozzle_new boolean,
  opened_at_from timestamptz,
  opened_at_to timestamptz,
  opened_at_words text NOT NULL,
  first_mix_discarded boolean,
  rock_c float8 CONSTRAINT gluing_session_rock_c_range CHECK (rock_c >= -60 AND rock_c <= 90),
  rock_how text CONSTRAINT gluing_session_rock_how_listed CHECK (rock_how IN ('measured', 'assumed')),
  air_c float8 CONSTRAINT gluing_session_air_c_range CHECK (air_c >= -60 AND air_c <= 90),
  air_how text CONSTRAINT gluing_session_air_how_listed CHECK (air_how IN ('measured', 'assumed')),
  cartridge_c float8 CONSTRAINT gluing_session_cartridge_c_range CHECK (cartridge_c >= -60 AND cartridge_c <= 90),
  cartridge_how text CONSTRAINT gluing_session_cartridge_how_listed CHECK (cartridge_how IN ('measured', 'assumed')),
  night_c float8 CONSTRAINT gluing_session_night_c_range CHECK (night_c >= -60 AND night_c <= 90),
  night_how text CONSTRAINT gluing_session_night_how_listed CHECK (night_how IN ('measured', 'assumed')),
  set_by_id uuid,
  supervised_by_id uuid,
  checked_by_id uuid,
  method_statement text NOT NULL,
  sample_kept boolean,
  sample_where text NOT NULL,
  sample_at_rock boolean,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT gluing_session_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  PRIMARY KEY (group_id, id),
  CONSTRAINT gluing_session_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT gluing_session_opened_at_order CHECK ((opened_at_from IS NULL) = (opened_at_to IS NULL) AND opened_at_from <= opened_at_to),
  CONSTRAINT gluing_session_rock_how_misfit CHECK (rock_how IS NULL OR rock_c IS NOT NULL),
  CONSTRAINT gluing_session_air_how_misfit CHECK (air_how IS NULL OR air_c IS NOT NULL),
  CONSTRAINT gluing_session_cartridge_how_misfit CHECK (cartridge_how IS NULL OR cartridge_c IS NOT NULL),
  CONSTRAINT gluing_session_night_how_misfit CHECK (night_how IS NULL OR night_c IS NOT NULL),
  CONSTRAINT gluing_session_replaces_misfit CHECK (replaces <> id),
  CONSTRAINT gluing_session_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT,
  CONSTRAINT gluing_session_adhesive_id_fk FOREIGN KEY (group_id, adhesive_id) REFERENCES product ON DELETE RESTRICT,
  CONSTRAINT gluing_session_batch_id_fk FOREIGN KEY (group_id, batch_id) REFERENCES batch ON DELETE RESTRICT,
  CONSTRAINT gluing_session_set_by_id_fk FOREIGN KEY (group_id, set_by_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT gluing_session_supervised_by_id_fk FOREIGN KEY (group_id, supervised_by_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT gluing_session_checked_by_id_fk FOREIGN KEY (group_id, checked_by_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT gluing_session_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES gluing_session ON DELETE RESTRICT
);
CREATE INDEX gluing_session_by_site_idx ON gluing_session (group_id, site_id, id);
CREATE INDEX gluing_session_by_batch_idx ON gluing_session (group_id, batch_id);
CREATE INDEX gluing_session_by_replaces_idx ON gluing_session (group_id, replaces);
COMMENT ON TABLE gluing_session IS 'What several installations share: one cartridge, one place, one set of people.';
COMMENT ON COLUMN gluing_session.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN gluing_session.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN gluing_session.adhesive_id IS 'Product. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.batch_id IS 'As read off the cartridge. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.expires_on IS 'As read off the cartridge. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.cartridge IS 'Its mark or number in the group''s own words. Empty: not recorded.';
COMMENT ON COLUMN gluing_session.nozzle_new IS 'NULL: not recorded, which is not no.';
COMMENT ON COLUMN gluing_session.opened_at_from IS 'When the cartridge was opened: the first instant it can have been. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.opened_at_to IS 'When the cartridge was opened: the last instant it can have been. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.opened_at_words IS 'When the cartridge was opened, as written.';
COMMENT ON COLUMN gluing_session.first_mix_discarded IS 'Thrown away until its colour was uniform. NULL: not recorded, which is not no.';
COMMENT ON COLUMN gluing_session.rock_c IS 'Of the rock at the setting, degrees Celsius. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.rock_how IS 'NULL: not recorded, which counts as assumed.';
COMMENT ON COLUMN gluing_session.air_c IS 'Of the air, degrees Celsius. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.air_how IS 'NULL: not recorded, which counts as assumed.';
COMMENT ON COLUMN gluing_session.cartridge_c IS 'Of the cartridge, degrees Celsius. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.cartridge_how IS 'NULL: not recorded, which counts as assumed.';
COMMENT ON COLUMN gluing_session.night_c IS 'The lowest of the rock to come until release, degrees Celsius. NULL: not recorded.';
COMMENT ON COLUMN gluing_session.night_how IS 'NULL: not recorded, which counts as assumed.';
COMMENT ON COLUMN gluing_session.set_by_id IS 'NULL: not recorded.';
COMMENT ON COLUMN gluing_session.supervised_by_id IS 'NULL: not recorded.';
COMMENT ON COLUMN gluing_session.checked_by_id IS 'NULL: not recorded.';
COMMENT ON COLUMN gluing_session.method_statement IS 'Version of the group''s method statement. Empty: not recorded.';
COMMENT ON COLUMN gluing_session.sample_kept IS 'Of the mixed adhesive. NULL: not recorded, which is not no.';
COMMENT ON COLUMN gluing_session.sample_where IS 'Where the sample lies. Empty: not recorded.';
COMMENT ON COLUMN gluing_session.sample_at_rock IS 'It lies at rock temperature. NULL: not recorded, which is not no.';
COMMENT ON COLUMN gluing_session.replaces IS 'The session that this one corrects; its installations then read this one. NULL: none.';

ALTER TABLE installation
  ADD COLUMN session_id uuid,
  ADD COLUMN form text CONSTRAINT installation_form_listed CHECK (form IN (
    'glue-in-single-shank', 'twisted-leg', 'staple', 'glue-in', 'bonded-stud', 'through-bolt', 'wedge-anchor', 'sleeve-anchor',
    'expansion-bolt', 'concrete-screw', 'self-drill-sleeve', 'drive-in', 'piton')),
  ADD COLUMN hardware_id uuid,
  ADD COLUMN cleaning_cycles int CONSTRAINT installation_cleaning_cycles_range CHECK (cleaning_cycles >= 0 AND cleaning_cycles <= 99),
  ADD COLUMN moisture text CONSTRAINT installation_moisture_listed CHECK (moisture IN ('dry', 'damp', 'saturated', 'water-filled', 'running-in')),
  ADD COLUMN set_at_from timestamptz,
  ADD COLUMN set_at_to timestamptz,
  ADD COLUMN set_at_words text NOT NULL DEFAULT '',
  ADD COLUMN rock text CONSTRAINT installation_rock_listed CHECK (rock IN ('hard', 'other', 'soft')),
  ADD COLUMN rock_words text NOT NULL DEFAULT '',
  ADD COLUMN cracks_seen boolean,
  ADD COLUMN edge_distance_mm float8 CONSTRAINT installation_edge_distance_mm_range CHECK (edge_distance_mm > 0 AND edge_distance_mm <= 100000),
  ADD COLUMN neighbour_distance_mm float8 CONSTRAINT installation_neighbour_distance_mm_range CHECK (neighbour_distance_mm > 0 AND neighbour_distance_mm <= 100000),
  ADD COLUMN angle_deg float8 CONSTRAINT installation_angle_deg_range CHECK (angle_deg >= 0 AND angle_deg <= 90),
  ADD COLUMN embedded_length_mm float8 CONSTRAINT installation_embedded_length_mm_range CHECK (embedded_length_mm > 0 AND embedded_length_mm <= 1000),
  ADD COLUMN recess_cut boolean,
  ADD COLUMN dry_fit boolean,
  ADD COLUMN from_bottom boolean,
  ADD COLUMN fill_pct float8 CONSTRAINT installation_fill_pct_range CHECK (fill_pct >= 0 AND fill_pct <= 100),
  ADD COLUMN turned boolean,
  ADD COLUMN as_drawn boolean,
  ADD COLUMN surplus_wiped boolean,
  ADD COLUMN hole text CONSTRAINT installation_hole_listed CHECK (hole IN ('new', 'reused', 'enlarged')),
  ADD COLUMN old_hole_distance_mm float8 CONSTRAINT installation_old_hole_distance_mm_range CHECK (old_hole_distance_mm > 0 AND old_hole_distance_mm <= 100000),
  ADD COLUMN torque_nm float8 CONSTRAINT installation_torque_nm_range CHECK (torque_nm >= 0 AND torque_nm <= 500),
  ADD COLUMN torque_tool text NOT NULL DEFAULT '';
ALTER TABLE installation
  ADD CONSTRAINT installation_set_at_order CHECK ((set_at_from IS NULL) = (set_at_to IS NULL) AND set_at_from <= set_at_to),
  ADD CONSTRAINT installation_turned_misfit CHECK (turned IS NULL OR form IS DISTINCT FROM 'staple'),
  ADD CONSTRAINT installation_session_id_fk FOREIGN KEY (group_id, session_id) REFERENCES gluing_session ON DELETE RESTRICT,
  ADD CONSTRAINT installation_hardware_id_fk FOREIGN KEY (group_id, hardware_id) REFERENCES product ON DELETE RESTRICT;
CREATE INDEX installation_by_session_idx ON installation (group_id, session_id);
COMMENT ON COLUMN installation.session_id IS 'The gluing session it was set in. NULL: none is recorded.';
COMMENT ON COLUMN installation.form IS 'As set. NULL: not recorded, then the anchor''s.';
COMMENT ON COLUMN installation.hardware_id IS 'Product as set. NULL: not recorded, then the anchor''s.';
COMMENT ON COLUMN installation.cleaning_cycles IS 'Rounds of blowing and brushing; 0: not cleaned. NULL: not recorded.';
COMMENT ON COLUMN installation.moisture IS 'Of the hole. NULL: not known.';
COMMENT ON COLUMN installation.set_at_from IS 'When it was set: the first instant it can have been. NULL: not recorded.';
COMMENT ON COLUMN installation.set_at_to IS 'When it was set: the last instant it can have been. NULL: not recorded.';
COMMENT ON COLUMN installation.set_at_words IS 'When it was set, as written.';
COMMENT ON COLUMN installation.rock IS 'At the hole. NULL: not recorded, then the site''s.';
COMMENT ON COLUMN installation.cracks_seen IS 'NULL: not recorded, which is not no.';
COMMENT ON COLUMN installation.edge_distance_mm IS 'Millimetres. NULL: not recorded.';
COMMENT ON COLUMN installation.neighbour_distance_mm IS 'To the nearest other anchor or hole, millimetres. NULL: not recorded.';
COMMENT ON COLUMN installation.angle_deg IS 'Off square to the face, degrees. NULL: not recorded.';
COMMENT ON COLUMN installation.embedded_length_mm IS 'Millimetres. NULL: not recorded.';
COMMENT ON COLUMN installation.recess_cut IS 'In the direction of pull. NULL: not recorded, which is not no.';
COMMENT ON COLUMN installation.dry_fit IS 'NULL: not recorded, which is not no.';
COMMENT ON COLUMN installation.from_bottom IS 'Injected from the bottom of the hole out. NULL: not recorded, which is not no.';
COMMENT ON COLUMN installation.fill_pct IS 'How full the hole was, per cent. NULL: not recorded.';
COMMENT ON COLUMN installation.turned IS 'Turned while setting; never of a staple. NULL: not recorded, which is not no.';
COMMENT ON COLUMN installation.as_drawn IS 'Set as the product''s drawing shows. NULL: not recorded, which is not no.';
COMMENT ON COLUMN installation.surplus_wiped IS 'Surplus wiped and gaps filled. NULL: not recorded, which is not no.';
COMMENT ON COLUMN installation.hole IS 'Where the hole came from. NULL: not known.';
COMMENT ON COLUMN installation.old_hole_distance_mm IS 'To the nearest old hole, millimetres. NULL: not recorded.';
COMMENT ON COLUMN installation.torque_nm IS 'Of an expansion anchor, newton metres. NULL: not recorded.';
COMMENT ON COLUMN installation.adhesive_id IS 'Product. NULL: not recorded, then the session''s; or none used.';
COMMENT ON COLUMN installation.batch_id IS 'Batch of the adhesive. NULL: not recorded, then the session''s; or none used.';

CREATE TABLE cure (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT cure_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  installation_id uuid,
  lowest_c float8 CONSTRAINT cure_lowest_c_range CHECK (lowest_c >= -60 AND lowest_c <= 90),
  lowest_how text CONSTRAINT cure_lowest_how_listed CHECK (lowest_how IN ('measured', 'assumed')),
  label_working_minutes int CONSTRAINT cure_label_working_minutes_range CHECK (label_working_minutes > 0 AND label_working_minutes <= 129600),
  label_cure_minutes int CONSTRAINT cure_label_cure_minutes_range CHECK (label_cure_minutes > 0 AND label_cure_minutes <= 129600),
  label_c float8 CONSTRAINT cure_label_c_range CHECK (label_c >= -60 AND label_c <= 90),
  loaded_at_from timestamptz,
  loaded_at_to timestamptz,
  loaded_at_words text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT cure_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT cure_loaded_at_order CHECK ((loaded_at_from IS NULL) = (loaded_at_to IS NULL) AND loaded_at_from <= loaded_at_to),
  CONSTRAINT cure_lowest_how_misfit CHECK (lowest_how IS NULL OR lowest_c IS NOT NULL),
  CONSTRAINT cure_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT cure_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT cure_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES cure ON DELETE RESTRICT,
  CONSTRAINT cure_installation_id_fk FOREIGN KEY (group_id, installation_id) REFERENCES installation ON DELETE RESTRICT
);
CREATE INDEX cure_of_anchor_idx ON cure (group_id, anchor_id);
COMMENT ON TABLE cure IS 'What somebody found out about the setting of a bonded anchor.';
COMMENT ON COLUMN cure.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN cure.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN cure.person_id IS 'Who found it out. NULL: not known.';
COMMENT ON COLUMN cure.replaces IS 'The record that this one corrects. NULL: none.';
COMMENT ON COLUMN cure.installation_id IS 'Which setting. NULL: that of the anchor.';
COMMENT ON COLUMN cure.lowest_c IS 'The coldest the rock was until release, degrees Celsius. NULL: not recorded.';
COMMENT ON COLUMN cure.lowest_how IS 'NULL: not recorded, which counts as assumed.';
COMMENT ON COLUMN cure.label_working_minutes IS 'As read off the label. NULL: not read.';
COMMENT ON COLUMN cure.label_cure_minutes IS 'As read off the label. NULL: not read.';
COMMENT ON COLUMN cure.label_c IS 'The row of the label that was read, degrees Celsius. NULL: not said.';
COMMENT ON COLUMN cure.loaded_at_from IS 'When it was first loaded: the first instant it can have been. NULL: not on record.';
COMMENT ON COLUMN cure.loaded_at_to IS 'When it was first loaded: the last instant it can have been. NULL: not on record.';
COMMENT ON COLUMN cure.loaded_at_words IS 'When it was first loaded, as written.';

ALTER TABLE first_use
  ADD COLUMN at_from timestamptz,
  ADD COLUMN at_to timestamptz,
  ADD COLUMN at_words text NOT NULL DEFAULT '',
  ADD COLUMN sample text CONSTRAINT first_use_sample_listed CHECK (sample IN ('hard', 'none-kept')),
  ADD CONSTRAINT first_use_at_order CHECK ((at_from IS NULL) = (at_to IS NULL) AND at_from <= at_to);
COMMENT ON COLUMN first_use.at_from IS 'When it was allowed: the first instant it can have been. NULL: some time on that day.';
COMMENT ON COLUMN first_use.at_to IS 'When it was allowed: the last instant it can have been. NULL: some time on that day.';
COMMENT ON COLUMN first_use.at_words IS 'When it was allowed, as written.';
COMMENT ON COLUMN first_use.sample IS 'The kept sample when it was looked at; a soft one allows no use. NULL: not recorded.';

-- Which anchors rest on a product's sheets.
CREATE INDEX anchor_by_product_idx ON anchor (group_id, product_id);
CREATE INDEX installation_by_hardware_idx ON installation (group_id, hardware_id);
CREATE INDEX installation_by_adhesive_idx ON installation (group_id, adhesive_id);
CREATE INDEX gluing_session_by_adhesive_idx ON gluing_session (group_id, adhesive_id);

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['gluing_session', 'cure'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

-- Records are never updated or deleted.
GRANT SELECT, INSERT ON gluing_session, cure TO rockledger_app;

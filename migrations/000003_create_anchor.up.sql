-- What is in the rock, what is glued with what, and the records of what was done.

CREATE TABLE product (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  kind text NOT NULL CONSTRAINT product_kind_listed CHECK (kind IN ('hardware', 'adhesive')),
  name text NOT NULL CONSTRAINT product_name_given CHECK (btrim(name) <> ''),
  maker text NOT NULL,
  form text CONSTRAINT product_form_listed CHECK (form IN (
    'glue-in-single-shank', 'twisted-leg', 'staple', 'glue-in', 'bonded-stud', 'through-bolt', 'wedge-anchor', 'sleeve-anchor',
    'expansion-bolt', 'concrete-screw', 'self-drill-sleeve', 'drive-in', 'piton')),
  metal text[] CONSTRAINT product_metal_given CHECK (cardinality(metal) > 0),
  chemistry text NOT NULL,
  notes text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT product_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON COLUMN product.form IS 'Of hardware. NULL: not known, or an adhesive.';
COMMENT ON COLUMN product.metal IS 'Of hardware: the grades it can be. NULL: not known, or an adhesive.';
COMMENT ON COLUMN product.chemistry IS 'Of an adhesive, in words. Empty: not known.';

CREATE TABLE batch (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  product_id uuid,
  text text NOT NULL,
  text_key text NOT NULL,
  expires_on date,
  received_on date,
  quantity text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT batch_text_key UNIQUE NULLS NOT DISTINCT (group_id, product_id, text_key),
  CONSTRAINT batch_text_given CHECK (text_key <> ''),
  CONSTRAINT batch_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT,
  CONSTRAINT batch_product_id_fk FOREIGN KEY (group_id, product_id) REFERENCES product ON DELETE RESTRICT
);
COMMENT ON COLUMN batch.product_id IS 'NULL: not known.';
COMMENT ON COLUMN batch.text IS 'The maker''s batch text, as printed.';
COMMENT ON COLUMN batch.text_key IS 'Letters and digits of the text, in upper case: with the product, the batch''s identity.';
COMMENT ON COLUMN batch.expires_on IS 'NULL: not known.';
COMMENT ON COLUMN batch.received_on IS 'NULL: not known.';

CREATE TABLE anchor (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  site_id uuid NOT NULL,
  position_id uuid NOT NULL,
  form text CONSTRAINT anchor_form_listed CHECK (form IN (
    'glue-in-single-shank', 'twisted-leg', 'staple', 'glue-in', 'bonded-stud', 'through-bolt', 'wedge-anchor', 'sleeve-anchor',
    'expansion-bolt', 'concrete-screw', 'self-drill-sleeve', 'drive-in', 'piton')),
  form_words text NOT NULL,
  metal text[] CONSTRAINT anchor_metal_given CHECK (cardinality(metal) > 0),
  metal_words text NOT NULL,
  product_id uuid,
  shank_diameter_mm float8 CONSTRAINT anchor_shank_diameter_mm_range CHECK (shank_diameter_mm > 0 AND shank_diameter_mm <= 100),
  overall_length_mm float8 CONSTRAINT anchor_overall_length_mm_range CHECK (overall_length_mm > 0 AND overall_length_mm <= 1000),
  set_on_from date,
  set_on_to date,
  set_on_words text NOT NULL,
  removed boolean NOT NULL,
  removed_on_from date,
  removed_on_to date,
  removed_on_words text NOT NULL,
  origin text NOT NULL CONSTRAINT anchor_origin_listed CHECK (origin IN ('recorded', 'imported')),
  entered_on date NOT NULL,
  notes text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT anchor_set_on_order CHECK ((set_on_from IS NULL) = (set_on_to IS NULL) AND set_on_from <= set_on_to),
  CONSTRAINT anchor_removed_on_order CHECK ((removed_on_from IS NULL) = (removed_on_to IS NULL) AND removed_on_from <= removed_on_to),
  CONSTRAINT anchor_removed_on_misfit CHECK (removed OR removed_on_from IS NULL),
  CONSTRAINT anchor_position_id_fk FOREIGN KEY (group_id, site_id, position_id)
    REFERENCES position (group_id, site_id, id) ON DELETE RESTRICT,
  CONSTRAINT anchor_product_id_fk FOREIGN KEY (group_id, product_id) REFERENCES product ON DELETE RESTRICT
);
CREATE INDEX anchor_at_position_idx ON anchor (group_id, position_id);
CREATE INDEX anchor_by_site_idx ON anchor (group_id, site_id, id);
COMMENT ON COLUMN anchor.form IS 'NULL: not known.';
COMMENT ON COLUMN anchor.form_words IS 'The type as written on a list.';
COMMENT ON COLUMN anchor.metal IS 'The grades it can be. NULL: not known.';
COMMENT ON COLUMN anchor.metal_words IS 'The metal as written on a list.';
COMMENT ON COLUMN anchor.product_id IS 'Hardware. NULL: not known.';
COMMENT ON COLUMN anchor.shank_diameter_mm IS 'Millimetres. NULL: not known.';
COMMENT ON COLUMN anchor.overall_length_mm IS 'Overall, not embedded, millimetres. NULL: not known.';
COMMENT ON COLUMN anchor.set_on_from IS 'First day on which it can have been set. NULL: not known.';
COMMENT ON COLUMN anchor.set_on_to IS 'Last day on which it can have been set. NULL: not known.';
COMMENT ON COLUMN anchor.removed IS 'No longer in the rock; the day may not be known.';
COMMENT ON COLUMN anchor.removed_on_from IS 'First day on which it can have been removed. NULL: not known, or in the rock.';
COMMENT ON COLUMN anchor.removed_on_to IS 'Last day on which it can have been removed. NULL: not known, or in the rock.';
COMMENT ON COLUMN anchor.entered_on IS 'The day it came into this register.';

CREATE TABLE fitting (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  anchor_id uuid NOT NULL,
  kind text CONSTRAINT fitting_kind_listed CHECK (kind IN ('hanger', 'ring', 'chain', 'maillon', 'lower-off-hook')),
  presence text CONSTRAINT fitting_presence_listed CHECK (presence IN ('present', 'left-off', 'bring-your-own', 'missing')),
  words text NOT NULL,
  metal text[] CONSTRAINT fitting_metal_given CHECK (cardinality(metal) > 0),
  metal_words text NOT NULL,
  set_on_from date,
  set_on_to date,
  set_on_words text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT fitting_set_on_order CHECK ((set_on_from IS NULL) = (set_on_to IS NULL) AND set_on_from <= set_on_to),
  CONSTRAINT fitting_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT
);
CREATE INDEX fitting_of_anchor_idx ON fitting (group_id, anchor_id);
COMMENT ON COLUMN fitting.kind IS 'NULL: not known.';
COMMENT ON COLUMN fitting.presence IS 'NULL: not known.';
COMMENT ON COLUMN fitting.metal IS 'The grades it can be. NULL: not known.';
COMMENT ON COLUMN fitting.set_on_from IS 'First day on which it can have been fitted. NULL: not known.';
COMMENT ON COLUMN fitting.set_on_to IS 'Last day on which it can have been fitted. NULL: not known.';

CREATE TABLE installation (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT installation_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  hole_diameter_mm float8 CONSTRAINT installation_hole_diameter_mm_range CHECK (hole_diameter_mm > 0 AND hole_diameter_mm <= 100),
  hole_depth_mm float8 CONSTRAINT installation_hole_depth_mm_range CHECK (hole_depth_mm > 0 AND hole_depth_mm <= 1000),
  adhesive_id uuid,
  batch_id uuid,
  rock_sound text CONSTRAINT installation_rock_sound_listed CHECK (rock_sound IN ('ringing', 'dull', 'hollow')),
  PRIMARY KEY (group_id, id),
  CONSTRAINT installation_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT installation_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT installation_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT installation_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES installation ON DELETE RESTRICT,
  CONSTRAINT installation_adhesive_id_fk FOREIGN KEY (group_id, adhesive_id) REFERENCES product ON DELETE RESTRICT,
  CONSTRAINT installation_batch_id_fk FOREIGN KEY (group_id, batch_id) REFERENCES batch ON DELETE RESTRICT
);
CREATE INDEX installation_of_anchor_idx ON installation (group_id, anchor_id);
COMMENT ON TABLE installation IS 'The record of setting an anchor.';
COMMENT ON COLUMN installation.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN installation.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN installation.person_id IS 'Who did it. NULL: not known.';
COMMENT ON COLUMN installation.replaces IS 'The record that this one corrects. NULL: none.';
CREATE INDEX installation_by_batch_idx ON installation (group_id, batch_id);
COMMENT ON COLUMN installation.hole_diameter_mm IS 'Millimetres. NULL: not known.';
COMMENT ON COLUMN installation.hole_depth_mm IS 'Millimetres. NULL: not known.';
COMMENT ON COLUMN installation.adhesive_id IS 'Product. NULL: not known, or none used.';
COMMENT ON COLUMN installation.batch_id IS 'Batch of the adhesive. NULL: not known, or none used.';
COMMENT ON COLUMN installation.rock_sound IS 'How the rock sounded under the hammer. NULL: not known.';

CREATE TABLE first_use (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT first_use_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  PRIMARY KEY (group_id, id),
  CONSTRAINT first_use_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT first_use_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT first_use_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT first_use_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES first_use ON DELETE RESTRICT
);
CREATE INDEX first_use_of_anchor_idx ON first_use (group_id, anchor_id);
COMMENT ON TABLE first_use IS 'A named person''s word that an anchor may be used.';
COMMENT ON COLUMN first_use.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN first_use.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN first_use.person_id IS 'Who did it. NULL: not known.';
COMMENT ON COLUMN first_use.replaces IS 'The record that this one corrects. NULL: none.';

CREATE TABLE inspection (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT inspection_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  level text NOT NULL CONSTRAINT inspection_level_listed CHECK (level IN ('glance', 'hands-on', 'full')),
  found boolean,
  observations text[] NOT NULL CONSTRAINT inspection_observations_listed CHECK (observations <@ ARRAY[
    'spins', 'anchor-turns', 'hanger-turns', 'loose-nut', 'rust', 'surface-rust', 'tea-staining', 'cracked-glue', 'hanger-bent',
    'hollow-sound', 'cracked-rock', 'cracked-metal']),
  verdict text CONSTRAINT inspection_verdict_listed CHECK (verdict IN ('keep', 'watch', 'repair', 'take-out-of-use')),
  inspect_by date,
  ticked boolean NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT inspection_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT inspection_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT inspection_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT inspection_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES inspection ON DELETE RESTRICT
);
CREATE INDEX inspection_of_anchor_idx ON inspection (group_id, anchor_id);
COMMENT ON TABLE inspection IS 'What somebody saw at an anchor and decided.';
COMMENT ON COLUMN inspection.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN inspection.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN inspection.person_id IS 'Who did it. NULL: not known.';
COMMENT ON COLUMN inspection.replaces IS 'The record that this one corrects. NULL: none.';
COMMENT ON COLUMN inspection.level IS 'How closely it was looked at.';
COMMENT ON COLUMN inspection.found IS 'False: looked for and not found. NULL: not said, which is the same as found.';
COMMENT ON COLUMN inspection.verdict IS 'NULL: none given.';
COMMENT ON COLUMN inspection.inspect_by IS 'Set with the verdicts watch and repair. NULL: none.';
COMMENT ON COLUMN inspection.ticked IS 'False: covered by a bulk entry without being ticked one by one; it resets nothing.';

CREATE TABLE removal (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  done_on_from date,
  done_on_to date,
  done_on_words text NOT NULL,
  person_id uuid,
  words text NOT NULL,
  origin text NOT NULL CONSTRAINT removal_origin_listed CHECK (origin IN ('recorded', 'imported')),
  recorded_at timestamptz NOT NULL,
  replaces uuid,
  PRIMARY KEY (group_id, id),
  CONSTRAINT removal_done_on_order CHECK ((done_on_from IS NULL) = (done_on_to IS NULL) AND done_on_from <= done_on_to),
  CONSTRAINT removal_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT removal_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT,
  CONSTRAINT removal_replaces_fk FOREIGN KEY (group_id, replaces) REFERENCES removal ON DELETE RESTRICT
);
CREATE INDEX removal_of_anchor_idx ON removal (group_id, anchor_id);
COMMENT ON TABLE removal IS 'How an anchor came out.';
COMMENT ON COLUMN removal.done_on_from IS 'First day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN removal.done_on_to IS 'Last day on which it can have happened. NULL: not known.';
COMMENT ON COLUMN removal.person_id IS 'Who did it. NULL: not known.';
COMMENT ON COLUMN removal.replaces IS 'The record that this one corrects. NULL: none.';

CREATE TABLE import (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  file_name text NOT NULL,
  file_hash text NOT NULL CONSTRAINT import_file_hash_malformed CHECK (file_hash ~ '^[0-9a-f]{64}$'),
  headings text[] NOT NULL,
  encoding text NOT NULL,
  delimiter text NOT NULL,
  report json NOT NULL,
  at timestamptz NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT import_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE import IS 'One list taken over.';
COMMENT ON COLUMN import.file_hash IS 'SHA-256 of the file''s bytes, hexadecimal.';
COMMENT ON COLUMN import.report IS 'What became of each row, as it was told.';

CREATE TABLE import_row (
  group_id uuid NOT NULL,
  import_id uuid NOT NULL,
  line int NOT NULL,
  key text NOT NULL,
  print text NOT NULL,
  cells text[] NOT NULL,
  anchor_id uuid NOT NULL,
  PRIMARY KEY (group_id, import_id, line),
  CONSTRAINT import_row_import_id_fk FOREIGN KEY (group_id, import_id) REFERENCES import ON DELETE RESTRICT,
  CONSTRAINT import_row_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT
);
COMMENT ON COLUMN import_row.line IS 'In the file, from 1.';
COMMENT ON COLUMN import_row.key IS 'The spot the row is about: site, sector, route and label, case and spaces folded.';
COMMENT ON COLUMN import_row.print IS 'Hash over the cells: rows with the same print say the same.';
COMMENT ON COLUMN import_row.cells IS 'As written, in the order of the headings.';

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['product', 'batch', 'anchor', 'fitting', 'installation', 'first_use', 'inspection', 'removal', 'import', 'import_row'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

GRANT SELECT, INSERT, UPDATE ON product, batch, anchor, fitting TO rockledger_app;
-- Records are never updated or deleted.
GRANT SELECT, INSERT ON installation, first_use, inspection, removal, import, import_row TO rockledger_app;

-- What sheets say of adhesives and of setting hardware, counts of batches, and entries that came with the register.

ALTER TABLE product ADD COLUMN shipped boolean NOT NULL DEFAULT false;
ALTER TABLE product ALTER COLUMN shipped DROP DEFAULT;
COMMENT ON COLUMN product.shipped IS 'A generic entry that came with the register: no maker''s product, so without a sheet.';

ALTER TABLE batch ADD COLUMN count_received int CONSTRAINT batch_count_received_range CHECK (count_received BETWEEN 0 AND 1000000);
ALTER TABLE batch ADD COLUMN count_on_hand int CONSTRAINT batch_count_on_hand_range CHECK (count_on_hand BETWEEN 0 AND 1000000);
ALTER TABLE batch ADD CONSTRAINT batch_count_on_hand_misfit CHECK (count_on_hand <= count_received);
COMMENT ON COLUMN batch.count_received IS 'Cartridges, or pieces of hardware. NULL: not known.';
COMMENT ON COLUMN batch.count_on_hand IS 'Of those, what is left. NULL: not known.';

ALTER TABLE product_version ADD COLUMN steel_area_mm2 float8
  CONSTRAINT product_version_steel_area_mm2_range CHECK (steel_area_mm2 > 0 AND steel_area_mm2 <= 10000);
ALTER TABLE product_version ADD COLUMN edge_least_mm float8
  CONSTRAINT product_version_edge_least_mm_range CHECK (edge_least_mm > 0 AND edge_least_mm <= 10000);
ALTER TABLE product_version ADD COLUMN spacing_least_mm float8
  CONSTRAINT product_version_spacing_least_mm_range CHECK (spacing_least_mm > 0 AND spacing_least_mm <= 10000);
ALTER TABLE product_version ADD COLUMN torque_nm float8
  CONSTRAINT product_version_torque_nm_range CHECK (torque_nm > 0 AND torque_nm <= 500);
COMMENT ON COLUMN product_version.steel_area_mm2 IS 'Real section of the steel in the hole, square millimetres. NULL: not given.';
COMMENT ON COLUMN product_version.edge_least_mm IS 'Least distance from an edge, millimetres. NULL: not given.';
COMMENT ON COLUMN product_version.spacing_least_mm IS 'Least distance from the next anchor, millimetres. NULL: not given.';
COMMENT ON COLUMN product_version.torque_nm IS 'To tighten with, newton metres. NULL: not given.';

ALTER TABLE product_version ADD COLUMN cure_rows json NOT NULL DEFAULT '[]';
ALTER TABLE product_version ALTER COLUMN cure_rows DROP DEFAULT;
ALTER TABLE product_version ADD COLUMN wet_factor float8
  CONSTRAINT product_version_wet_factor_range CHECK (wet_factor >= 1 AND wet_factor <= 10);
ALTER TABLE product_version ADD COLUMN moistures text[] NOT NULL DEFAULT '{}'
  CONSTRAINT product_version_moistures_listed CHECK (moistures <@ ARRAY['dry', 'damp', 'saturated', 'water-filled', 'running-in']);
ALTER TABLE product_version ALTER COLUMN moistures DROP DEFAULT;
ALTER TABLE product_version ADD COLUMN rock_low_c float8
  CONSTRAINT product_version_rock_low_c_range CHECK (rock_low_c BETWEEN -60 AND 90);
ALTER TABLE product_version ADD COLUMN rock_high_c float8
  CONSTRAINT product_version_rock_high_c_range CHECK (rock_high_c BETWEEN -60 AND 90);
ALTER TABLE product_version ADD CONSTRAINT product_version_rock_high_c_order CHECK (rock_low_c <= rock_high_c);
ALTER TABLE product_version ADD COLUMN cartridge_low_c float8
  CONSTRAINT product_version_cartridge_low_c_range CHECK (cartridge_low_c BETWEEN -60 AND 90);
ALTER TABLE product_version ADD COLUMN cartridge_high_c float8
  CONSTRAINT product_version_cartridge_high_c_range CHECK (cartridge_high_c BETWEEN -60 AND 90);
ALTER TABLE product_version ADD CONSTRAINT product_version_cartridge_high_c_order CHECK (cartridge_low_c <= cartridge_high_c);
ALTER TABLE product_version ADD COLUMN cleaning_cycles int
  CONSTRAINT product_version_cleaning_cycles_range CHECK (cleaning_cycles BETWEEN 0 AND 99);
ALTER TABLE product_version ADD COLUMN shelf_months int
  CONSTRAINT product_version_shelf_months_range CHECK (shelf_months BETWEEN 1 AND 240);
ALTER TABLE product_version ADD COLUMN cartridge_ml float8
  CONSTRAINT product_version_cartridge_ml_range CHECK (cartridge_ml > 0 AND cartridge_ml <= 5000);
COMMENT ON COLUMN product_version.cure_rows IS 'Of an adhesive, from cold to warm: from_c, to_c, work_minutes, cure_minutes and, where printed, cure_wet_minutes.';
COMMENT ON COLUMN product_version.wet_factor IS 'Times the cure time in a damp or saturated hole. NULL: not given.';
COMMENT ON COLUMN product_version.moistures IS 'Of the hole, those that the sheet names as allowed. Empty: it names none.';
COMMENT ON COLUMN product_version.rock_low_c IS 'Coldest rock that the sheet allows, degrees Celsius. NULL: not given.';
COMMENT ON COLUMN product_version.rock_high_c IS 'Warmest rock that the sheet allows, degrees Celsius. NULL: not given.';
COMMENT ON COLUMN product_version.cartridge_low_c IS 'Coldest cartridge that the sheet allows, degrees Celsius. NULL: not given.';
COMMENT ON COLUMN product_version.cartridge_high_c IS 'Warmest cartridge that the sheet allows, degrees Celsius. NULL: not given.';
COMMENT ON COLUMN product_version.cleaning_cycles IS 'Rounds of blowing and brushing that the sheet asks for. NULL: not given.';
COMMENT ON COLUMN product_version.shelf_months IS 'Months that the product keeps, unopened. NULL: not given.';
COMMENT ON COLUMN product_version.cartridge_ml IS 'Content of a cartridge, millilitres. NULL: not given.';

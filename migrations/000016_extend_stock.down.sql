ALTER TABLE product_version
  DROP COLUMN cartridge_ml,
  DROP COLUMN shelf_months,
  DROP COLUMN cleaning_cycles,
  DROP COLUMN cartridge_high_c,
  DROP COLUMN cartridge_low_c,
  DROP COLUMN rock_high_c,
  DROP COLUMN rock_low_c,
  DROP COLUMN moistures,
  DROP COLUMN wet_factor,
  DROP COLUMN cure_rows,
  DROP COLUMN torque_nm,
  DROP COLUMN spacing_least_mm,
  DROP COLUMN edge_least_mm,
  DROP COLUMN steel_area_mm2;
ALTER TABLE batch DROP COLUMN count_on_hand, DROP COLUMN count_received;
ALTER TABLE product DROP COLUMN shipped;

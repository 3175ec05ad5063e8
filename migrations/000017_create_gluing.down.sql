DROP INDEX anchor_by_product_idx;
DROP INDEX installation_by_adhesive_idx;

ALTER TABLE first_use
  DROP COLUMN at_from,
  DROP COLUMN at_to,
  DROP COLUMN at_words,
  DROP COLUMN sample;

DROP TABLE cure;

COMMENT ON COLUMN installation.adhesive_id IS 'Product. NULL: not known, or none used.';
COMMENT ON COLUMN installation.batch_id IS 'Batch of the adhesive. NULL: not known, or none used.';
ALTER TABLE installation
  DROP COLUMN session_id,
  DROP COLUMN form,
  DROP COLUMN hardware_id,
  DROP COLUMN cleaning_cycles,
  DROP COLUMN moisture,
  DROP COLUMN set_at_from,
  DROP COLUMN set_at_to,
  DROP COLUMN set_at_words,
  DROP COLUMN rock,
  DROP COLUMN rock_words,
  DROP COLUMN cracks_seen,
  DROP COLUMN edge_distance_mm,
  DROP COLUMN neighbour_distance_mm,
  DROP COLUMN angle_deg,
  DROP COLUMN embedded_length_mm,
  DROP COLUMN recess_cut,
  DROP COLUMN dry_fit,
  DROP COLUMN from_bottom,
  DROP COLUMN fill_pct,
  DROP COLUMN turned,
  DROP COLUMN as_drawn,
  DROP COLUMN surplus_wiped,
  DROP COLUMN hole,
  DROP COLUMN old_hole_distance_mm,
  DROP COLUMN torque_nm,
  DROP COLUMN torque_tool;

DROP TABLE gluing_session;

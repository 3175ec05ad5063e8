DROP TABLE marking;
DROP TABLE maintenance;
ALTER TABLE removal
  DROP COLUMN metal_where, DROP COLUMN metal_kept, DROP COLUMN observations, DROP COLUMN old_hole, DROP COLUMN stub_mm, DROP COLUMN how;
ALTER TABLE fitting DROP COLUMN batch_id, DROP COLUMN product_id;

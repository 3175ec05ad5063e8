-- Inventory can end; parcels named by hand; wear measured at an inspection.

ALTER TABLE landowner ADD COLUMN ended_on date;
ALTER TABLE parcel ADD COLUMN ended_on date;
ALTER TABLE parcel ADD COLUMN area_m2 float8 CONSTRAINT parcel_area_m2_positive CHECK (area_m2 > 0);
ALTER TABLE site ADD COLUMN ended_on date;
ALTER TABLE sector ADD COLUMN ended_on date;
ALTER TABLE route ADD COLUMN ended_on date;
ALTER TABLE position ADD COLUMN ended_on date;
ALTER TABLE assembly ADD COLUMN ended_on date;
ALTER TABLE product ADD COLUMN ended_on date;
ALTER TABLE batch ADD COLUMN ended_on date;
ALTER TABLE fitting ADD COLUMN ended_on date;
ALTER TABLE fitting ADD COLUMN new_section_mm float8
  CONSTRAINT fitting_new_section_mm_range CHECK (new_section_mm > 0 AND new_section_mm <= 100);
COMMENT ON COLUMN landowner.ended_on IS 'Holds land no longer from this day on. NULL: does.';
COMMENT ON COLUMN parcel.ended_on IS 'Given up from this day on. NULL: stands.';
COMMENT ON COLUMN parcel.area_m2 IS 'Square metres, computed from the outline. NULL: not drawn.';
COMMENT ON COLUMN site.ended_on IS 'Looked after no longer from this day on. NULL: it is.';
COMMENT ON COLUMN sector.ended_on IS 'Given up from this day on. NULL: stands.';
COMMENT ON COLUMN route.ended_on IS 'Given up from this day on. NULL: stands.';
COMMENT ON COLUMN position.ended_on IS 'Given up from this day on. NULL: stands.';
COMMENT ON COLUMN assembly.ended_on IS 'Taken apart on this day. NULL: stands.';
COMMENT ON COLUMN product.ended_on IS 'Out of the catalogue from this day on. NULL: in it.';
COMMENT ON COLUMN batch.ended_on IS 'Used up or thrown away on this day. NULL: on hand.';
COMMENT ON COLUMN fitting.ended_on IS 'Taken off on this day. NULL: hangs.';
COMMENT ON COLUMN fitting.new_section_mm IS 'Thickness of the wearing section when new, millimetres. NULL: not known.';

-- Until here a parcel was only ever named by a list.
ALTER TABLE position ADD COLUMN parcel_by_hand boolean NOT NULL DEFAULT false;
UPDATE position SET parcel_by_hand = true WHERE parcel_id IS NOT NULL;
ALTER TABLE position ALTER COLUMN parcel_by_hand DROP DEFAULT;
COMMENT ON COLUMN position.parcel_by_hand IS 'A person or a list named the parcel: outlines do not change it.';
CREATE INDEX position_of_sector_idx ON position (group_id, sector_id) WHERE sector_id IS NOT NULL;
CREATE INDEX position_on_parcel_idx ON position (group_id, parcel_id) WHERE parcel_id IS NOT NULL;

ALTER TABLE inspection ADD COLUMN measured json NOT NULL DEFAULT '[]';
ALTER TABLE inspection ALTER COLUMN measured DROP DEFAULT;
COMMENT ON COLUMN inspection.measured IS 'Thinnest sections measured: a list of fitting_id, left_mm and, where not on record, new_mm.';

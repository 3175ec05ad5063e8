-- Landowners can be erased as persons can; a legal hold over one suspends it.

ALTER TABLE landowner ADD COLUMN erased_on date;
COMMENT ON COLUMN landowner.erased_on IS 'Name and contact were erased on this day; another text stands in place of the name. NULL: they were not.';

ALTER TABLE erasure
  ALTER COLUMN person_id DROP NOT NULL,
  ADD COLUMN landowner_id uuid,
  ADD CONSTRAINT erasure_of_one CHECK (num_nonnulls(person_id, landowner_id) = 1),
  ADD CONSTRAINT erasure_landowner_id_key UNIQUE (group_id, landowner_id),
  ADD CONSTRAINT erasure_landowner_id_fk FOREIGN KEY (group_id, landowner_id) REFERENCES landowner ON DELETE RESTRICT;
COMMENT ON TABLE erasure IS 'That a person''s name, or a landowner''s name and contact, were erased, and why.';
COMMENT ON COLUMN erasure.person_id IS 'NULL: it is of a landowner.';
COMMENT ON COLUMN erasure.landowner_id IS 'NULL: it is of a person.';

ALTER TABLE legal_hold
  DROP CONSTRAINT legal_hold_over_listed,
  ADD CONSTRAINT legal_hold_over_listed CHECK (over IN ('all', 'site', 'anchor', 'person', 'landowner'));
COMMENT ON TABLE legal_hold IS 'Suspends the erasure of persons and landowners.';
COMMENT ON COLUMN legal_hold.over_id IS 'The site, anchor, person or landowner. NULL: over all.';

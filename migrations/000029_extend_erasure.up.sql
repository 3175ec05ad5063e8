-- Landowners can be erased as persons can; a legal hold over one suspends it.

ALTER TABLE landowner ADD COLUMN erased_on date;
COMMENT ON COLUMN landowner.erased_on IS 'Name and contact were erased on this day; another text stands in place of the name. NULL: they were not.';

ALTER TABLE erasure
  ALTER COLUMN person_id DROP NOT NULL,
  ADD COLUMN landowner_id uuid,
  ADD CONSTRAINT erasure_landowner_id_pair CHECK (num_nonnulls(person_id, landowner_id) = 1),
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

-- What the kept sample of a gluing session was found to be.
ALTER TABLE gluing_session
  ADD COLUMN sample_found text CONSTRAINT gluing_session_sample_found_listed CHECK (sample_found IN ('hard', 'soft')),
  ADD COLUMN sample_found_on date,
  ADD COLUMN sample_found_by_id uuid,
  ADD CONSTRAINT gluing_session_sample_found_pair CHECK (num_nulls(sample_found, sample_found_on, sample_found_by_id) IN (0, 3)),
  ADD CONSTRAINT gluing_session_sample_found_misfit CHECK (sample_found IS NULL OR sample_kept IS DISTINCT FROM false),
  ADD CONSTRAINT gluing_session_sample_found_by_id_fk FOREIGN KEY (group_id, sample_found_by_id) REFERENCES person ON DELETE RESTRICT;
COMMENT ON COLUMN gluing_session.sample_found IS 'What the kept sample was found to be. NULL: nobody recorded a look at it.';
COMMENT ON COLUMN gluing_session.sample_found_on IS 'NULL: nobody recorded a look at it.';
COMMENT ON COLUMN gluing_session.sample_found_by_id IS 'Who found that. NULL: nobody recorded a look at it.';

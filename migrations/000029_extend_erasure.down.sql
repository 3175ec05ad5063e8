ALTER TABLE gluing_session
  DROP CONSTRAINT gluing_session_sample_found_misfit,
  DROP CONSTRAINT gluing_session_sample_found_pair,
  DROP COLUMN sample_found_by_id,
  DROP COLUMN sample_found_on,
  DROP COLUMN sample_found;

-- What was erased stays erased; holds over landowners and the records of their
-- erasure have no place in the schema before this.
DELETE FROM legal_hold WHERE over = 'landowner';
ALTER TABLE legal_hold
  DROP CONSTRAINT legal_hold_over_listed,
  ADD CONSTRAINT legal_hold_over_listed CHECK (over IN ('all', 'site', 'anchor', 'person'));
COMMENT ON TABLE legal_hold IS 'Suspends the erasure of persons.';
COMMENT ON COLUMN legal_hold.over_id IS 'The site, anchor or person. NULL: over all.';

DELETE FROM erasure WHERE person_id IS NULL;
ALTER TABLE erasure
  DROP COLUMN landowner_id,
  ALTER COLUMN person_id SET NOT NULL;
COMMENT ON TABLE erasure IS 'That a person''s name was erased, and why.';
COMMENT ON COLUMN erasure.person_id IS NULL;

ALTER TABLE landowner DROP COLUMN erased_on;

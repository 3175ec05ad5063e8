-- What is left of an anchor may be cut flush with the rock.
ALTER TABLE removal DROP CONSTRAINT removal_stub_mm_range;
ALTER TABLE removal ADD CONSTRAINT removal_stub_mm_range CHECK (stub_mm >= 0 AND stub_mm <= 1000);
COMMENT ON COLUMN removal.stub_mm IS 'How far what is left stands out of the rock, millimetres; 0: cut flush. NULL: not recorded.';

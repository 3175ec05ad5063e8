-- A stub cut flush cannot be kept before this migration.
UPDATE removal SET stub_mm = NULL WHERE stub_mm = 0;
ALTER TABLE removal DROP CONSTRAINT removal_stub_mm_range;
ALTER TABLE removal ADD CONSTRAINT removal_stub_mm_range CHECK (stub_mm > 0 AND stub_mm <= 1000);
COMMENT ON COLUMN removal.stub_mm IS 'How far what is left stands out of the rock, millimetres. NULL: not recorded.';

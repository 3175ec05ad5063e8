ALTER TABLE assessment_history DROP COLUMN settled;

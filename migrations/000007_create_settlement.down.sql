ALTER TABLE assessment_finding DROP COLUMN settled_by;
DROP TABLE retraction;
DROP TABLE settlement;

-- What a person's answer settled when it was shown.
ALTER TABLE assessment_history ADD COLUMN settled text[] NOT NULL DEFAULT '{}';
COMMENT ON COLUMN assessment_history.settled IS 'Ids of the rules whose finding a settlement answered, in order, once for each finding.';

DROP TABLE assessment_due;
DROP TABLE assessment_history;
DROP TABLE assessment_candidate;
DROP TABLE assessment_finding;
DROP TABLE assessment;

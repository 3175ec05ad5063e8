ALTER TABLE inspection DROP COLUMN proposal_id;
DROP TABLE proposal;

-- The report on what is suspect also lists anchors not in use yet that a finding makes suspect.
DROP INDEX assessment_suspect_idx;
CREATE INDEX assessment_suspect_idx ON assessment (group_id, anchor_id) WHERE standing IN ('suspect', 'not-in-use-yet', 'out-of-use');

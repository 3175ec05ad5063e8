DROP INDEX assessment_suspect_idx;
CREATE INDEX assessment_suspect_idx ON assessment (group_id, anchor_id) WHERE standing IN ('suspect', 'out-of-use');

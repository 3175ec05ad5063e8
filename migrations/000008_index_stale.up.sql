-- Finding what is stale without looking at every anchor: what is past its last
-- day, what was made by another engine or other house rules, and the queue, on
-- which an anchor without an assessment stands from its entry on.
CREATE INDEX assessment_by_end_idx ON assessment (group_id, valid_until, anchor_id);
CREATE INDEX assessment_by_making_idx ON assessment (group_id, rules_version, engine, anchor_id);

INSERT INTO assessment_due (group_id, anchor_id)
SELECT a.group_id, a.id
FROM anchor AS a
WHERE NOT EXISTS (SELECT FROM assessment AS x WHERE x.group_id = a.group_id AND x.anchor_id = a.id)
ON CONFLICT DO NOTHING;

COMMENT ON TABLE assessment_due IS 'Anchors never assessed, or whose assessment is stale because a fact beside them changed.';

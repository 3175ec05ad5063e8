COMMENT ON TABLE assessment_due IS 'Anchors whose assessment is stale because a fact beside them changed.';
DROP INDEX assessment_by_making_idx;
DROP INDEX assessment_by_end_idx;

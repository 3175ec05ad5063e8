-- What is computed for each anchor. Narrow hot row; reasons apart, written only when they change.

CREATE TABLE assessment (
  group_id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  site_id uuid NOT NULL,
  as_of date NOT NULL,
  standing text NOT NULL CONSTRAINT assessment_standing_listed CHECK (standing IN (
    'no-problem-on-record', 'watch', 'suspect', 'not-in-use-yet', 'out-of-use', 'not-located', 'removed')),
  due_on date,
  soonest_on date,
  due_state text CONSTRAINT assessment_due_state_listed CHECK (due_state IN ('awaiting-first-round', 'not-due', 'due-soon', 'overdue')),
  band text CONSTRAINT assessment_band_listed CHECK (band IN ('now', 'this-season', 'this-year', 'when-passing')),
  band_reason text NOT NULL,
  consequence smallint NOT NULL,
  oldest_on date,
  valid_until date,
  engine int NOT NULL,
  rules_version int NOT NULL,
  PRIMARY KEY (group_id, anchor_id),
  CONSTRAINT assessment_due_on_given CHECK (due_on IS NOT NULL OR standing = 'removed'),
  CONSTRAINT assessment_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE CASCADE,
  CONSTRAINT assessment_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE CASCADE
) WITH (fillfactor = 85, autovacuum_vacuum_scale_factor = 0.02, autovacuum_analyze_scale_factor = 0.02);
CREATE INDEX assessment_by_due_idx ON assessment (group_id, due_on, anchor_id);
CREATE INDEX assessment_suspect_idx ON assessment (group_id, anchor_id) WHERE standing IN ('suspect', 'out-of-use');
COMMENT ON COLUMN assessment.as_of IS 'The day it was last written for; it holds on from there up to valid_until.';
COMMENT ON COLUMN assessment.due_on IS 'Inspect by. NULL: removed.';
COMMENT ON COLUMN assessment.soonest_on IS 'Earliest date before the first round raised it. NULL: removed.';
COMMENT ON COLUMN assessment.due_state IS 'NULL: removed.';
COMMENT ON COLUMN assessment.band IS 'Urgency. NULL: removed.';
COMMENT ON COLUMN assessment.consequence IS '1 single point, 2 in an assembly, 3 one of many; 0: removed.';
COMMENT ON COLUMN assessment.oldest_on IS 'Earliest day on which it can have been set. NULL: not known.';
COMMENT ON COLUMN assessment.valid_until IS 'Last day on which, with no new fact, nothing of it changes. NULL: never changes.';

CREATE TABLE assessment_finding (
  group_id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  rank smallint NOT NULL,
  rule text NOT NULL,
  severity text NOT NULL CONSTRAINT assessment_finding_severity_listed CHECK (severity IN ('note', 'watch', 'suspect', 'out-of-use')),
  values json NOT NULL,
  source text NOT NULL,
  settles text NOT NULL,
  record_id uuid,
  PRIMARY KEY (group_id, anchor_id, rank),
  CONSTRAINT assessment_finding_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES assessment ON DELETE CASCADE
);
COMMENT ON COLUMN assessment_finding.rank IS 'Worst first, from 1.';
COMMENT ON COLUMN assessment_finding.values IS 'Names and texts in the rule''s order.';
COMMENT ON COLUMN assessment_finding.record_id IS 'The record it rests on. NULL: it rests on the inventory.';

CREATE TABLE assessment_candidate (
  group_id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  rank smallint NOT NULL,
  rule text NOT NULL,
  factor text NOT NULL,
  falls_on date NOT NULL,
  values json NOT NULL,
  source text NOT NULL,
  hard boolean NOT NULL,
  PRIMARY KEY (group_id, anchor_id, rank),
  CONSTRAINT assessment_candidate_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES assessment ON DELETE CASCADE
);
COMMENT ON COLUMN assessment_candidate.rank IS 'Earliest first, from 1. Rank 0 is the reason: the one that won, or the first round.';
COMMENT ON COLUMN assessment_candidate.hard IS 'Never raised to the end of a first round.';

CREATE TABLE assessment_history (
  group_id uuid NOT NULL,
  id bigint GENERATED ALWAYS AS IDENTITY,
  anchor_id uuid NOT NULL,
  at timestamptz NOT NULL,
  standing text NOT NULL,
  due_on date,
  due_state text,
  rules text[] NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT assessment_history_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT
);
CREATE INDEX assessment_history_of_anchor_idx ON assessment_history (group_id, anchor_id, id);
COMMENT ON TABLE assessment_history IS 'What was shown from when on: one row for each change of standing, due date or the set of findings.';
COMMENT ON COLUMN assessment_history.due_on IS 'NULL: removed.';
COMMENT ON COLUMN assessment_history.due_state IS 'NULL: removed.';
COMMENT ON COLUMN assessment_history.rules IS 'Ids of the rules with a finding, in order.';

CREATE TABLE assessment_due (
  group_id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  since timestamptz NOT NULL DEFAULT clock_timestamp(),
  PRIMARY KEY (group_id, anchor_id),
  CONSTRAINT assessment_due_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE CASCADE
);
COMMENT ON TABLE assessment_due IS 'Anchors whose assessment is stale because a fact beside them changed.';

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['assessment', 'assessment_finding', 'assessment_candidate', 'assessment_history', 'assessment_due'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

GRANT SELECT, INSERT, UPDATE ON assessment TO rockledger_app;
GRANT SELECT, INSERT, DELETE ON assessment_finding, assessment_candidate TO rockledger_app;
GRANT SELECT, INSERT ON assessment_history TO rockledger_app;
GRANT SELECT, INSERT, UPDATE, DELETE ON assessment_due TO rockledger_app;

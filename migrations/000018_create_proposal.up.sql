-- Notes of imported lists that a steward accepts or declines.

CREATE TABLE proposal (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  import_id uuid NOT NULL,
  line int NOT NULL,
  site_id uuid NOT NULL,
  position_id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  kind text NOT NULL CONSTRAINT proposal_kind_listed CHECK (kind IN (
    'restriction', 'role', 'agreement', 'observation', 'date', 'environment')),
  words text NOT NULL CONSTRAINT proposal_words_given CHECK (btrim(words) <> '' AND octet_length(words) <= 200),
  bars text CONSTRAINT proposal_bars_listed CHECK (bars IN ('entry', 'climbing', 'drilling', 'noise')),
  weight text CONSTRAINT proposal_weight_listed CHECK (weight IN ('law', 'agreement', 'request')),
  yearly_from_month int CONSTRAINT proposal_yearly_from_month_range CHECK (yearly_from_month BETWEEN 1 AND 12),
  yearly_from_day int CONSTRAINT proposal_yearly_from_day_range CHECK (yearly_from_day BETWEEN 1 AND 31),
  yearly_to_month int CONSTRAINT proposal_yearly_to_month_range CHECK (yearly_to_month BETWEEN 1 AND 12),
  yearly_to_day int CONSTRAINT proposal_yearly_to_day_range CHECK (yearly_to_day BETWEEN 1 AND 31),
  role text CONSTRAINT proposal_role_listed CHECK (role IN (
    'main-hang', 'backup', 'belay', 'lower-off', 'rebelay', 'deviation', 'traverse', 'y-hang-leg', 'runner', 'handline', 'aid')),
  observation text CONSTRAINT proposal_observation_listed CHECK (observation IN (
    'spins', 'anchor-turns', 'hanger-turns', 'loose-nut', 'rust', 'surface-rust', 'tea-staining', 'cracked-glue', 'hanger-bent',
    'hollow-sound', 'cracked-rock', 'cracked-metal', 'called-unsafe', 'unclear-words')),
  inspect_by date,
  counted_from text CONSTRAINT proposal_counted_from_listed CHECK (counted_from IN ('checked-on', 'read-on', 'stated')),
  wetness text CONSTRAINT proposal_wetness_listed CHECK (wetness IN ('dry', 'dripping', 'stream')),
  washed boolean,
  seen_from date,
  seen_to date,
  seen_words text NOT NULL,
  state text NOT NULL CONSTRAINT proposal_state_listed CHECK (state IN ('open', 'accepted', 'declined', 'ended')),
  decided_at timestamptz,
  decided_by text NOT NULL,
  person_id uuid,
  made_id uuid,
  PRIMARY KEY (group_id, id),
  CONSTRAINT proposal_kind_misfit CHECK (CASE kind
    WHEN 'restriction' THEN num_nulls(bars, weight, yearly_from_month, yearly_from_day, yearly_to_month, yearly_to_day) = 0
    WHEN 'role' THEN role IS NOT NULL
    WHEN 'observation' THEN observation IS NOT NULL
    WHEN 'date' THEN num_nulls(inspect_by, counted_from) = 0
    WHEN 'environment' THEN num_nonnulls(wetness, washed) > 0
    ELSE true END),
  CONSTRAINT proposal_seen_order CHECK ((seen_from IS NULL) = (seen_to IS NULL) AND seen_from <= seen_to),
  CONSTRAINT proposal_decided_at_pair CHECK (
    (state IN ('accepted', 'declined')) = (decided_at IS NOT NULL) AND (decided_at IS NOT NULL) = (decided_by <> '')),
  CONSTRAINT proposal_made_id_pair CHECK ((state = 'accepted') = (made_id IS NOT NULL)),
  CONSTRAINT proposal_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT,
  CONSTRAINT proposal_import_id_fk FOREIGN KEY (group_id, import_id) REFERENCES import ON DELETE RESTRICT,
  CONSTRAINT proposal_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT,
  CONSTRAINT proposal_position_id_fk FOREIGN KEY (group_id, position_id) REFERENCES position ON DELETE RESTRICT,
  CONSTRAINT proposal_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT proposal_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT
);
COMMENT ON TABLE proposal IS 'A note of an imported list, and what it would become if a steward accepts it.';
COMMENT ON COLUMN proposal.line IS 'In the file, from 1.';
COMMENT ON COLUMN proposal.words IS 'The part of the note that it rests on, as written.';
COMMENT ON COLUMN proposal.bars IS 'Of a restriction: what is barred. NULL: another kind.';
COMMENT ON COLUMN proposal.weight IS 'Of a restriction. NULL: another kind.';
COMMENT ON COLUMN proposal.yearly_from_month IS 'Of a restriction: month of the first day barred. NULL: another kind.';
COMMENT ON COLUMN proposal.yearly_from_day IS 'Of a restriction: first day barred. NULL: another kind.';
COMMENT ON COLUMN proposal.yearly_to_month IS 'Of a restriction: month of the last day barred. NULL: another kind.';
COMMENT ON COLUMN proposal.yearly_to_day IS 'Of a restriction: last day barred. NULL: another kind.';
COMMENT ON COLUMN proposal.role IS 'What the position is for. NULL: another kind.';
COMMENT ON COLUMN proposal.observation IS 'What was seen. NULL: another kind.';
COMMENT ON COLUMN proposal.inspect_by IS 'Of a date: the last day. NULL: another kind.';
COMMENT ON COLUMN proposal.counted_from IS 'What the date was counted from: the row''s last check, the day of reading, or the note itself. NULL: another kind.';
COMMENT ON COLUMN proposal.wetness IS 'Of an environment. NULL: not said, or another kind.';
COMMENT ON COLUMN proposal.washed IS 'Of an environment: rain washes the rock. NULL: not said, or another kind.';
COMMENT ON COLUMN proposal.seen_from IS 'First day on which the row''s anchor can have been checked last. NULL: not known.';
COMMENT ON COLUMN proposal.seen_to IS 'Last day on which the row''s anchor can have been checked last. NULL: not known.';
COMMENT ON COLUMN proposal.state IS 'Ended: nobody decides it any more, since the import was undone or a corrected list no longer has the note.';
COMMENT ON COLUMN proposal.decided_at IS 'NULL: not decided.';
COMMENT ON COLUMN proposal.decided_by IS 'A reference to an account, a token or the command line, never a name. Empty: not decided.';
COMMENT ON COLUMN proposal.person_id IS 'Who decided. NULL: not said.';
COMMENT ON COLUMN proposal.made_id IS 'The restriction, agreement, inspection, environment or position that accepting it made or changed. NULL: not accepted.';
CREATE INDEX proposal_of_anchor_idx ON proposal (group_id, anchor_id);
CREATE INDEX proposal_by_state_idx ON proposal (group_id, state, id);
ALTER TABLE proposal ENABLE ROW LEVEL SECURITY;
CREATE POLICY own_group ON proposal
  USING (group_id = NULLIF(current_setting('rockledger.group_id', true), '')::uuid)
  WITH CHECK (group_id = NULLIF(current_setting('rockledger.group_id', true), '')::uuid);
GRANT SELECT, INSERT, UPDATE ON proposal TO rockledger_app;

ALTER TABLE inspection ADD COLUMN proposal_id uuid;
COMMENT ON COLUMN inspection.proposal_id IS 'The note that it was made of. NULL: it was made otherwise.';
ALTER TABLE inspection ADD CONSTRAINT inspection_proposal_id_fk FOREIGN KEY (group_id, proposal_id) REFERENCES proposal ON DELETE RESTRICT;

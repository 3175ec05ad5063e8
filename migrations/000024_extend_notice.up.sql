-- Notices that go by a criterion, and why one was closed.

ALTER TABLE notice ADD COLUMN product_ids uuid[] NOT NULL DEFAULT '{}';
ALTER TABLE notice ADD COLUMN batch_ids uuid[] NOT NULL DEFAULT '{}';
ALTER TABLE notice ADD COLUMN setter_ids uuid[] NOT NULL DEFAULT '{}';
ALTER TABLE notice ADD COLUMN site_ids uuid[] NOT NULL DEFAULT '{}';
ALTER TABLE notice ADD COLUMN rocks text[] NOT NULL DEFAULT '{}'
  CONSTRAINT notice_rocks_listed CHECK (rocks <@ ARRAY['hard', 'other', 'soft']);
ALTER TABLE notice ADD COLUMN set_from date;
ALTER TABLE notice ADD COLUMN set_to date;
ALTER TABLE notice ADD COLUMN ended_reason text NOT NULL DEFAULT '';
ALTER TABLE notice
  ALTER COLUMN product_ids DROP DEFAULT,
  ALTER COLUMN batch_ids DROP DEFAULT,
  ALTER COLUMN setter_ids DROP DEFAULT,
  ALTER COLUMN site_ids DROP DEFAULT,
  ALTER COLUMN rocks DROP DEFAULT,
  ALTER COLUMN ended_reason DROP DEFAULT;
ALTER TABLE notice ADD CONSTRAINT notice_set_to_order CHECK (set_from <= set_to);
ALTER TABLE notice ADD CONSTRAINT notice_ended_reason_misfit CHECK (ended_reason = '' OR ended_on IS NOT NULL);
ALTER TABLE notice ADD COLUMN by_criterion boolean NOT NULL GENERATED ALWAYS AS (
  cardinality(product_ids) + cardinality(batch_ids) + cardinality(setter_ids) + cardinality(site_ids) + cardinality(rocks) > 0
  OR set_from IS NOT NULL OR set_to IS NOT NULL) STORED;
CREATE INDEX notice_by_criterion_idx ON notice (group_id, id) WHERE by_criterion;
COMMENT ON TABLE notice IS 'A recall or warning about named anchors, about those that a criterion hits, or both.';
COMMENT ON COLUMN notice.product_ids IS 'Hardware or adhesives, any of them. Empty: not asked after.';
COMMENT ON COLUMN notice.batch_ids IS 'Any of them. Empty: not asked after.';
COMMENT ON COLUMN notice.setter_ids IS 'Persons who set, any of them. Empty: not asked after.';
COMMENT ON COLUMN notice.site_ids IS 'Any of them. Empty: not asked after.';
COMMENT ON COLUMN notice.rocks IS 'Classes of rock, any of them. Empty: not asked after.';
COMMENT ON COLUMN notice.set_from IS 'First day of setting. NULL: open.';
COMMENT ON COLUMN notice.set_to IS 'Last day of setting. NULL: open.';
COMMENT ON COLUMN notice.by_criterion IS 'Some of the criterion is given.';
COMMENT ON COLUMN notice.ended_on IS 'Closed on this day. NULL: it stands.';
COMMENT ON COLUMN notice.ended_reason IS 'Why it was closed while anchors were left. Blank: none was, or it stands.';

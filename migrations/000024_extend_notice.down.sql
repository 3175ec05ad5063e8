COMMENT ON COLUMN notice.ended_on IS 'Withdrawn on this day. NULL: it stands.';
COMMENT ON TABLE notice IS 'A recall or warning about named anchors.';
DROP INDEX notice_by_criterion_idx;
ALTER TABLE notice DROP COLUMN by_criterion;
ALTER TABLE notice
  DROP COLUMN ended_reason,
  DROP COLUMN set_to,
  DROP COLUMN set_from,
  DROP COLUMN rocks,
  DROP COLUMN site_ids,
  DROP COLUMN setter_ids,
  DROP COLUMN batch_ids,
  DROP COLUMN product_ids;

-- Pictures of anchors, and what they are made of.

CREATE TABLE picture (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  anchor_id uuid NOT NULL,
  record_id uuid,
  hash text NOT NULL CONSTRAINT picture_hash_malformed CHECK (hash ~ '^[0-9a-f]{64}$'),
  taken_on date,
  words text NOT NULL,
  width int NOT NULL CONSTRAINT picture_width_positive CHECK (width > 0),
  height int NOT NULL CONSTRAINT picture_height_positive CHECK (height > 0),
  person_id uuid,
  recorded_at timestamptz NOT NULL,
  ended_on date,
  PRIMARY KEY (group_id, id),
  CONSTRAINT picture_hash_key UNIQUE (group_id, anchor_id, hash),
  CONSTRAINT picture_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE RESTRICT,
  CONSTRAINT picture_person_id_fk FOREIGN KEY (group_id, person_id) REFERENCES person ON DELETE RESTRICT
);
CREATE INDEX picture_of_anchor_idx ON picture (group_id, anchor_id, id);
COMMENT ON TABLE picture IS 'A picture of one anchor; its bytes are kept under group and hash, here in picture_data or in a folder.';
COMMENT ON COLUMN picture.record_id IS 'A record of the anchor, of any kind, so no foreign key. NULL: none.';
COMMENT ON COLUMN picture.hash IS 'SHA-256 of the file as it was sent, hex; not of what is kept.';
COMMENT ON COLUMN picture.taken_on IS 'As a person says, never read from the file. NULL: not known.';
COMMENT ON COLUMN picture.width IS 'Of the largest size that is kept, pixels.';
COMMENT ON COLUMN picture.height IS 'Of the largest size that is kept, pixels.';
COMMENT ON COLUMN picture.person_id IS 'Who took or recorded it. NULL: not said.';
COMMENT ON COLUMN picture.ended_on IS 'Withdrawn on this day. NULL: it stands.';

CREATE TABLE picture_data (
  group_id uuid NOT NULL,
  hash text NOT NULL CONSTRAINT picture_data_hash_malformed CHECK (hash ~ '^[0-9a-f]{64}$'),
  size text NOT NULL CONSTRAINT picture_data_size_listed CHECK (size IN ('full', 'middle', 'small')),
  bytes bytea NOT NULL,
  PRIMARY KEY (group_id, hash, size),
  CONSTRAINT picture_data_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE picture_data IS 'A size of a picture as JPEG without metadata; written before the row in picture, so one may be left over.';
-- JPEG does not pack any further.
ALTER TABLE picture_data ALTER COLUMN bytes SET STORAGE EXTERNAL;

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['picture', 'picture_data'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

GRANT SELECT, INSERT, UPDATE ON picture TO rockledger_app;
-- Under a hash there is only ever one thing to keep.
GRANT SELECT, INSERT ON picture_data TO rockledger_app;

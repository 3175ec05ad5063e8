-- Groups, who may work for them, their house rules, and the log of every change.

CREATE TABLE anchor_group (
  id uuid PRIMARY KEY,
  slug text NOT NULL CONSTRAINT anchor_group_slug_malformed CHECK (slug ~ '^[a-z0-9][a-z0-9-]{0,59}$'),
  name text NOT NULL CONSTRAINT anchor_group_name_given CHECK (btrim(name) <> '' AND octet_length(name) <= 200),
  time_zone text NOT NULL CONSTRAINT anchor_group_time_zone_given CHECK (btrim(time_zone) <> ''),
  CONSTRAINT anchor_group_slug_key UNIQUE (slug)
);
COMMENT ON TABLE anchor_group IS 'One anchor-replacement group, the owner of everything it records.';
COMMENT ON COLUMN anchor_group.time_zone IS 'IANA name; "today" is the date there.';

CREATE TABLE account (
  id uuid PRIMARY KEY,
  email text NOT NULL CONSTRAINT account_email_given CHECK (btrim(email) <> ''),
  name text NOT NULL,
  password_hash text NOT NULL
);
CREATE UNIQUE INDEX account_email_key ON account (lower(email));
COMMENT ON TABLE account IS 'Who can sign in on the pages.';
COMMENT ON COLUMN account.password_hash IS 'argon2id in its own text form, never the password.';

CREATE TABLE membership (
  account_id uuid NOT NULL,
  group_id uuid NOT NULL,
  role text NOT NULL CONSTRAINT membership_role_listed CHECK (role IN ('reader', 'recorder', 'steward', 'owner')),
  PRIMARY KEY (account_id, group_id),
  CONSTRAINT membership_account_id_fk FOREIGN KEY (account_id) REFERENCES account ON DELETE CASCADE,
  CONSTRAINT membership_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE CASCADE
);
COMMENT ON TABLE membership IS 'What an account may do in a group. Read before any group is set.';

CREATE TABLE access_token (
  id uuid PRIMARY KEY,
  group_id uuid NOT NULL,
  name text NOT NULL CONSTRAINT access_token_name_given CHECK (btrim(name) <> '' AND octet_length(name) <= 200),
  role text NOT NULL CONSTRAINT access_token_role_listed CHECK (role IN ('reader', 'recorder', 'steward', 'owner')),
  hash bytea NOT NULL CONSTRAINT access_token_hash_malformed CHECK (octet_length(hash) = 32),
  created_at timestamptz NOT NULL,
  CONSTRAINT access_token_hash_key UNIQUE (hash),
  CONSTRAINT access_token_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE CASCADE
);
CREATE INDEX access_token_by_group_idx ON access_token (group_id, id);
COMMENT ON TABLE access_token IS 'Tokens of programs; each belongs to one group. Read before any group is set.';
COMMENT ON COLUMN access_token.hash IS 'SHA-256 of the secret, which is not kept.';

CREATE TABLE web_session (
  token_hash bytea PRIMARY KEY,
  data bytea NOT NULL,
  expires_at timestamptz NOT NULL
);
CREATE INDEX web_session_by_expiry_idx ON web_session (expires_at);
COMMENT ON COLUMN web_session.token_hash IS 'SHA-256 of the cookie''s secret, which is not kept.';

CREATE TABLE house_rules (
  group_id uuid NOT NULL,
  version int NOT NULL CONSTRAINT house_rules_version_positive CHECK (version > 0),
  rules json NOT NULL,
  since timestamptz NOT NULL DEFAULT now(),
  PRIMARY KEY (group_id, version),
  CONSTRAINT house_rules_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE house_rules IS 'The group''s own numbers. The highest version is in force; earlier ones are kept.';

CREATE TABLE ledger (
  group_id uuid NOT NULL,
  id bigint GENERATED ALWAYS AS IDENTITY,
  txid xid8 NOT NULL DEFAULT pg_current_xact_id(),
  at timestamptz NOT NULL,
  who text NOT NULL,
  what text NOT NULL,
  noun text NOT NULL,
  row_id uuid NOT NULL,
  before text,
  after text,
  hash bytea NOT NULL CONSTRAINT ledger_hash_malformed CHECK (octet_length(hash) = 32),
  PRIMARY KEY (group_id, id)
);
COMMENT ON TABLE ledger IS 'Every change, written in the transaction of the change and never changed itself.';
COMMENT ON COLUMN ledger.who IS 'account:<id>, token:<id> or "command line: <system user>"; never a person''s name.';
COMMENT ON COLUMN ledger.what IS 'The use case: "import", "inspection".';
COMMENT ON COLUMN ledger.noun IS 'The table of the row.';
COMMENT ON COLUMN ledger.row_id IS 'The row''s id; of a stop, the position''s; of house rules, the group''s.';
COMMENT ON COLUMN ledger.before IS 'Canonical JSON (RFC 8785) of the row before, without names of persons and landowners. NULL: new.';
COMMENT ON COLUMN ledger.after IS 'Canonical JSON (RFC 8785) of the row after, without names of persons and landowners.';
COMMENT ON COLUMN ledger.hash IS 'SHA-256 of the entry''s canonical text: group, at, who, what, noun, row, before, after.';

-- A row of a tenant table is seen and written only under its group's setting.
DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['house_rules', 'ledger'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

GRANT SELECT ON anchor_group, account, membership, access_token TO rockledger_app;
GRANT SELECT, INSERT, UPDATE, DELETE ON web_session TO rockledger_app;
GRANT SELECT, INSERT ON house_rules, ledger TO rockledger_app;

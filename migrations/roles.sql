-- Makes the two roles of a register, or puts their rights back to what they
-- must be. Safe to repeat. Run it as a superuser, connected to the database
-- "postgres":
--
--   psql -d postgres -f migrations/roles.sql
--
-- rockledger_owner owns the database and its tables: migrate, group add, backup.
-- rockledger_app is what the service logs in as; row security holds it.
--
-- Neither has a password here: where the server asks for one, set it with
-- ALTER ROLE ... PASSWORD. Rights on tables are granted by the migrations.
DO $$
DECLARE
  wanted text;
BEGIN
  -- Advisory locks hold within one database only; hence the rule above.
  PERFORM pg_advisory_xact_lock(7165041);

  FOREACH wanted IN ARRAY ARRAY['rockledger_owner', 'rockledger_app'] LOOP
    IF to_regrole(wanted) IS NULL THEN
      EXECUTE format('CREATE ROLE %I LOGIN', wanted);
    END IF;
    IF EXISTS (
      SELECT FROM pg_roles
      WHERE rolname = wanted
        AND (NOT rolcanlogin OR rolsuper OR rolbypassrls OR rolcreatedb OR rolcreaterole OR rolreplication)
    ) THEN
      EXECUTE format('ALTER ROLE %I LOGIN NOSUPERUSER NOBYPASSRLS NOCREATEDB NOCREATEROLE NOREPLICATION', wanted);
    END IF;
  END LOOP;

  -- A member of the owner could put row security aside.
  IF pg_has_role('rockledger_app', 'rockledger_owner', 'MEMBER') THEN
    REVOKE rockledger_owner FROM rockledger_app;
  END IF;
END
$$;

-- A plan that was prepared while a table was nearly empty is kept by its
-- connection, and then all indexes that begin with the group look alike: one
-- that names the group only may have been taken. Nothing in the queries helps
-- against that; new statistics do, since they make every connection plan anew.
-- Autovacuum comes within a minute or so, too late for whoever reads right
-- after a large intake. Only the owner may analyse, hence this function, which
-- does nothing else and takes no other table than a group's.
CREATE FUNCTION analyse_grown(names text[], written bigint[])
RETURNS void
LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog, pg_temp
AS $$
DECLARE
  grown regclass;
BEGIN
  FOR grown IN
    SELECT c.oid
    FROM unnest(names, written) AS w (name, added)
    JOIN pg_class AS c ON c.relname = w.name AND c.relnamespace = 'public'::regnamespace
    WHERE c.relrowsecurity AND c.relkind = 'r'
      AND c.reltuples < 10.0 * w.added
    ORDER BY c.oid
  LOOP
    EXECUTE format('ANALYZE %s', grown);
  END LOOP;
END
$$;
COMMENT ON FUNCTION analyse_grown IS 'Analyses those of the tables that grew by more than a tenth of the rows they were last known to have.';

REVOKE ALL ON FUNCTION analyse_grown FROM PUBLIC;
GRANT EXECUTE ON FUNCTION analyse_grown TO rockledger_app;

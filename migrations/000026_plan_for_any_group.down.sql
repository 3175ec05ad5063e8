DO $$
DECLARE
  tenant regclass;
BEGIN
  FOR tenant IN
    SELECT p.polrelid
    FROM pg_policy AS p
    WHERE p.polname = 'own_group'
    ORDER BY p.polrelid
  LOOP
    EXECUTE format(
      'ALTER POLICY own_group ON %s'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

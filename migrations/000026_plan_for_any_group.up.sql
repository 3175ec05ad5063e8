-- A connection keeps the plan it made for its first group. While the policy
-- named the group by an expression, the planner looked up how many rows that
-- group has: for a small one every index that begins with the group costs as
-- little as the right one, and the connection then read a large group whole for
-- each id. A sub-select is worked out once for a statement, but not while it is
-- planned: the planner takes the group for one of middling size.
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
      ' USING (group_id = (SELECT NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid))'
      ' WITH CHECK (group_id = (SELECT NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid))', tenant);
  END LOOP;
END
$$;

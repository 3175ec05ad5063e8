-- The map. Comparing a point with a box is not leak-proof, so that row
-- security would read every row of the group; this function names the group
-- itself, and refuses another than the transaction's.
CREATE INDEX position_in_box_idx ON position USING gist (point(lon, lat));

-- A box whose west lies east of its east runs over the 180th meridian.
CREATE FUNCTION position_in_box(of_group uuid, west float8, south float8, east float8, north float8)
RETURNS SETOF uuid
LANGUAGE plpgsql STABLE STRICT PARALLEL RESTRICTED SECURITY DEFINER ROWS 200
SET search_path = pg_catalog, pg_temp
SET enable_seqscan = off
AS $$
BEGIN
  IF of_group IS DISTINCT FROM NULLIF(current_setting('rockledger.group_id', true), '')::uuid THEN
    RAISE insufficient_privilege USING MESSAGE = 'position_in_box: another group than the transaction''s';
  END IF;
  RETURN QUERY
  SELECT p.id
  FROM public.position AS p
  WHERE p.group_id = of_group
    AND point(p.lon, p.lat) <@ box(point(west, south), point(CASE WHEN west <= east THEN east ELSE 180 END, north));
  IF west > east THEN
    RETURN QUERY
    SELECT p.id
    FROM public.position AS p
    WHERE p.group_id = of_group
      AND point(p.lon, p.lat) <@ box(point(-180, south), point(east, north));
  END IF;
END
$$;
COMMENT ON FUNCTION position_in_box IS 'Positions of the transaction''s group in a box, degrees, WGS 84, edges included.';

REVOKE ALL ON FUNCTION position_in_box FROM PUBLIC;
GRANT EXECUTE ON FUNCTION position_in_box TO rockledger_app;

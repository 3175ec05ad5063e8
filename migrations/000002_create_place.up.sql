-- Places, whose land they are on, and the people named by records.

CREATE TABLE person (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  name text NOT NULL CONSTRAINT person_name_given CHECK (btrim(name) <> ''),
  PRIMARY KEY (group_id, id),
  CONSTRAINT person_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE person IS 'Who set, inspected, checked or supervised: the only place of names.';

CREATE TABLE landowner (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  name text NOT NULL CONSTRAINT landowner_name_given CHECK (btrim(name) <> ''),
  contact text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT landowner_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON COLUMN landowner.contact IS 'For owners of the group only. Empty: none on record.';

CREATE TABLE parcel (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  landowner_id uuid NOT NULL,
  name text NOT NULL,
  outline text,
  PRIMARY KEY (group_id, id),
  CONSTRAINT parcel_landowner_id_fk FOREIGN KEY (group_id, landowner_id) REFERENCES landowner ON DELETE RESTRICT
);
CREATE INDEX parcel_of_landowner_idx ON parcel (group_id, landowner_id);
COMMENT ON COLUMN parcel.outline IS 'GeoJSON geometry, WGS 84. NULL: not drawn.';

CREATE TABLE site (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  name text NOT NULL CONSTRAINT site_name_given CHECK (btrim(name) <> '' AND octet_length(name) <= 200),
  kind text NOT NULL CONSTRAINT site_kind_listed CHECK (kind IN ('crag', 'sea-cliff', 'quarry', 'cave')),
  rock text CONSTRAINT site_rock_listed CHECK (rock IN ('hard', 'other', 'soft')),
  rock_words text NOT NULL,
  lat float8 CONSTRAINT site_lat_range CHECK (lat BETWEEN -90 AND 90),
  lon float8 CONSTRAINT site_lon_range CHECK (lon BETWEEN -180 AND 180),
  coordinate_words text NOT NULL,
  first_round_ends date,
  notes text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT site_lon_pair CHECK ((lat IS NULL) = (lon IS NULL)),
  CONSTRAINT site_lat_misfit CHECK (kind <> 'cave' OR lat IS NULL),
  CONSTRAINT site_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON COLUMN site.rock IS 'How hard the rock is. NULL: not known.';
COMMENT ON COLUMN site.lat IS 'Latitude, degrees, WGS 84. NULL: not known, or a cave.';
COMMENT ON COLUMN site.lon IS 'Longitude, degrees, WGS 84. NULL: not known, or a cave.';
COMMENT ON COLUMN site.coordinate_words IS 'A cave''s coordinates as written: for stewards, never a place on a map.';
COMMENT ON COLUMN site.first_round_ends IS 'Planned end of the first round of inspections after an import. NULL: none planned.';

CREATE TABLE sector (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  site_id uuid NOT NULL,
  name text NOT NULL CONSTRAINT sector_name_given CHECK (btrim(name) <> '' AND octet_length(name) <= 200),
  PRIMARY KEY (group_id, id),
  CONSTRAINT sector_by_site_key UNIQUE (group_id, site_id, id),
  CONSTRAINT sector_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT
);

CREATE TABLE route (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  site_id uuid NOT NULL,
  sector_id uuid,
  name text NOT NULL CONSTRAINT route_name_given CHECK (btrim(name) <> '' AND octet_length(name) <= 200),
  kind text CONSTRAINT route_kind_listed CHECK (kind IN ('climb', 'pitch', 'traverse', 'abseil')),
  traffic text CONSTRAINT route_traffic_listed CHECK (traffic IN ('seldom', 'ordinary', 'most-weekends')),
  PRIMARY KEY (group_id, id),
  CONSTRAINT route_by_site_key UNIQUE (group_id, site_id, id),
  CONSTRAINT route_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT,
  CONSTRAINT route_sector_id_fk FOREIGN KEY (group_id, site_id, sector_id)
    REFERENCES sector (group_id, site_id, id) ON DELETE SET NULL (sector_id)
);
COMMENT ON COLUMN route.sector_id IS 'NULL: in no sector on record.';
COMMENT ON COLUMN route.kind IS 'NULL: not known.';
COMMENT ON COLUMN route.traffic IS 'NULL: not known.';

CREATE TABLE position (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  site_id uuid NOT NULL,
  sector_id uuid,
  label text NOT NULL CONSTRAINT position_label_given CHECK (btrim(label) <> '' AND octet_length(label) <= 200),
  role text CONSTRAINT position_role_listed CHECK (role IN (
    'main-hang', 'backup', 'belay', 'lower-off', 'rebelay', 'deviation', 'traverse', 'y-hang-leg', 'runner', 'handline', 'aid')),
  face text CONSTRAINT position_face_listed CHECK (face IN ('slab', 'wall', 'overhang', 'roof', 'floor')),
  backed_up boolean,
  lat float8 CONSTRAINT position_lat_range CHECK (lat BETWEEN -90 AND 90),
  lon float8 CONSTRAINT position_lon_range CHECK (lon BETWEEN -180 AND 180),
  how_to text NOT NULL,
  parcel_id uuid,
  notes text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT position_by_site_key UNIQUE (group_id, site_id, id),
  CONSTRAINT position_lon_pair CHECK ((lat IS NULL) = (lon IS NULL)),
  CONSTRAINT position_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT,
  CONSTRAINT position_sector_id_fk FOREIGN KEY (group_id, site_id, sector_id)
    REFERENCES sector (group_id, site_id, id) ON DELETE SET NULL (sector_id),
  CONSTRAINT position_parcel_id_fk FOREIGN KEY (group_id, parcel_id) REFERENCES parcel ON DELETE SET NULL (parcel_id)
);
COMMENT ON COLUMN position.sector_id IS 'NULL: in no sector on record.';
COMMENT ON COLUMN position.role IS 'What an anchor here is for. NULL: not known.';
COMMENT ON COLUMN position.face IS 'The lie of the rock. NULL: not known.';
COMMENT ON COLUMN position.backed_up IS 'Whether another anchor would hold if this one failed. NULL: not known.';
COMMENT ON COLUMN position.lat IS 'Latitude, degrees, WGS 84. NULL: not known, or in a cave.';
COMMENT ON COLUMN position.lon IS 'Longitude, degrees, WGS 84. NULL: not known, or in a cave.';
COMMENT ON COLUMN position.how_to IS 'How to find it.';
COMMENT ON COLUMN position.parcel_id IS 'NULL: whose land it is on is not known.';

CREATE TABLE route_position (
  group_id uuid NOT NULL,
  route_id uuid NOT NULL,
  position_id uuid NOT NULL,
  rank int NOT NULL,
  PRIMARY KEY (group_id, route_id, position_id),
  CONSTRAINT route_position_route_id_fk FOREIGN KEY (group_id, route_id) REFERENCES route ON DELETE CASCADE,
  CONSTRAINT route_position_position_id_fk FOREIGN KEY (group_id, position_id) REFERENCES position ON DELETE CASCADE
);
CREATE INDEX route_position_by_position_idx ON route_position (group_id, position_id);
COMMENT ON COLUMN route_position.rank IS 'Order on the route, from the foot or the entrance.';

CREATE TABLE assembly (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  site_id uuid NOT NULL,
  name text NOT NULL CONSTRAINT assembly_name_given CHECK (btrim(name) <> '' AND octet_length(name) <= 200),
  kind text CONSTRAINT assembly_kind_listed CHECK (kind IN ('equalised', 'in-series', 'independent')),
  PRIMARY KEY (group_id, id),
  CONSTRAINT assembly_by_site_key UNIQUE (group_id, site_id, id),
  CONSTRAINT assembly_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT
);
COMMENT ON COLUMN assembly.kind IS 'How its anchors share the load. NULL: not known.';

CREATE TABLE assembly_position (
  group_id uuid NOT NULL,
  assembly_id uuid NOT NULL,
  position_id uuid NOT NULL,
  PRIMARY KEY (group_id, assembly_id, position_id),
  CONSTRAINT assembly_position_assembly_id_fk FOREIGN KEY (group_id, assembly_id) REFERENCES assembly ON DELETE CASCADE,
  CONSTRAINT assembly_position_position_id_fk FOREIGN KEY (group_id, position_id) REFERENCES position ON DELETE CASCADE
);
CREATE INDEX assembly_position_by_position_idx ON assembly_position (group_id, position_id);

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['person', 'landowner', 'parcel', 'site', 'sector', 'route', 'position', 'route_position', 'assembly', 'assembly_position'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

GRANT SELECT, INSERT, UPDATE ON person, landowner, parcel, site, sector, route, position, assembly TO rockledger_app;
GRANT SELECT, INSERT, DELETE ON route_position, assembly_position TO rockledger_app;

-- The climate of places, what befell them, notices, agreements, restrictions and product sheets.

CREATE TABLE environment (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  site_id uuid NOT NULL,
  place_kind text NOT NULL CONSTRAINT environment_place_kind_listed CHECK (place_kind IN ('site', 'sector', 'route', 'position')),
  place_id uuid NOT NULL,
  from_on date NOT NULL,
  until_on date,
  preset text NOT NULL,
  source text NOT NULL,
  temperature_c float8 CONSTRAINT environment_temperature_c_range CHECK (temperature_c BETWEEN -60 AND 60),
  humidity_pct float8 CONSTRAINT environment_humidity_pct_range CHECK (humidity_pct BETWEEN 0 AND 100),
  sulphur_dioxide_mg_per_m2_day float8
    CONSTRAINT environment_sulphur_dioxide_mg_per_m2_day_range CHECK (sulphur_dioxide_mg_per_m2_day BETWEEN 0 AND 10000),
  chloride_mg_per_m2_day float8
    CONSTRAINT environment_chloride_mg_per_m2_day_range CHECK (chloride_mg_per_m2_day BETWEEN 0 AND 10000),
  steel_category text CONSTRAINT environment_steel_category_listed CHECK (steel_category IN ('C1', 'C2', 'C3', 'C4', 'C5', 'CX')),
  zinc_category text CONSTRAINT environment_zinc_category_listed CHECK (zinc_category IN ('C1', 'C2', 'C3', 'C4', 'C5', 'CX')),
  copper_category text CONSTRAINT environment_copper_category_listed CHECK (copper_category IN ('C1', 'C2', 'C3', 'C4', 'C5', 'CX')),
  aluminium_category text
    CONSTRAINT environment_aluminium_category_listed CHECK (aluminium_category IN ('C1', 'C2', 'C3', 'C4', 'C5', 'CX')),
  sea_km float8 CONSTRAINT environment_sea_km_range CHECK (sea_km BETWEEN 0 AND 10000),
  road_km float8 CONSTRAINT environment_road_km_range CHECK (road_km BETWEEN 0 AND 10000),
  coast text CONSTRAINT environment_coast_listed CHECK (coast IN ('baltic-or-german-north-sea', 'other')),
  mineral_salts boolean,
  wetness text CONSTRAINT environment_wetness_listed CHECK (wetness IN ('dry', 'dripping', 'stream')),
  washed boolean,
  surface_max_c float8 CONSTRAINT environment_surface_max_c_range CHECK (surface_max_c BETWEEN -60 AND 100),
  -- The place once more, for the foreign keys.
  sector_id uuid GENERATED ALWAYS AS (CASE place_kind WHEN 'sector' THEN place_id END) STORED,
  route_id uuid GENERATED ALWAYS AS (CASE place_kind WHEN 'route' THEN place_id END) STORED,
  position_id uuid GENERATED ALWAYS AS (CASE place_kind WHEN 'position' THEN place_id END) STORED,
  PRIMARY KEY (group_id, id),
  CONSTRAINT environment_until_on_order CHECK (until_on >= from_on),
  CONSTRAINT environment_place_id_misfit CHECK (place_kind <> 'site' OR place_id = site_id),
  CONSTRAINT environment_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT,
  CONSTRAINT environment_sector_id_fk FOREIGN KEY (group_id, site_id, sector_id)
    REFERENCES sector (group_id, site_id, id) ON DELETE RESTRICT,
  CONSTRAINT environment_route_id_fk FOREIGN KEY (group_id, site_id, route_id)
    REFERENCES route (group_id, site_id, id) ON DELETE RESTRICT,
  CONSTRAINT environment_position_id_fk FOREIGN KEY (group_id, site_id, position_id)
    REFERENCES position (group_id, site_id, id) ON DELETE RESTRICT
);
CREATE INDEX environment_by_site_idx ON environment (group_id, site_id, id);
CREATE INDEX environment_of_place_idx ON environment (group_id, place_id);
COMMENT ON TABLE environment IS 'What one statement says of the climate at one place; the nearest place that states a field wins for it.';
COMMENT ON COLUMN environment.site_id IS 'The site the place lies at, or the place itself.';
COMMENT ON COLUMN environment.until_on IS 'Last day. NULL: open.';
COMMENT ON COLUMN environment.preset IS 'The preset its values came from. Empty: none.';
COMMENT ON COLUMN environment.temperature_c IS 'Annual mean of the air, degrees Celsius. NULL: not stated.';
COMMENT ON COLUMN environment.humidity_pct IS 'Annual mean relative humidity, per cent. NULL: not stated.';
COMMENT ON COLUMN environment.sulphur_dioxide_mg_per_m2_day IS 'Annual mean deposition, mg/(m2 d). NULL: not stated.';
COMMENT ON COLUMN environment.chloride_mg_per_m2_day IS 'Annual mean deposition, mg/(m2 d). NULL: not stated.';
COMMENT ON COLUMN environment.steel_category IS 'Corrosivity category of ISO 9223 for carbon steel. NULL: not stated.';
COMMENT ON COLUMN environment.zinc_category IS 'Corrosivity category of ISO 9223 for zinc. NULL: not stated.';
COMMENT ON COLUMN environment.copper_category IS 'Corrosivity category of ISO 9223 for copper. NULL: not stated.';
COMMENT ON COLUMN environment.aluminium_category IS 'Corrosivity category of ISO 9223 for aluminium. NULL: not stated.';
COMMENT ON COLUMN environment.sea_km IS 'Distance to the sea, kilometres. NULL: not stated.';
COMMENT ON COLUMN environment.road_km IS 'Distance to a road with de-icing salt, kilometres. NULL: not stated.';
COMMENT ON COLUMN environment.coast IS 'Kind of coast by EN 1993-1-4 Annex A. NULL: not stated.';
COMMENT ON COLUMN environment.mineral_salts IS 'Mineral spring, evaporite or the like. NULL: not stated.';
COMMENT ON COLUMN environment.wetness IS 'Of a cave''s rock. NULL: not stated.';
COMMENT ON COLUMN environment.washed IS 'Rain washes the rock. NULL: not stated.';
COMMENT ON COLUMN environment.surface_max_c IS 'Highest surface temperature of a year, degrees Celsius. NULL: not stated.';
COMMENT ON COLUMN environment.sector_id IS 'NULL: the place is no sector.';
COMMENT ON COLUMN environment.route_id IS 'NULL: the place is no route.';
COMMENT ON COLUMN environment.position_id IS 'NULL: the place is no position.';

CREATE TABLE event (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  site_id uuid NOT NULL,
  kind text NOT NULL CONSTRAINT event_kind_listed CHECK (kind IN ('rockfall', 'flood', 'fire', 'hard-frost', 'earthquake')),
  happened_on date NOT NULL,
  inspect_by date,
  closed boolean NOT NULL,
  words text NOT NULL,
  ended_on date,
  PRIMARY KEY (group_id, id),
  CONSTRAINT event_inspect_by_order CHECK (inspect_by >= happened_on),
  CONSTRAINT event_ended_on_order CHECK (ended_on >= happened_on),
  CONSTRAINT event_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT
);
CREATE INDEX event_by_site_idx ON event (group_id, site_id, id);
COMMENT ON TABLE event IS 'What befell a whole site, after which every anchor there must be inspected.';
COMMENT ON COLUMN event.inspect_by IS 'NULL: by the house rules.';
COMMENT ON COLUMN event.closed IS 'The site was closed until it is inspected.';
COMMENT ON COLUMN event.ended_on IS 'Taken back on this day. NULL: it stands.';

CREATE TABLE notice (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  title text NOT NULL CONSTRAINT notice_title_given CHECK (btrim(title) <> '' AND octet_length(title) <= 200),
  words text NOT NULL,
  issued_on date NOT NULL,
  inspect_by date NOT NULL,
  ended_on date,
  PRIMARY KEY (group_id, id),
  CONSTRAINT notice_inspect_by_order CHECK (inspect_by >= issued_on),
  CONSTRAINT notice_ended_on_order CHECK (ended_on >= issued_on),
  CONSTRAINT notice_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT
);
COMMENT ON TABLE notice IS 'A recall or warning about named anchors.';
COMMENT ON COLUMN notice.ended_on IS 'Withdrawn on this day. NULL: it stands.';

CREATE TABLE notice_anchor (
  group_id uuid NOT NULL,
  notice_id uuid NOT NULL,
  anchor_id uuid NOT NULL,
  PRIMARY KEY (group_id, notice_id, anchor_id),
  CONSTRAINT notice_anchor_notice_id_fk FOREIGN KEY (group_id, notice_id) REFERENCES notice ON DELETE CASCADE,
  CONSTRAINT notice_anchor_anchor_id_fk FOREIGN KEY (group_id, anchor_id) REFERENCES anchor ON DELETE CASCADE
);
CREATE INDEX notice_anchor_by_anchor_idx ON notice_anchor (group_id, anchor_id);

CREATE TABLE agreement (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  landowner_id uuid,
  kind text NOT NULL CONSTRAINT agreement_kind_listed CHECK (kind IN ('permission', 'consent')),
  issuer text NOT NULL CONSTRAINT agreement_issuer_given CHECK (btrim(issuer) <> '' AND octet_length(issuer) <= 200),
  conditions text NOT NULL,
  from_on date NOT NULL,
  until_on date,
  PRIMARY KEY (group_id, id),
  CONSTRAINT agreement_landowner_id_pair CHECK (kind <> 'permission' OR landowner_id IS NOT NULL),
  CONSTRAINT agreement_until_on_order CHECK (until_on >= from_on),
  CONSTRAINT agreement_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT,
  CONSTRAINT agreement_landowner_id_fk FOREIGN KEY (group_id, landowner_id) REFERENCES landowner ON DELETE RESTRICT
);
CREATE INDEX agreement_of_landowner_idx ON agreement (group_id, landowner_id) WHERE landowner_id IS NOT NULL;
COMMENT ON TABLE agreement IS 'A landowner''s permission or an authority''s consent.';
COMMENT ON COLUMN agreement.landowner_id IS 'Whose land it is about. NULL: a consent about no landowner''s land in particular.';
COMMENT ON COLUMN agreement.until_on IS 'Last day. NULL: open.';

CREATE TABLE restriction (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  version int NOT NULL,
  place_kind text CONSTRAINT restriction_place_kind_listed CHECK (place_kind IN ('site', 'sector', 'route', 'position')),
  place_id uuid,
  parcel_id uuid,
  kind text NOT NULL CONSTRAINT restriction_kind_listed CHECK (kind IN ('entry', 'climbing', 'drilling', 'noise')),
  why text NOT NULL CONSTRAINT restriction_why_given CHECK (btrim(why) <> '' AND octet_length(why) <= 200),
  weight text NOT NULL CONSTRAINT restriction_weight_listed CHECK (weight IN ('law', 'agreement', 'request')),
  yearly_from_month int CONSTRAINT restriction_yearly_from_month_range CHECK (yearly_from_month BETWEEN 1 AND 12),
  yearly_from_day int CONSTRAINT restriction_yearly_from_day_range CHECK (yearly_from_day BETWEEN 1 AND 31),
  yearly_to_month int CONSTRAINT restriction_yearly_to_month_range CHECK (yearly_to_month BETWEEN 1 AND 12),
  yearly_to_day int CONSTRAINT restriction_yearly_to_day_range CHECK (yearly_to_day BETWEEN 1 AND 31),
  from_on date,
  until_on date,
  confirmed_on date,
  site_id uuid GENERATED ALWAYS AS (CASE place_kind WHEN 'site' THEN place_id END) STORED,
  sector_id uuid GENERATED ALWAYS AS (CASE place_kind WHEN 'sector' THEN place_id END) STORED,
  route_id uuid GENERATED ALWAYS AS (CASE place_kind WHEN 'route' THEN place_id END) STORED,
  position_id uuid GENERATED ALWAYS AS (CASE place_kind WHEN 'position' THEN place_id END) STORED,
  PRIMARY KEY (group_id, id),
  CONSTRAINT restriction_place_id_pair CHECK ((place_kind IS NULL) = (place_id IS NULL) AND (place_id IS NULL) <> (parcel_id IS NULL)),
  CONSTRAINT restriction_yearly_to_day_pair CHECK (num_nulls(yearly_from_month, yearly_from_day, yearly_to_month, yearly_to_day) IN (0, 4)),
  CONSTRAINT restriction_from_on_given CHECK (from_on IS NOT NULL OR yearly_from_day IS NOT NULL),
  CONSTRAINT restriction_until_on_order CHECK (until_on >= from_on),
  CONSTRAINT restriction_group_id_fk FOREIGN KEY (group_id) REFERENCES anchor_group ON DELETE RESTRICT,
  CONSTRAINT restriction_site_id_fk FOREIGN KEY (group_id, site_id) REFERENCES site ON DELETE RESTRICT,
  CONSTRAINT restriction_sector_id_fk FOREIGN KEY (group_id, sector_id) REFERENCES sector ON DELETE RESTRICT,
  CONSTRAINT restriction_route_id_fk FOREIGN KEY (group_id, route_id) REFERENCES route ON DELETE RESTRICT,
  CONSTRAINT restriction_position_id_fk FOREIGN KEY (group_id, position_id) REFERENCES position ON DELETE RESTRICT,
  CONSTRAINT restriction_parcel_id_fk FOREIGN KEY (group_id, parcel_id) REFERENCES parcel ON DELETE RESTRICT
);
CREATE INDEX restriction_of_place_idx ON restriction (group_id, place_id) WHERE place_id IS NOT NULL;
CREATE INDEX restriction_of_parcel_idx ON restriction (group_id, parcel_id) WHERE parcel_id IS NOT NULL;
COMMENT ON TABLE restriction IS 'A time when something is barred at a place or on a parcel.';
COMMENT ON COLUMN restriction.place_kind IS 'NULL: it is about a parcel.';
COMMENT ON COLUMN restriction.place_id IS 'NULL: it is about a parcel.';
COMMENT ON COLUMN restriction.parcel_id IS 'NULL: it is about a place.';
COMMENT ON COLUMN restriction.yearly_from_month IS 'First day of every year''s window; it may run over new year. NULL: not yearly.';
COMMENT ON COLUMN restriction.yearly_from_day IS 'First day of every year''s window. NULL: not yearly.';
COMMENT ON COLUMN restriction.yearly_to_month IS 'Last day of every year''s window. NULL: not yearly.';
COMMENT ON COLUMN restriction.yearly_to_day IS 'Last day of every year''s window. NULL: not yearly.';
COMMENT ON COLUMN restriction.from_on IS 'First day; of a yearly one, from when it holds. NULL: since ever.';
COMMENT ON COLUMN restriction.until_on IS 'Last day; of a yearly one, until when it holds. NULL: open.';
COMMENT ON COLUMN restriction.confirmed_on IS 'When its status was last confirmed. NULL: never.';
COMMENT ON COLUMN restriction.site_id IS 'The place once more, for the foreign key. NULL: it is no site.';
COMMENT ON COLUMN restriction.sector_id IS 'The place once more, for the foreign key. NULL: it is no sector.';
COMMENT ON COLUMN restriction.route_id IS 'The place once more, for the foreign key. NULL: it is no route.';
COMMENT ON COLUMN restriction.position_id IS 'The place once more, for the foreign key. NULL: it is no position.';

CREATE TABLE product_version (
  group_id uuid NOT NULL,
  id uuid NOT NULL,
  product_id uuid NOT NULL,
  from_on date NOT NULL,
  source text NOT NULL CONSTRAINT product_version_source_given CHECK (btrim(source) <> '' AND octet_length(source) <= 200),
  hole_diameter_mm float8 CONSTRAINT product_version_hole_diameter_mm_range CHECK (hole_diameter_mm > 0 AND hole_diameter_mm <= 100),
  shank_diameter_mm float8
    CONSTRAINT product_version_shank_diameter_mm_range CHECK (shank_diameter_mm > 0 AND shank_diameter_mm <= 100),
  overall_length_mm float8
    CONSTRAINT product_version_overall_length_mm_range CHECK (overall_length_mm > 0 AND overall_length_mm <= 1000),
  embedded_length_mm float8
    CONSTRAINT product_version_embedded_length_mm_range CHECK (embedded_length_mm > 0 AND embedded_length_mm <= 1000),
  rated_axial_kn float8 CONSTRAINT product_version_rated_axial_kn_positive CHECK (rated_axial_kn > 0),
  rated_radial_kn float8 CONSTRAINT product_version_rated_radial_kn_positive CHECK (rated_radial_kn > 0),
  drawing text NOT NULL,
  words text NOT NULL,
  PRIMARY KEY (group_id, id),
  CONSTRAINT product_version_product_id_fk FOREIGN KEY (group_id, product_id) REFERENCES product ON DELETE RESTRICT
);
CREATE INDEX product_version_of_product_idx ON product_version (group_id, product_id, from_on, id);
COMMENT ON TABLE product_version IS 'A product''s sheet from one day on, never changed: an old installation is judged by the sheet of its day.';
COMMENT ON COLUMN product_version.source IS 'Which sheet: issue or date as printed.';
COMMENT ON COLUMN product_version.hole_diameter_mm IS 'The maker''s hole, millimetres. NULL: not given.';
COMMENT ON COLUMN product_version.shank_diameter_mm IS 'Millimetres. NULL: not given.';
COMMENT ON COLUMN product_version.overall_length_mm IS 'Millimetres. NULL: not given.';
COMMENT ON COLUMN product_version.embedded_length_mm IS 'Millimetres. NULL: not given.';
COMMENT ON COLUMN product_version.rated_axial_kn IS 'Kilonewtons, as the sheet says. NULL: not given.';
COMMENT ON COLUMN product_version.rated_radial_kn IS 'Kilonewtons, as the sheet says. NULL: not given.';
COMMENT ON COLUMN product_version.drawing IS 'Orientation as the drawing shows it, in words.';

DO $$
DECLARE
  tenant text;
BEGIN
  FOREACH tenant IN ARRAY ARRAY['environment', 'event', 'notice', 'notice_anchor', 'agreement', 'restriction', 'product_version'] LOOP
    EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY', tenant);
    EXECUTE format(
      'CREATE POLICY own_group ON %I'
      ' USING (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)'
      ' WITH CHECK (group_id = NULLIF(current_setting(''rockledger.group_id'', true), '''')::uuid)', tenant);
  END LOOP;
END
$$;

GRANT SELECT, INSERT, UPDATE ON environment, event, notice, agreement, restriction TO rockledger_app;
GRANT SELECT, INSERT, DELETE ON notice_anchor TO rockledger_app;
-- Sheets are never changed.
GRANT SELECT, INSERT ON product_version TO rockledger_app;

package postgres

// The planner knows nothing of a table until it is analysed, and right after a
// large intake it is not: it then takes a group for one two-hundredth of each
// table and reads all of it where it should look up a few rows. So rows are
// looked up by keys from a source, each by itself: a LATERAL subquery that
// OFFSET 0 keeps from being turned into any other join. The plan is the same
// with statistics, without, and as a generic plan.

// of completes the table's SELECT to the rows whose column is one of the ids
// that a source gives. The table's alias is t, the source's k.
func (t table[R]) of(column, source string) string {
	return "\nSELECT " + selectList[R]("t") + "\nFROM " + source + " AS k" + t.by(column, "k.id")
}

// by looks up, for each row before it, the table's rows whose column has a
// value; the alias is t.
func (t table[R]) by(column, value string) string {
	return "\nCROSS JOIN LATERAL (" + t.selectSQL + "\n  WHERE t." + column + " = " + value + "\n  OFFSET 0) AS t"
}

// Sources of ids, each a subquery with the one column id, without doubles but
// for those in @ids.
const (
	theseIDs = `(SELECT unnest(@ids::uuid[]) AS id)`

	// Of the anchors @ids.
	theirPositions = `(
  SELECT DISTINCT a.position_id AS id
  FROM unnest(@ids::uuid[]) AS i (id)` + anchorOfID + `)`
	theirSites = `(
  SELECT DISTINCT a.site_id AS id
  FROM unnest(@ids::uuid[]) AS i (id)` + anchorOfID + `)`
	theirPlaces = `(
  SELECT place.id
  FROM unnest(@ids::uuid[]) AS i (id)` + anchorOfID + placesOfIt + `
  WHERE place.id IS NOT NULL
  GROUP BY place.id)`

	// Of the position @id.
	placesOfPosition = `(
  SELECT place.id
  FROM (SELECT p.id AS position_id FROM position AS p WHERE p.id = @id OFFSET 0) AS a` + placesOfIt + `
  WHERE place.id IS NOT NULL
  GROUP BY place.id)`
	parcelOfPosition = `(SELECT p.parcel_id AS id FROM position AS p WHERE p.id = @id AND p.parcel_id IS NOT NULL OFFSET 0)`
)

// anchorOfID looks up an anchor's places by i.id.
const anchorOfID = `
  CROSS JOIN LATERAL (SELECT a.position_id, a.site_id FROM anchor AS a WHERE a.id = i.id OFFSET 0) AS a`

// placesOfIt gives the position a.position_id, its sector, its site and its
// routes.
const placesOfIt = `
  CROSS JOIN LATERAL (
    SELECT unnest(ARRAY[p.id, p.sector_id, p.site_id]) AS id
    FROM position AS p
    WHERE p.id = a.position_id
    UNION ALL
    SELECT rp.route_id
    FROM route_position AS rp
    WHERE rp.position_id = a.position_id
    OFFSET 0) AS place`

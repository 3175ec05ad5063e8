package postgres

import (
	"context"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"
)

type reachRow struct {
	PositionID    uuid.UUID `json:"position_id"`
	RestrictionID uuid.UUID `json:"restriction_id"`
}

// selectReach looks up, for each restriction, the positions that it is about;
// served by the primary keys and the indexes of positions by site, sector and
// parcel.
var selectReach = `
SELECT k.position_id, k.restriction_id
FROM (` + reachOf(`r.place_kind = 'position'`, `SELECT p.id FROM position AS p WHERE p.id = r.place_id`) + `
  UNION` + reachOf(`r.place_kind = 'route'`, `SELECT rp.position_id AS id FROM route_position AS rp WHERE rp.route_id = r.place_id`) + `
  UNION` + reachOf(`r.place_kind = 'sector'`, `SELECT p.id FROM position AS p WHERE p.sector_id = r.place_id`) + `
  UNION` + reachOf(`r.place_kind = 'site'`, `SELECT p.id FROM position AS p WHERE p.site_id = r.place_id`) + `
  UNION` + reachOf(`r.parcel_id IS NOT NULL`, `SELECT p.id FROM position AS p WHERE p.parcel_id = r.parcel_id`) + `
) AS k
ORDER BY k.position_id, k.restriction_id`

func reachOf(restrictions, positions string) string {
	return `
  SELECT p.id AS position_id, r.id AS restriction_id
  FROM (SELECT r.id, r.place_id, r.parcel_id FROM restriction AS r WHERE ` + restrictions + ` OFFSET 0) AS r
  CROSS JOIN LATERAL (` + positions + ` OFFSET 0) AS p`
}

// RestrictionReach says which restrictions, by id, each position lies under:
// its own and those of its routes, sector, site and parcel, whatever their
// dates. Positions under none are left out.
func (s *Store) RestrictionReach(ctx context.Context, group uuid.UUID) (map[uuid.UUID][]uuid.UUID, error) {
	rows, err := list(ctx, s, group, query{"list reach of restrictions", selectReach, pgx.StrictNamedArgs{}}, func(r reachRow) reachRow { return r })
	reach := make(map[uuid.UUID][]uuid.UUID)
	for _, r := range rows {
		reach[r.PositionID] = append(reach[r.PositionID], r.RestrictionID)
	}
	return reach, err
}

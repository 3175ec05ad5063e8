package postgres

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type assemblyRow struct {
	inventoryKey
	SiteID  uuid.UUID     `json:"site_id"`
	Name    string        `json:"name"`
	Kind    word          `json:"kind"`
	EndedOn calendar.Date `json:"ended_on"`
}

func newAssemblyRow(a registry.Assembly) assemblyRow {
	return assemblyRow{inventoryKey{a.ID, a.Version}, a.SiteID, a.Name, word(a.Kind), a.EndedOn}
}

var assemblies = newTable[assemblyRow]("assembly")

// memberRow places a position in an assembly.
type memberRow struct {
	AssemblyID uuid.UUID `json:"assembly_id"`
	PositionID uuid.UUID `json:"position_id"`
}

func (r memberRow) rowID() uuid.UUID { return r.PositionID }

var members = newTable[memberRow]("assembly_position")

// assemblyReadRow is an assembly with its positions.
type assemblyReadRow struct {
	assemblyRow
	PositionIDs []uuid.UUID `json:"position_ids"`
}

func (r assemblyReadRow) noun() registry.Assembly {
	return registry.Assembly{
		ID: r.ID, Version: r.Version, SiteID: r.SiteID, Name: r.Name, Kind: registry.AssemblyKind(r.Kind),
		PositionIDs: r.PositionIDs, EndedOn: r.EndedOn,
	}
}

// selectAssemblies reads assemblies up to the WHERE; the primary key of
// assembly_position serves the positions.
var selectAssemblies = "\nSELECT " + selectList[assemblyRow]("t") + `,
  ARRAY(SELECT ap.position_id FROM assembly_position AS ap WHERE ap.assembly_id = t.id ORDER BY ap.position_id) AS position_ids
FROM assembly AS t`

// Assemblies lists assemblies with their positions, of one site or of all, in
// the order of ids.
func (s *Store) Assemblies(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Assembly, error) {
	f := pageOf(page)
	f.andID(ofSite, "site_id", site)
	return list(ctx, s, group, f.query("list assemblies", selectAssemblies), assemblyReadRow.noun)
}

// Assembly returns one assembly with its positions, or fault.NotFound.
func (s *Store) Assembly(ctx context.Context, group, id uuid.UUID) (registry.Assembly, error) {
	return single(ctx, s, group, byID("read assembly", selectAssemblies, id), assemblyReadRow.noun)
}

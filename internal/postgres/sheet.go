package postgres

import (
	"context"
	"encoding/json"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

type productVersionRow struct {
	ID               uuid.UUID        `json:"id"`
	ProductID        uuid.UUID        `json:"product_id"`
	FromOn           calendar.Date    `json:"from_on"`
	Source           string           `json:"source"`
	HoleDiameterMM   *quantity.Length `json:"hole_diameter_mm"`
	ShankDiameterMM  *quantity.Length `json:"shank_diameter_mm"`
	OverallLengthMM  *quantity.Length `json:"overall_length_mm"`
	EmbeddedLengthMM *quantity.Length `json:"embedded_length_mm"`
	RatedAxialKN     *quantity.Force  `json:"rated_axial_kn"`
	RatedRadialKN    *quantity.Force  `json:"rated_radial_kn"`
	Drawing          string           `json:"drawing"`
	Words            string           `json:"words"`

	SteelAreaMM2   *float64         `json:"steel_area_mm2"`
	EdgeLeastMM    *quantity.Length `json:"edge_least_mm"`
	SpacingLeastMM *quantity.Length `json:"spacing_least_mm"`
	TorqueNM       *float64         `json:"torque_nm"`

	CureRows       cureRows              `json:"cure_rows"`
	WetFactor      *float64              `json:"wet_factor"`
	Moistures      []string              `json:"moistures"`
	RockLowC       *quantity.Temperature `json:"rock_low_c"`
	RockHighC      *quantity.Temperature `json:"rock_high_c"`
	CartridgeLowC  *quantity.Temperature `json:"cartridge_low_c"`
	CartridgeHighC *quantity.Temperature `json:"cartridge_high_c"`
	CleaningCycles *int                  `json:"cleaning_cycles"`
	ShelfMonths    *int                  `json:"shelf_months"`
	CartridgeML    *float64              `json:"cartridge_ml"`
}

// cureRows are stored as a JSON list, from cold to warm; none is [].
type cureRows []registry.CureRow

// MarshalJSON writes [] for no rows.
func (r cureRows) MarshalJSON() ([]byte, error) {
	if len(r) == 0 {
		return []byte("[]"), nil
	}
	return json.Marshal([]registry.CureRow(r)) //nolint:wrapcheck // for encoding/json itself
}

// rows is the way back: nil for none.
func (r cureRows) rows() []registry.CureRow {
	if len(r) == 0 {
		return nil
	}
	return r
}

func (r productVersionRow) rowID() uuid.UUID { return r.ID }

func newProductVersionRow(v registry.ProductVersion) productVersionRow {
	return productVersionRow{
		v.ID, v.ProductID, v.From, v.Source, v.Hole, v.Shank, v.Length, v.Embedded, v.AxialKN, v.RadialKN, v.Drawing, v.Words,
		v.SteelAreaMM2, v.EdgeLeast, v.SpacingLeast, v.TorqueNM,
		v.CureRows, v.WetFactor, texts(v.Moistures), v.RockLowC, v.RockHighC, v.CartridgeLowC, v.CartridgeHighC,
		v.CleaningCycles, v.ShelfMonths, v.CartridgeML,
	}
}

func (r productVersionRow) noun() registry.ProductVersion {
	return registry.ProductVersion{
		ID: r.ID, ProductID: r.ProductID, From: r.FromOn, Source: r.Source, Hole: r.HoleDiameterMM, Shank: r.ShankDiameterMM,
		Length: r.OverallLengthMM, Embedded: r.EmbeddedLengthMM, AxialKN: r.RatedAxialKN, RadialKN: r.RatedRadialKN,
		Drawing: r.Drawing, Words: r.Words,
		SteelAreaMM2: r.SteelAreaMM2, EdgeLeast: r.EdgeLeastMM, SpacingLeast: r.SpacingLeastMM, TorqueNM: r.TorqueNM,
		CureRows: r.CureRows.rows(), WetFactor: r.WetFactor, Moistures: fromTexts[registry.Moisture](r.Moistures),
		RockLowC: r.RockLowC, RockHighC: r.RockHighC, CartridgeLowC: r.CartridgeLowC, CartridgeHighC: r.CartridgeHighC,
		CleaningCycles: r.CleaningCycles, ShelfMonths: r.ShelfMonths, CartridgeML: r.CartridgeML,
	}
}

var productVersions = newTable[productVersionRow]("product_version")

// ProductVersions lists a product's sheets from the earliest on; none for a
// product that is not there. Served by product_version_of_product_idx.
func (s *Store) ProductVersions(ctx context.Context, group, product uuid.UUID) ([]registry.ProductVersion, error) {
	q := query{
		"list product versions", productVersions.selectSQL + "\nWHERE t.product_id = @id\nORDER BY t.from_on, t.id",
		pgx.StrictNamedArgs{"id": product},
	}
	return list(ctx, s, group, q, productVersionRow.noun)
}

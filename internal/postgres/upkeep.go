package postgres

import (
	"github.com/google/uuid"

	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

type maintenanceRow struct {
	recordRow
	Done         []string   `json:"done"`
	FittingID    *uuid.UUID `json:"fitting_id"`
	NewFittingID *uuid.UUID `json:"new_fitting_id"`
	TorqueNM     *float64   `json:"torque_nm"`
	TorqueTool   string     `json:"torque_tool"`
}

func newMaintenanceRow(m registry.Maintenance) maintenanceRow {
	return maintenanceRow{
		newRecordRow(m.Record), texts(m.Done), m.FittingID, m.NewFittingID, m.TorqueNM, m.TorqueTool,
	}
}

func (r maintenanceRow) noun() registry.Maintenance {
	return registry.Maintenance{
		Record: r.record(), Done: fromTexts[registry.Upkeep](r.Done), FittingID: r.FittingID,
		NewFittingID: r.NewFittingID, TorqueNM: r.TorqueNM, TorqueTool: r.TorqueTool,
	}
}

var maintenance = newTable[maintenanceRow]("maintenance")

type removalRow struct {
	recordRow
	How          word             `json:"how"`
	StubMM       *quantity.Length `json:"stub_mm"`
	OldHole      word             `json:"old_hole"`
	Observations []string         `json:"observations"`
	MetalKept    *bool            `json:"metal_kept"`
	MetalWhere   string           `json:"metal_where"`
}

func newRemovalRow(r registry.Removal) removalRow {
	return removalRow{
		newRecordRow(r.Record), word(r.How), r.Stub, word(r.OldHole), texts(r.Observations), r.MetalKept, r.MetalWhere,
	}
}

func (r removalRow) noun() registry.Removal {
	return registry.Removal{
		Record: r.record(), How: registry.RemovalHow(r.How), Stub: r.StubMM, OldHole: registry.OldHole(r.OldHole),
		Observations: fromTexts[registry.Observation](r.Observations), MetalKept: r.MetalKept, MetalWhere: r.MetalWhere,
	}
}

var removals = newTable[removalRow]("removal")

type markingRow struct {
	recordRow
	How   []string   `json:"how"`
	Lifts *uuid.UUID `json:"lifts"`
}

func newMarkingRow(m registry.Marking) markingRow {
	return markingRow{newRecordRow(m.Record), texts(m.How), m.Lifts}
}

func (r markingRow) noun() registry.Marking {
	return registry.Marking{Record: r.record(), How: fromTexts[registry.MarkingHow](r.How), Lifts: r.Lifts}
}

var markings = newTable[markingRow]("marking")

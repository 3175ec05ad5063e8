package app

import (
	"slices"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// Operation names one thing a member can ask for. All but ViewToday, which only
// the pages offer, are operation ids of the API.
type Operation string

// The operations.
const (
	ListSites     Operation = "listSites"
	GetSite       Operation = "getSite"
	ListSectors   Operation = "listSectors"
	GetSector     Operation = "getSector"
	ListRoutes    Operation = "listRoutes"
	GetRoute      Operation = "getRoute"
	ListPositions Operation = "listPositions"
	GetPosition   Operation = "getPosition"
	ListProducts  Operation = "listProducts"
	GetProduct    Operation = "getProduct"
	ListBatches   Operation = "listBatches"
	GetBatch      Operation = "getBatch"
	ListAnchors   Operation = "listAnchors"
	GetAnchor     Operation = "getAnchor"
	GetAssessment Operation = "getAssessment"
	ReportOverdue Operation = "reportOverdue"
	ReportSuspect Operation = "reportSuspect"
	ViewToday     Operation = "viewToday"

	RecordInspection   Operation = "recordInspection"
	RecordInstallation Operation = "recordInstallation"
	RecordFirstUse     Operation = "recordFirstUse"

	ChangeAnchor Operation = "changeAnchor"
	ImportList   Operation = "importList"
)

// leastRole is who may do what: the least role for each operation. There is no
// other place that decides this.
var leastRole = map[Operation]registry.Role{
	ListSites:     registry.RoleReader,
	GetSite:       registry.RoleReader,
	ListSectors:   registry.RoleReader,
	GetSector:     registry.RoleReader,
	ListRoutes:    registry.RoleReader,
	GetRoute:      registry.RoleReader,
	ListPositions: registry.RoleReader,
	GetPosition:   registry.RoleReader,
	ListProducts:  registry.RoleReader,
	GetProduct:    registry.RoleReader,
	ListBatches:   registry.RoleReader,
	GetBatch:      registry.RoleReader,
	ListAnchors:   registry.RoleReader,
	GetAnchor:     registry.RoleReader,
	GetAssessment: registry.RoleReader,
	ReportOverdue: registry.RoleReader,
	ReportSuspect: registry.RoleReader,
	ViewToday:     registry.RoleReader,

	RecordInspection:   registry.RoleRecorder,
	RecordInstallation: registry.RoleRecorder,
	RecordFirstUse:     registry.RoleRecorder,

	ChangeAnchor: registry.RoleSteward,
	ImportList:   registry.RoleSteward,
}

// MayRole returns the least role that may do op, and false for an operation
// that is not in the table, which nobody may do.
func MayRole(op Operation) (registry.Role, bool) {
	r, ok := leastRole[op]
	return r, ok
}

// Operations lists every operation of the table, by name.
func Operations() []Operation {
	out := make([]Operation, 0, len(leastRole))
	for op := range leastRole {
		out = append(out, op)
	}
	slices.Sort(out)
	return out
}

// may returns fault.Forbidden unless who's role allows op.
func may(who registry.Actor, op Operation) error {
	least, ok := MayRole(op)
	if ok && who.Role.Rank() >= least.Rank() {
		return nil
	}
	return fault.New(fault.Forbidden, "%s: role %q is not enough", op, who.Role).
		With("operation", string(op), "role", string(who.Role), "least", string(least))
}

package app

import (
	"slices"
	"strings"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// leastRole is who may do what: the least role for each operation. There is no
// other place that decides this, but for landowners' contacts, which owners
// alone read and write.
var leastRole = map[Operation]registry.Role{
	ListSites:           registry.RoleReader,
	GetSite:             registry.RoleReader,
	AddSite:             registry.RoleSteward,
	ChangeSite:          registry.RoleSteward,
	ListSectors:         registry.RoleReader,
	GetSector:           registry.RoleReader,
	AddSector:           registry.RoleSteward,
	ChangeSector:        registry.RoleSteward,
	ListRoutes:          registry.RoleReader,
	GetRoute:            registry.RoleReader,
	AddRoute:            registry.RoleSteward,
	ChangeRoute:         registry.RoleSteward,
	ListPositions:       registry.RoleReader,
	GetPosition:         registry.RoleReader,
	AddPosition:         registry.RoleSteward,
	ChangePosition:      registry.RoleSteward,
	ListAssemblies:      registry.RoleReader,
	GetAssembly:         registry.RoleReader,
	AddAssembly:         registry.RoleSteward,
	ChangeAssembly:      registry.RoleSteward,
	ListPersons:         registry.RoleReader,
	GetPerson:           registry.RoleReader,
	AddPerson:           registry.RoleRecorder,
	ChangePerson:        registry.RoleSteward,
	ListLandowners:      registry.RoleReader,
	GetLandowner:        registry.RoleReader,
	AddLandowner:        registry.RoleSteward,
	ChangeLandowner:     registry.RoleSteward,
	ListParcels:         registry.RoleReader,
	GetParcel:           registry.RoleReader,
	AddParcel:           registry.RoleSteward,
	ChangeParcel:        registry.RoleSteward,
	ListAgreements:      registry.RoleReader,
	GetAgreement:        registry.RoleReader,
	AddAgreement:        registry.RoleSteward,
	ChangeAgreement:     registry.RoleSteward,
	ListRestrictions:    registry.RoleReader,
	GetRestriction:      registry.RoleReader,
	AddRestriction:      registry.RoleSteward,
	ChangeRestriction:   registry.RoleSteward,
	ListProducts:        registry.RoleReader,
	GetProduct:          registry.RoleReader,
	AddProduct:          registry.RoleSteward,
	ChangeProduct:       registry.RoleSteward,
	ListBatches:         registry.RoleReader,
	GetBatch:            registry.RoleReader,
	AddBatch:            registry.RoleSteward,
	ChangeBatch:         registry.RoleSteward,
	TraceBatch:          registry.RoleReader,
	ListEnvironments:    registry.RoleReader,
	GetEnvironment:      registry.RoleReader,
	AddEnvironment:      registry.RoleSteward,
	ChangeEnvironment:   registry.RoleSteward,
	ListEvents:          registry.RoleReader,
	GetEvent:            registry.RoleReader,
	AddEvent:            registry.RoleSteward,
	ChangeEvent:         registry.RoleSteward,
	ListNotices:         registry.RoleReader,
	GetNotice:           registry.RoleReader,
	AddNotice:           registry.RoleSteward,
	ChangeNotice:        registry.RoleSteward,
	PreviewNotice:       registry.RoleSteward,
	GetNoticeProgress:   registry.RoleReader,
	ListFittings:        registry.RoleReader,
	GetFitting:          registry.RoleReader,
	AddFitting:          registry.RoleSteward,
	ChangeFitting:       registry.RoleSteward,
	ListPictures:        registry.RoleReader,
	GetPicture:          registry.RoleReader,
	GetPictureFile:      registry.RoleReader,
	AddPicture:          registry.RoleRecorder,
	ChangePicture:       registry.RoleSteward,
	ListProductVersions: registry.RoleReader,
	AddProductVersion:   registry.RoleSteward,

	ListAnchors:        registry.RoleReader,
	GetAnchor:          registry.RoleReader,
	GetAssessment:      registry.RoleReader,
	ListHistory:        registry.RoleReader,
	GetEvidence:        registry.RoleSteward,
	AddAnchor:          registry.RoleSteward,
	ChangeAnchor:       registry.RoleSteward,
	RecordInspection:   registry.RoleRecorder,
	RecordInstallation: registry.RoleRecorder,
	RecordGluing:       registry.RoleRecorder,
	ListGluingSessions: registry.RoleReader,
	GetGluingSession:   registry.RoleReader,
	RecordCure:         registry.RoleRecorder,
	RecordFirstUse:     registry.RoleRecorder,
	RecordMaintenance:  registry.RoleRecorder,
	RecordMarking:      registry.RoleRecorder,
	RecordRemoval:      registry.RoleRecorder,
	RecordSettlement:   registry.RoleSteward,
	RecordRetraction:   registry.RoleSteward,
	ImportList:         registry.RoleSteward,
	ListProposals:      registry.RoleSteward,
	DecideProposals:    registry.RoleSteward,
	ListImports:        registry.RoleSteward,
	GetImport:          registry.RoleSteward,
	ExportAnchorList:   registry.RoleReader,
	UndoImport:         registry.RoleSteward,

	GetPositionEnvironment: registry.RoleReader,
	EstimateCorrosion:      registry.RoleReader,
	EstimateMortar:         registry.RoleReader,
	ReportOverdue:          registry.RoleReader,
	ReportSuspect:          registry.RoleReader,
	ReportWork:             registry.RoleReader,
	ReportLand:             registry.RoleReader,
	ViewToday:              registry.RoleReader,

	ListSeals:    registry.RoleSteward,
	VerifyLedger: registry.RoleSteward,

	ErasePerson:    registry.RoleOwner,
	EraseLandowner: registry.RoleOwner,
	ListLegalHolds: registry.RoleSteward,
	AddLegalHold:   registry.RoleSteward,
	LiftLegalHold:  registry.RoleOwner,

	GetHouseRules:     registry.RoleReader,
	SetHouseRules:     registry.RoleSteward,
	PreviewHouseRules: registry.RoleSteward,
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

// looks are the words that operations which change nothing begin with.
var looks = []string{"list", "get", "report", "view", "estimate", "trace", "preview", "export", "verify"}

// Looks says whether an operation changes nothing.
func (op Operation) Looks() bool {
	return slices.ContainsFunc(looks, func(word string) bool { return strings.HasPrefix(string(op), word) })
}

// may returns fault.Forbidden unless who's role allows op, and fault.Invalid for
// a change by somebody who only looks.
func may(who registry.Actor, op Operation) error {
	if err := mayLook(who, op); err != nil {
		return err
	}
	if who.ReadOnly && !op.Looks() {
		return fault.New(fault.Invalid, "%s: only looked at", op).With("not_sent", "yes")
	}
	return nil
}

// mayLook returns fault.Forbidden unless who's role allows op. Alone it is for
// what only looks at what op would change.
func mayLook(who registry.Actor, op Operation) error {
	least, ok := MayRole(op)
	if ok && who.Role.Rank() >= least.Rank() {
		return nil
	}
	return fault.New(fault.Forbidden, "%s: role %q is not enough", op, who.Role).
		With("operation", string(op), "role", string(who.Role), "least", string(least))
}

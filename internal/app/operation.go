package app

// Operation names one thing a member can ask for. All but ViewToday, which only
// the pages offer, are operation ids of the API.
type Operation string

// The inventory.
const (
	ListSites           Operation = "listSites"
	GetSite             Operation = "getSite"
	AddSite             Operation = "addSite"
	ChangeSite          Operation = "changeSite"
	ListSectors         Operation = "listSectors"
	GetSector           Operation = "getSector"
	AddSector           Operation = "addSector"
	ChangeSector        Operation = "changeSector"
	ListRoutes          Operation = "listRoutes"
	GetRoute            Operation = "getRoute"
	AddRoute            Operation = "addRoute"
	ChangeRoute         Operation = "changeRoute"
	ListPositions       Operation = "listPositions"
	GetPosition         Operation = "getPosition"
	AddPosition         Operation = "addPosition"
	ChangePosition      Operation = "changePosition"
	ListAssemblies      Operation = "listAssemblies"
	GetAssembly         Operation = "getAssembly"
	AddAssembly         Operation = "addAssembly"
	ChangeAssembly      Operation = "changeAssembly"
	ListPersons         Operation = "listPersons"
	GetPerson           Operation = "getPerson"
	AddPerson           Operation = "addPerson"
	ChangePerson        Operation = "changePerson"
	ListLandowners      Operation = "listLandowners"
	GetLandowner        Operation = "getLandowner"
	AddLandowner        Operation = "addLandowner"
	ChangeLandowner     Operation = "changeLandowner"
	ListParcels         Operation = "listParcels"
	GetParcel           Operation = "getParcel"
	AddParcel           Operation = "addParcel"
	ChangeParcel        Operation = "changeParcel"
	ListAgreements      Operation = "listAgreements"
	GetAgreement        Operation = "getAgreement"
	AddAgreement        Operation = "addAgreement"
	ChangeAgreement     Operation = "changeAgreement"
	ListRestrictions    Operation = "listRestrictions"
	GetRestriction      Operation = "getRestriction"
	AddRestriction      Operation = "addRestriction"
	ChangeRestriction   Operation = "changeRestriction"
	ListProducts        Operation = "listProducts"
	GetProduct          Operation = "getProduct"
	AddProduct          Operation = "addProduct"
	ChangeProduct       Operation = "changeProduct"
	ListBatches         Operation = "listBatches"
	GetBatch            Operation = "getBatch"
	AddBatch            Operation = "addBatch"
	ChangeBatch         Operation = "changeBatch"
	TraceBatch          Operation = "traceBatch"
	ListEnvironments    Operation = "listEnvironments"
	GetEnvironment      Operation = "getEnvironment"
	AddEnvironment      Operation = "addEnvironment"
	ChangeEnvironment   Operation = "changeEnvironment"
	ListEvents          Operation = "listEvents"
	GetEvent            Operation = "getEvent"
	AddEvent            Operation = "addEvent"
	ChangeEvent         Operation = "changeEvent"
	ListNotices         Operation = "listNotices"
	GetNotice           Operation = "getNotice"
	AddNotice           Operation = "addNotice"
	ChangeNotice        Operation = "changeNotice"
	PreviewNotice       Operation = "previewNotice"
	GetNoticeProgress   Operation = "getNoticeProgress"
	ListFittings        Operation = "listFittings"
	GetFitting          Operation = "getFitting"
	AddFitting          Operation = "addFitting"
	ChangeFitting       Operation = "changeFitting"
	ListPictures        Operation = "listPictures"
	GetPicture          Operation = "getPicture"
	GetPictureFile      Operation = "getPictureFile"
	AddPicture          Operation = "addPicture"
	ChangePicture       Operation = "changePicture"
	ListProductVersions Operation = "listProductVersions"
	AddProductVersion   Operation = "addProductVersion"
)

// Anchors and their records.
const (
	ListAnchors        Operation = "listAnchors"
	GetAnchor          Operation = "getAnchor"
	GetAssessment      Operation = "getAssessment"
	ListHistory        Operation = "listHistory"
	GetEvidence        Operation = "getEvidence"
	AddAnchor          Operation = "addAnchor"
	ChangeAnchor       Operation = "changeAnchor"
	RecordInspection   Operation = "recordInspection"
	RecordInstallation Operation = "recordInstallation"
	RecordGluing       Operation = "recordGluing"
	ListGluingSessions Operation = "listGluingSessions"
	GetGluingSession   Operation = "getGluingSession"
	RecordCure         Operation = "recordCure"
	RecordFirstUse     Operation = "recordFirstUse"
	RecordMaintenance  Operation = "recordMaintenance"
	RecordMarking      Operation = "recordMarking"
	RecordRemoval      Operation = "recordRemoval"
	RecordSettlement   Operation = "recordSettlement"
	RecordRetraction   Operation = "recordRetraction"
	ImportList         Operation = "importList"
	ListImports        Operation = "listImports"
	GetImport          Operation = "getImport"
	ExportAnchorList   Operation = "exportAnchorList"
	UndoImport         Operation = "undoImport"
	ListProposals      Operation = "listProposals"
	DecideProposals    Operation = "decideProposals"
)

// What is worked out.
const (
	GetPositionEnvironment Operation = "getPositionEnvironment"
	EstimateCorrosion      Operation = "estimateCorrosion"
	EstimateMortar         Operation = "estimateMortar"
	ReportOverdue          Operation = "reportOverdue"
	ReportSuspect          Operation = "reportSuspect"
	ReportWork             Operation = "reportWork"
	ReportLand             Operation = "reportLand"
	ViewToday              Operation = "viewToday"
)

// The ledger.
const (
	ListSeals    Operation = "listSeals"
	VerifyLedger Operation = "verifyLedger"
)

// What may be erased.
const (
	ErasePerson    Operation = "erasePerson"
	EraseLandowner Operation = "eraseLandowner"
	ListLegalHolds Operation = "listLegalHolds"
	AddLegalHold   Operation = "addLegalHold"
	LiftLegalHold  Operation = "liftLegalHold"
)

// House rules.
const (
	GetHouseRules     Operation = "getHouseRules"
	SetHouseRules     Operation = "setHouseRules"
	PreviewHouseRules Operation = "previewHouseRules"
)

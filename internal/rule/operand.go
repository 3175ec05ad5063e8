package rule

import (
	"slices"

	"rockledger/internal/registry"
)

// Operand is one named fact that rules can ask for.
type Operand int

// The operands: of the anchor and its place, and of the inspection, fitting,
// measured point, event, notice or setting a rule is about.
const (
	Metal Operand = iota // sets of grades first, see grades
	FittingMetal
	gradeSets

	MetalKind Operand = iota - 1 // then the other sets, see lists
	Concern
	Gaps
	setCount

	AsOf Operand = iota - 2
	Form
	Bonded
	SetOn
	HoleDiameter
	ShankDiameter
	OverallLength
	HoleDepth
	BatchRecorded
	InstallationRecorded
	FirstUseAllowed
	SiteKind
	Role
	Face
	Rock
	Traffic
	BackedUp
	EnvironmentKnown
	SeaKm
	RoadKm
	MineralSalts
	Chloride
	Washed
	SurfaceMax
	RequiredClass
	ClassesShort
	Cracking
	Atmosphere
	CoatingGoneOn
	SectionWatchOn
	SectionSuspectOn
	ServiceEndsOn
	Observation
	SeenOrigin
	SeenLevel
	SeenOn
	SeenUntil // known only if the day is not exact
	VerdictGiven
	FittingKind
	Presence
	Couple
	WearPoint
	Left
	New
	LostPct
	WornWatchPct
	WornSuspectPct
	WornOutPct
	EventKind
	HappenedOn
	NoticeTitle
	NoticeHit
	IssuedOn
	InspectBy
	MakerHole
	EmbeddedLength
	EmbeddedAtMost
	MakerEmbedded
	SoftRockEmbedded
	CleaningCycles
	SheetCycles
	HoleMoisture
	MoistureAllowed
	RockLowest
	SheetRockLow
	RockAtSetting
	SheetRockHigh
	CartridgeC
	SheetCartridgeLow
	SheetCartridgeHigh
	InstalledOn
	InstalledUntil
	ExpiresOn
	EdgeDistance
	LeastEdge
	SheetEdge
	SheetSpacing
	Torque
	SheetTorque
	TorqueLeast
	TorqueMost
	NeighbourDistance
	OldHoleDistance
	LeastSpacing
	SoundWhenSet
	CracksWhenSet
	SampleFound
	SampleFoundOn
	LoadedAt
	LoadedPerhaps
	LoadRecorded
	NotBefore
	firstID // then those of whose values ids holds

	RecordID Operand = iota - 3
	FittingID
	EventID
	NoticeID
	operandCount
)

// kind is what an operand's value is.
type kind int

const (
	flag   kind = iota // true or false
	word               // one of a closed list
	set                // several words: what something can be
	number             // in the unit of the name's suffix
	date
	instant // to the second, UTC
	ident   // names what a finding rests on, for its values only
)

// operands describes each operand: its name in a rule, its kind, the scopes
// that have it (none: all), and for words the closed list (none: any).
var operands = [operandCount]struct {
	name   string
	kind   kind
	scopes []Scope
	list   []string
}{
	AsOf:                 {name: "as_of", kind: date},
	Form:                 {name: "form", kind: word, list: words(registry.Forms())},
	Bonded:               {name: "bonded", kind: flag},
	Metal:                {name: "metal", kind: set},
	MetalKind:            {name: "metal_kind", kind: set, list: registry.MetalKinds()},
	SetOn:                {name: "set_on", kind: date},
	HoleDiameter:         {name: "hole_diameter_mm", kind: number},
	ShankDiameter:        {name: "shank_diameter_mm", kind: number},
	OverallLength:        {name: "overall_length_mm", kind: number},
	HoleDepth:            {name: "hole_depth_mm", kind: number},
	BatchRecorded:        {name: "batch_recorded", kind: flag},
	InstallationRecorded: {name: "installation_recorded", kind: flag},
	FirstUseAllowed:      {name: "first_use_allowed", kind: flag},
	SiteKind:             {name: "site_kind", kind: word, list: words(registry.SiteKinds())},
	Role:                 {name: "role", kind: word, list: words(registry.PositionRoles())},
	Face:                 {name: "face", kind: word, list: words(registry.Faces())},
	Rock:                 {name: "rock", kind: word, list: words(registry.RockClasses())},
	Traffic:              {name: "traffic", kind: word, list: words(registry.Traffics())},
	BackedUp:             {name: "backed_up", kind: flag},

	EnvironmentKnown: {name: "environment_known", kind: flag},
	SeaKm:            {name: "sea_km", kind: number},
	RoadKm:           {name: "road_km", kind: number},
	MineralSalts:     {name: "mineral_salts", kind: flag},
	Chloride:         {name: "chloride_mg_per_m2_day", kind: number},
	Washed:           {name: "washed", kind: flag},
	SurfaceMax:       {name: "surface_max_c", kind: number},
	RequiredClass:    {name: "required_class", kind: word, list: []string{"I", "II", "III", "IV", "V"}},
	ClassesShort:     {name: "classes_short", kind: number},
	Cracking:         {name: "cracking", kind: word, list: []string{"high", "medium", "none"}},
	Concern:          {name: "concern", kind: set, list: []string{"concerned", "expert-needed", "not-concerned"}},
	Atmosphere:       {name: "atmosphere", kind: word, list: words(registry.Categories())},
	CoatingGoneOn:    {name: "coating_gone_on", kind: date},
	SectionWatchOn:   {name: "section_watch_on", kind: date},
	SectionSuspectOn: {name: "section_suspect_on", kind: date},
	ServiceEndsOn:    {name: "service_ends_on", kind: date},

	Observation: {
		name: "observation", kind: word, scopes: []Scope{OfObservation}, list: words(registry.Observations()),
	},
	SeenOrigin: {
		name: "seen_origin", kind: word, scopes: inspections(),
		list: []string{string(registry.Recorded), string(registry.Imported)},
	},
	SeenLevel: {name: "seen_level", kind: word, scopes: inspections(), list: words(registry.Levels())},
	SeenOn:    {name: "seen_on", kind: date, scopes: inspections()},
	SeenUntil: {name: "seen_until", kind: date, scopes: inspections()},
	VerdictGiven: {
		name: "verdict", kind: word, scopes: []Scope{OfVerdict}, list: words(registry.Verdicts()),
	},

	FittingKind:  {name: "fitting", kind: word, scopes: []Scope{OfFitting}, list: words(registry.FittingKinds())},
	Presence:     {name: "presence", kind: word, scopes: []Scope{OfFitting}, list: words(registry.Presences())},
	FittingMetal: {name: "fitting_metal", kind: set, scopes: []Scope{OfFitting}},
	Couple:       {name: "couple", kind: word, scopes: []Scope{OfFitting}, list: words(registry.Couples())},

	WearPoint: {
		name: "point", kind: word, scopes: []Scope{OfWear}, list: append(words(registry.FittingKinds()), Eye),
	},
	Left:           {name: "left_mm", kind: number, scopes: []Scope{OfWear}},
	New:            {name: "new_mm", kind: number, scopes: []Scope{OfWear}},
	LostPct:        {name: "lost_pct", kind: number, scopes: []Scope{OfWear}},
	WornWatchPct:   {name: "worn_watch_pct", kind: number, scopes: []Scope{OfWear}},
	WornSuspectPct: {name: "worn_suspect_pct", kind: number, scopes: []Scope{OfWear}},
	WornOutPct:     {name: "worn_out_pct", kind: number, scopes: []Scope{OfWear}},

	EventKind:   {name: "event", kind: word, scopes: []Scope{OfEvent}, list: words(registry.EventKinds())},
	HappenedOn:  {name: "happened_on", kind: date, scopes: []Scope{OfEvent}},
	NoticeTitle: {name: "title", kind: word, scopes: []Scope{OfNotice}},
	NoticeHit:   {name: "notice_hit", kind: word, scopes: []Scope{OfNotice}, list: words(registry.NoticeHits())},
	IssuedOn:    {name: "issued_on", kind: date, scopes: []Scope{OfNotice}},
	InspectBy:   {name: "inspect_by", kind: date, scopes: []Scope{OfEvent, OfNotice}},

	MakerHole:          {name: "maker_hole_mm", kind: number, scopes: []Scope{OfSetting}},
	EmbeddedLength:     {name: "embedded_length_mm", kind: number, scopes: []Scope{OfSetting}},
	EmbeddedAtMost:     {name: "embedded_at_most_mm", kind: number, scopes: []Scope{OfSetting}},
	MakerEmbedded:      {name: "maker_embedded_mm", kind: number, scopes: []Scope{OfSetting}},
	SoftRockEmbedded:   {name: "soft_rock_embedded_mm", kind: number, scopes: []Scope{OfSetting}},
	CleaningCycles:     {name: "cleaning_cycles", kind: number, scopes: []Scope{OfSetting}},
	SheetCycles:        {name: "sheet_cleaning_cycles", kind: number, scopes: []Scope{OfSetting}},
	HoleMoisture:       {name: "moisture", kind: word, scopes: []Scope{OfSetting}, list: words(registry.Moistures())},
	MoistureAllowed:    {name: "moisture_allowed", kind: flag, scopes: []Scope{OfSetting}},
	RockLowest:         {name: "lowest_c", kind: number, scopes: []Scope{OfSetting}},
	SheetRockLow:       {name: "sheet_rock_low_c", kind: number, scopes: []Scope{OfSetting}},
	RockAtSetting:      {name: "rock_c", kind: number, scopes: []Scope{OfSetting}},
	SheetRockHigh:      {name: "sheet_rock_high_c", kind: number, scopes: []Scope{OfSetting}},
	CartridgeC:         {name: "cartridge_c", kind: number, scopes: []Scope{OfSetting}},
	SheetCartridgeLow:  {name: "sheet_cartridge_low_c", kind: number, scopes: []Scope{OfSetting}},
	SheetCartridgeHigh: {name: "sheet_cartridge_high_c", kind: number, scopes: []Scope{OfSetting}},
	InstalledOn:        {name: "installed_on", kind: date, scopes: []Scope{OfSetting}},
	InstalledUntil:     {name: "installed_until", kind: date, scopes: []Scope{OfSetting}},
	ExpiresOn:          {name: "expires_on", kind: date, scopes: []Scope{OfSetting}},
	EdgeDistance:       {name: "edge_distance_mm", kind: number, scopes: []Scope{OfSetting}},
	LeastEdge:          {name: "least_edge_mm", kind: number, scopes: []Scope{OfSetting}},
	SheetEdge:          {name: "sheet_edge_mm", kind: number, scopes: []Scope{OfSetting}},
	SheetSpacing:       {name: "sheet_spacing_mm", kind: number, scopes: []Scope{OfSetting}},
	Torque:             {name: "torque_nm", kind: number, scopes: []Scope{OfSetting}},
	SheetTorque:        {name: "sheet_torque_nm", kind: number, scopes: []Scope{OfSetting}},
	TorqueLeast:        {name: "torque_least_nm", kind: number, scopes: []Scope{OfSetting}},
	TorqueMost:         {name: "torque_most_nm", kind: number, scopes: []Scope{OfSetting}},
	NeighbourDistance:  {name: "neighbour_distance_mm", kind: number, scopes: []Scope{OfSetting}},
	OldHoleDistance:    {name: "old_hole_distance_mm", kind: number, scopes: []Scope{OfSetting}},
	LeastSpacing:       {name: "least_spacing_mm", kind: number, scopes: []Scope{OfSetting}},
	SoundWhenSet:       {name: "rock_sound", kind: word, scopes: []Scope{OfSetting}, list: words(registry.Sounds())},
	CracksWhenSet:      {name: "cracks_seen", kind: flag, scopes: []Scope{OfSetting}},
	SampleFound:        {name: "sample_found", kind: word, scopes: []Scope{OfSetting}, list: words(registry.SamplesFound())},
	SampleFoundOn:      {name: "sample_found_on", kind: date, scopes: []Scope{OfSetting}},
	LoadedAt:           {name: "loaded_at", kind: instant, scopes: []Scope{OfSetting}},
	LoadedPerhaps:      {name: "loaded_perhaps_at", kind: instant, scopes: []Scope{OfSetting}},
	LoadRecorded:       {name: "load_recorded_at", kind: instant, scopes: []Scope{OfSetting}},
	NotBefore:          {name: "not_before", kind: instant, scopes: []Scope{OfSetting}},
	Gaps:               {name: "gaps", kind: set, scopes: []Scope{OfSetting}},

	RecordID:  {name: "record_id", kind: ident, scopes: append(inspections(), OfSetting)},
	FittingID: {name: "fitting_id", kind: ident, scopes: []Scope{OfFitting, OfWear}},
	EventID:   {name: "event_id", kind: ident, scopes: []Scope{OfEvent}},
	NoticeID:  {name: "notice_id", kind: ident, scopes: []Scope{OfNotice}},
}

// Eye is the measured point that is no fitting.
const Eye = "eye"

// inspections are the scopes that are about an inspection.
func inspections() []Scope { return []Scope{OfObservation, OfVerdict, OfSearch, OfWear} }

func words[T ~string](list []T) []string {
	out := make([]string, len(list))
	for i, v := range list {
		out[i] = string(v)
	}
	return out
}

// String returns the name under which rules ask for the operand.
func (o Operand) String() string { return operands[o].name }

// operandNamed finds an operand by name.
func operandNamed(name string) (Operand, bool) {
	for o := range operandCount {
		if operands[o].name == name {
			return o, true
		}
	}
	return 0, false
}

// in says whether rules of a scope may ask for the operand.
func (o Operand) in(s Scope) bool {
	return operands[o].scopes == nil || slices.Contains(operands[o].scopes, s)
}

package postgres

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// installationRow has its columns in the order of the card.
type installationRow struct {
	recordRow
	SessionID           *uuid.UUID       `json:"session_id"`
	Form                word             `json:"form"`
	HardwareID          *uuid.UUID       `json:"hardware_id"`
	HoleDiameterMM      *quantity.Length `json:"hole_diameter_mm"`
	HoleDepthMM         *quantity.Length `json:"hole_depth_mm"`
	CleaningCycles      *int             `json:"cleaning_cycles"`
	Moisture            word             `json:"moisture"`
	SetAtFrom           *time.Time       `json:"set_at_from"`
	SetAtTo             *time.Time       `json:"set_at_to"`
	SetAtWords          string           `json:"set_at_words"`
	AdhesiveID          *uuid.UUID       `json:"adhesive_id"`
	BatchID             *uuid.UUID       `json:"batch_id"`
	Rock                word             `json:"rock"`
	RockWords           string           `json:"rock_words"`
	RockSound           word             `json:"rock_sound"`
	CracksSeen          *bool            `json:"cracks_seen"`
	EdgeDistanceMM      *quantity.Length `json:"edge_distance_mm"`
	NeighbourDistanceMM *quantity.Length `json:"neighbour_distance_mm"`
	AngleDeg            *float64         `json:"angle_deg"`
	EmbeddedLengthMM    *quantity.Length `json:"embedded_length_mm"`
	RecessCut           *bool            `json:"recess_cut"`
	DryFit              *bool            `json:"dry_fit"`
	FromBottom          *bool            `json:"from_bottom"`
	FillPct             *float64         `json:"fill_pct"`
	Turned              *bool            `json:"turned"`
	AsDrawn             *bool            `json:"as_drawn"`
	SurplusWiped        *bool            `json:"surplus_wiped"`
	Hole                word             `json:"hole"`
	OldHoleDistanceMM   *quantity.Length `json:"old_hole_distance_mm"`
	TorqueNM            *float64         `json:"torque_nm"`
	TorqueTool          string           `json:"torque_tool"`
}

func newInstallationRow(i registry.Installation) installationRow {
	from, to := bounds(i.SetAt)
	return installationRow{
		newRecordRow(i.Record),
		i.SessionID, word(i.Form), i.HardwareID,
		i.HoleDiameter, i.HoleDepth, i.CleaningCycles, word(i.Moisture), from, to, i.SetAt.Words,
		i.AdhesiveID, i.BatchID, word(i.Rock), i.RockWords, word(i.RockSound), i.CracksSeen,
		i.EdgeDistance, i.NeighbourDistance, i.AngleDeg, i.Embedded, i.RecessCut, i.DryFit,
		i.FromBottom, i.FillPct, i.Turned, i.AsDrawn, i.SurplusWiped,
		word(i.Hole), i.OldHoleDistance, i.TorqueNM, i.TorqueTool,
	}
}

func (r installationRow) noun() registry.Installation {
	return registry.Installation{
		Record: r.record(), SessionID: r.SessionID, Form: registry.Form(r.Form), HardwareID: r.HardwareID,
		HoleDiameter: r.HoleDiameterMM, HoleDepth: r.HoleDepthMM, CleaningCycles: r.CleaningCycles,
		Moisture: registry.Moisture(r.Moisture), SetAt: moment(r.SetAtFrom, r.SetAtTo, r.SetAtWords),
		AdhesiveID: r.AdhesiveID, BatchID: r.BatchID, Rock: registry.RockClass(r.Rock), RockWords: r.RockWords,
		RockSound: registry.Sound(r.RockSound), CracksSeen: r.CracksSeen, EdgeDistance: r.EdgeDistanceMM,
		NeighbourDistance: r.NeighbourDistanceMM, AngleDeg: r.AngleDeg, Embedded: r.EmbeddedLengthMM,
		RecessCut: r.RecessCut, DryFit: r.DryFit, FromBottom: r.FromBottom, FillPct: r.FillPct, Turned: r.Turned,
		AsDrawn: r.AsDrawn, SurplusWiped: r.SurplusWiped, Hole: registry.HoleState(r.Hole),
		OldHoleDistance: r.OldHoleDistanceMM, TorqueNM: r.TorqueNM, TorqueTool: r.TorqueTool,
	}
}

var installations = newTable[installationRow]("installation")

type cureRow struct {
	recordRow
	InstallationID      *uuid.UUID            `json:"installation_id"`
	LowestC             *quantity.Temperature `json:"lowest_c"`
	LowestHow           word                  `json:"lowest_how"`
	LabelWorkingMinutes *int                  `json:"label_working_minutes"`
	LabelCureMinutes    *int                  `json:"label_cure_minutes"`
	LabelC              *quantity.Temperature `json:"label_c"`
	LoadedAtFrom        *time.Time            `json:"loaded_at_from"`
	LoadedAtTo          *time.Time            `json:"loaded_at_to"`
	LoadedAtWords       string                `json:"loaded_at_words"`
}

func newCureRow(u registry.Cure) cureRow {
	from, to := bounds(u.LoadedAt)
	c, how := readingColumns(u.LowestC)
	return cureRow{
		newRecordRow(u.Record), u.InstallationID, c, how, u.LabelWorkingMinutes, u.LabelCureMinutes, u.LabelC,
		from, to, u.LoadedAt.Words,
	}
}

func (r cureRow) noun() registry.Cure {
	return registry.Cure{
		Record: r.record(), InstallationID: r.InstallationID, LowestC: reading(r.LowestC, r.LowestHow),
		LabelWorkingMinutes: r.LabelWorkingMinutes, LabelCureMinutes: r.LabelCureMinutes, LabelC: r.LabelC,
		LoadedAt: moment(r.LoadedAtFrom, r.LoadedAtTo, r.LoadedAtWords),
	}
}

var cures = newTable[cureRow]("cure")

type firstUseRow struct {
	recordRow
	AtFrom  *time.Time `json:"at_from"`
	AtTo    *time.Time `json:"at_to"`
	AtWords string     `json:"at_words"`
	Sample  word       `json:"sample"`
}

func newFirstUseRow(f registry.FirstUse) firstUseRow {
	from, to := bounds(f.At)
	return firstUseRow{newRecordRow(f.Record), from, to, f.At.Words, word(f.Sample)}
}

func (r firstUseRow) noun() registry.FirstUse {
	return registry.FirstUse{
		Record: r.record(), At: moment(r.AtFrom, r.AtTo, r.AtWords), Sample: registry.SampleState(r.Sample),
	}
}

var firstUses = newTable[firstUseRow]("first_use")

// bounds returns the ends of a moment as they are stored, nil where it is not
// known.
func bounds(m calendar.Moment) (from, to *time.Time) {
	if !m.Known() {
		return nil, nil
	}
	a, z := instant(m.From), instant(m.To)
	return &a, &z
}

// moment puts a moment together from its three columns.
func moment(from, to *time.Time, words string) calendar.Moment {
	m := calendar.Moment{Words: words}
	if from != nil && to != nil {
		m.From, m.To = from.UTC(), to.UTC()
	}
	return m
}

// readingColumns returns a reading as it is stored.
func readingColumns(r *registry.Reading) (*quantity.Temperature, word) {
	if r == nil {
		return nil, ""
	}
	return &r.C, word(r.How)
}

// reading puts a reading together from its two columns.
func reading(c *quantity.Temperature, how word) *registry.Reading {
	if c == nil {
		return nil
	}
	return &registry.Reading{C: *c, How: registry.HowRead(how)}
}

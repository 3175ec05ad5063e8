package assess_test

import (
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

func day(s string) calendar.Date {
	d, err := calendar.ParseDate(s)
	if err != nil {
		panic(err)
	}
	return d
}

// entered is the day on which the anchors of these tests entered the register.
var entered = day("2024-03-01")

// anyFacts draws the facts of one anchor: things known and not known, records
// of all kinds in any order, now and then one finding settled.
func anyFacts(t *rapid.T) registry.Facts {
	f := registry.Facts{
		Anchor: registry.Anchor{
			ID: anyID(t), SiteID: anyID(t), Form: anyOr(t, "form", registry.Forms()), Metal: anyMetal(t), Shank: anyLength(t, "shank", 8, 16),
			SetOn: anySpan(t, "set", 1960, 2024), Origin: anyOf(t, "origin", []registry.Origin{registry.Recorded, registry.Imported}),
			EnteredOn: entered,
		},
		Position: registry.Position{
			Role: anyOr(t, "role", registry.PositionRoles()), Face: anyOr(t, "face", registry.Faces()), BackedUp: anyFlag(t, "backed up"),
		},
		Site:          registry.Site{Kind: anyOf(t, "kind", registry.SiteKinds()), Rock: anyOr(t, "rock", registry.RockClasses()), FirstRoundEnds: anyRound(t)},
		Traffic:       anyOr(t, "traffic", registry.Traffics()),
		InAssembly:    rapid.Bool().Draw(t, "in assembly"),
		Installations: rapid.SliceOfN(rapid.Custom(anyInstallation), 0, 2).Draw(t, "installations"),
		FirstUses:     rapid.SliceOfN(rapid.Custom(anyFirstUse), 0, 2).Draw(t, "first uses"),
		Fittings:      rapid.SliceOfN(rapid.Custom(anyFitting), 0, 2).Draw(t, "fittings"),
		Inspections:   rapid.SliceOfN(rapid.Custom(anyInspection), 0, 4).Draw(t, "inspections"),
		Environments:  rapid.SliceOfN(rapid.Custom(anyEnvironment), 0, 2).Draw(t, "environments"),
		Events:        rapid.SliceOfN(rapid.Custom(anyEvent), 0, 2).Draw(t, "events"),
		Notices:       rapid.SliceOfN(rapid.Custom(anyNotice), 0, 1).Draw(t, "notices"),
	}
	measure(t, &f)
	glue(t, &f)
	if rapid.IntRange(0, 3).Draw(t, "settle") == 0 {
		f.Settlements = settleOne(t, f)
	}
	return f
}

// settleOne draws a settlement of one of the findings.
func settleOne(t *rapid.T, f registry.Facts) []registry.Settlement {
	findings := anchor(f, entered+calendar.Date(rapid.IntRange(0, 2000).Draw(t, "settled on"))).Findings
	if len(findings) == 0 {
		return nil
	}
	finding := anyOf(t, "settled", findings)
	s := registry.Settlement{Record: anyRecord(t, calendar.Exactly(entered)), Rule: finding.Rule, Values: finding.Values}
	if rapid.Bool().Draw(t, "settled for a time") {
		s.Until = entered + calendar.Date(rapid.IntRange(0, 3000).Draw(t, "settled until"))
	}
	return []registry.Settlement{s}
}

// measure gives some inspections readings of the eye and of the fittings.
func measure(t *rapid.T, f *registry.Facts) {
	for i := range f.Inspections {
		if f.Inspections[i].NotFound() || rapid.Bool().Draw(t, "nothing measured") {
			continue
		}
		m := registry.Measurement{Left: quantity.Length(rapid.IntRange(5, 12).Draw(t, "left")), New: anyLength(t, "when new", 10, 12)}
		if len(f.Fittings) > 0 && rapid.Bool().Draw(t, "of a fitting") {
			m.FittingID = &f.Fittings[rapid.IntRange(0, len(f.Fittings)-1).Draw(t, "measured fitting")].ID
		}
		f.Inspections[i].Measured = []registry.Measurement{m}
	}
}

func anyFitting(t *rapid.T) registry.Fitting {
	return registry.Fitting{
		ID: anyID(t), Kind: anyOf(t, "fitting", registry.FittingKinds()), Presence: anyOf(t, "presence", registry.Presences()),
		Metal: anyMetal(t), SetOn: anySpan(t, "hung", 2000, 2025), New: anyLength(t, "new", 8, 12), EndedOn: anyEnd(t, "taken off"),
	}
}

func anyEvent(t *rapid.T) registry.Event {
	e := registry.Event{
		ID: anyID(t), Kind: anyOf(t, "event", registry.EventKinds()), HappenedOn: entered - calendar.Date(rapid.IntRange(0, 900).Draw(t, "days ago")),
		EndedOn: anyEnd(t, "event taken back"),
	}
	if rapid.Bool().Draw(t, "dated") {
		e.InspectBy = e.HappenedOn + calendar.Date(rapid.IntRange(0, 90).Draw(t, "inspect within"))
	}
	return e
}

func anyNotice(t *rapid.T) registry.Notice {
	issued := entered - calendar.Date(rapid.IntRange(0, 900).Draw(t, "issued days ago"))
	return registry.Notice{
		ID: anyID(t), Title: "Invented recall", IssuedOn: issued, EndedOn: anyEnd(t, "notice ended"),
		InspectBy: issued + calendar.Date(rapid.IntRange(0, 400).Draw(t, "by")),
	}
}

func anyEnvironment(t *rapid.T) registry.Environment {
	e := registry.Environment{
		ID: anyID(t), Place: registry.Place{Kind: anyOf(t, "place", registry.PlaceKinds())},
		From:  entered + calendar.Date(rapid.IntRange(-400, 1500).Draw(t, "from")),
		SeaKm: anyFloat(t, "sea", 0.1, 0.9, 5, 20), RoadKm: anyFloat(t, "road", 0.005, 0.05, 3), Coast: anyOr(t, "coast", registry.Coasts()),
		MineralSalts: anyFlag(t, "salts"), Wetness: anyOr(t, "wetness", registry.Wetnesses()), Washed: anyFlag(t, "washed"),
		SurfaceMaxC: anyFloat(t, "surface", 10, 35), SteelCategory: anyOr(t, "steel", registry.Categories()),
		ZincCategory: anyOr(t, "zinc", registry.Categories()),
	}
	if rapid.Bool().Draw(t, "limited") {
		e.Until = e.From + calendar.Date(rapid.IntRange(0, 1500).Draw(t, "days in force"))
	}
	if rapid.Bool().Draw(t, "climate") {
		e.TemperatureC, e.HumidityPct = anyFloat(t, "temperature", 2, 10, 25), anyFloat(t, "humidity", 50, 80)
		e.SulphurDioxide, e.Chloride = anyFloat(t, "sulphur dioxide", 1, 40), anyFloat(t, "chloride", 2, 200)
	}
	return e
}

// anyEnd draws a day on which something ended, mostly none.
func anyEnd(t *rapid.T, name string) calendar.Date {
	if rapid.IntRange(0, 3).Draw(t, name) > 0 {
		return 0
	}
	return entered + calendar.Date(rapid.IntRange(-100, 2000).Draw(t, name+" on"))
}

// anyFloat draws one of the values, or not known.
func anyFloat(t *rapid.T, name string, values ...float64) *float64 {
	i := rapid.IntRange(-1, len(values)-1).Draw(t, name)
	if i < 0 {
		return nil
	}
	return &values[i]
}

func anyLength(t *rapid.T, name string, from, to int) *quantity.Length {
	if rapid.IntRange(0, 2).Draw(t, name+" known") == 0 {
		return nil
	}
	l := quantity.Length(rapid.IntRange(from, to).Draw(t, name))
	return &l
}

func anyID(t *rapid.T) uuid.UUID {
	var id uuid.UUID
	copy(id[:], rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(t, "id"))
	id[6] |= 0x70 // never uuid.Nil, which names nothing
	return id
}

func anyOf[T any](t *rapid.T, name string, list []T) T { return rapid.SampledFrom(list).Draw(t, name) }

// anyOr draws a word of the list, or not known.
func anyOr[T ~string](t *rapid.T, name string, list []T) T {
	return anyOf(t, name, append([]T{""}, list...))
}

func anyFlag(t *rapid.T, name string) *bool {
	no, yes := false, true
	return anyOf(t, name, []*bool{nil, &no, &yes})
}

func anyMetal(t *rapid.T) metal.Set {
	return anyOf(t, "metal", []metal.Set{
		nil, metal.NewSet("titanium-2"), metal.NewSet("1.4529"), metal.NewSet("1.4404"), metal.Stainless(),
		metal.NewSet(metal.SteelElectroplated), metal.NewSet(metal.Aluminium, "1.4301"), metal.NewSet("1.4462"),
		metal.NewSet(metal.SteelBare, metal.SteelHotDipGalvanised),
	})
}

func anySpan(t *rapid.T, name string, from, to int) calendar.Span {
	if rapid.IntRange(0, 4).Draw(t, name+" known") == 0 {
		return calendar.Span{}
	}
	start := calendar.NewDate(rapid.IntRange(from, to).Draw(t, name), 1, 1) + calendar.Date(rapid.IntRange(0, 59).Draw(t, name+" day"))
	return calendar.Span{From: start, To: start + calendar.Date(anyOf(t, name+" width", []int{0, 0, 30, 364}))}
}

func anyRound(t *rapid.T) calendar.Date {
	return anyOf(t, "round ends", []calendar.Date{0, entered - 100, entered, entered + 200, entered + 900})
}

func anyRecord(t *rapid.T, done calendar.Span) registry.Record {
	return registry.Record{
		ID: anyID(t), DoneOn: done, Origin: anyOf(t, "record's origin", []registry.Origin{registry.Recorded, registry.Imported}),
		RecordedAt: time.Unix(int64(rapid.IntRange(0, 2_000_000_000).Draw(t, "recorded at")), 0),
	}
}

func anyInstallation(t *rapid.T) registry.Installation {
	i := registry.Installation{
		Record: anyRecord(t, anySpan(t, "installed", 2000, 2025)), RockSound: anyOr(t, "sound", registry.Sounds()),
		Moisture: anyOr(t, "moisture", registry.Moistures()), Rock: anyOr(t, "rock at the hole", registry.RockClasses()),
		CracksSeen: anyFlag(t, "cracks"), Embedded: anyLength(t, "embedded", 50, 130), EdgeDistance: anyLength(t, "edge", 100, 200),
	}
	if rapid.Bool().Draw(t, "cleaning known") {
		cycles := rapid.IntRange(0, 5).Draw(t, "cycles")
		i.CleaningCycles = &cycles
	}
	if rapid.Bool().Draw(t, "hole known") {
		hole := quantity.Length(rapid.IntRange(8, 20).Draw(t, "hole"))
		i.HoleDiameter = &hole
	}
	return i
}

// glue gives some installations an adhesive with a sheet and a session, and the
// anchor readings of its cure.
func glue(t *rapid.T, f *registry.Facts) {
	product := anyID(t)
	for i := range f.Installations {
		if rapid.Bool().Draw(t, "not glued") {
			continue
		}
		s := registry.GluingSession{ID: anyID(t), DoneOn: f.Installations[i].DoneOn, RockC: anyReading(t), NightC: anyReading(t)}
		f.Sessions = append(f.Sessions, s)
		f.Installations[i].AdhesiveID, f.Installations[i].SessionID = &product, &s.ID
	}
	for range rapid.IntRange(0, 2).Draw(t, "sheets") {
		from := quantity.Temperature(rapid.IntRange(-5, 15).Draw(t, "from"))
		f.Sheets = append(f.Sheets, registry.ProductVersion{
			ID: anyID(t), ProductID: product, From: anySpan(t, "sheet from", 2000, 2020).From,
			CureRows: []registry.CureRow{{FromC: from, ToC: from + 9, WorkMinutes: 5, CureMinutes: 60}},
		})
	}
	for range rapid.IntRange(0, 2).Draw(t, "cures") {
		minutes := rapid.IntRange(1, 5000).Draw(t, "label")
		at := time.Unix(int64(rapid.IntRange(1_000_000_000, 1_700_000_000).Draw(t, "loaded")), 0)
		f.Cures = append(f.Cures, registry.Cure{
			Record: anyRecord(t, anySpan(t, "cured", 2000, 2025)), LowestC: anyReading(t), LabelCureMinutes: &minutes,
			LoadedAt: calendar.Moment{From: at, To: at},
		})
	}
}

func anyReading(t *rapid.T) *registry.Reading {
	if rapid.Bool().Draw(t, "not read") {
		return nil
	}
	return &registry.Reading{C: quantity.Temperature(rapid.IntRange(-10, 30).Draw(t, "degrees"))}
}

func anyFirstUse(t *rapid.T) registry.FirstUse {
	return registry.FirstUse{Record: anyRecord(t, anySpan(t, "first used", 2000, 2025))}
}

func anyInspection(t *rapid.T) registry.Inspection {
	i := registry.Inspection{
		Record: anyRecord(t, anySpan(t, "inspected", 2005, 2026)), Level: anyOf(t, "level", registry.Levels()),
		Found: anyFlag(t, "found"), Ticked: rapid.IntRange(0, 3).Draw(t, "ticked") > 0,
	}
	if i.NotFound() {
		return i
	}
	i.Observations = rapid.SliceOfN(rapid.SampledFrom(registry.Observations()), 0, 3).Draw(t, "observations")
	i.Verdict = anyOr(t, "verdict", registry.Verdicts())
	if (i.Verdict == registry.KeepWatching || i.Verdict == registry.Repair) && rapid.Bool().Draw(t, "dated") && i.DoneOn.Known() {
		i.InspectBy = i.DoneOn.From + calendar.Date(rapid.IntRange(0, 800).Draw(t, "inspect by"))
	}
	return i
}

// anyDay draws a day of asking from the day of entry on.
func anyDay(t *rapid.T) calendar.Date {
	return entered + calendar.Date(rapid.IntRange(0, 4000).Draw(t, "as of"))
}

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
// of all kinds in any order.
func anyFacts(t *rapid.T) registry.Facts {
	return registry.Facts{
		Anchor: registry.Anchor{
			ID: anyID(t), SiteID: anyID(t), Form: anyOr(t, "form", registry.Forms()), Metal: anyMetal(t),
			SetOn: anySpan(t, "set", 1960, 2024), Origin: anyOf(t, "origin", []registry.Origin{registry.Recorded, registry.Imported}),
			EnteredOn: entered,
		},
		Position:      registry.Position{Role: anyOr(t, "role", registry.PositionRoles()), BackedUp: anyFlag(t, "backed up")},
		Site:          registry.Site{Kind: anyOf(t, "kind", registry.SiteKinds()), Rock: anyOr(t, "rock", registry.RockClasses()), FirstRoundEnds: anyRound(t)},
		Traffic:       anyOr(t, "traffic", registry.Traffics()),
		InAssembly:    rapid.Bool().Draw(t, "in assembly"),
		Installations: rapid.SliceOfN(rapid.Custom(anyInstallation), 0, 2).Draw(t, "installations"),
		FirstUses:     rapid.SliceOfN(rapid.Custom(anyFirstUse), 0, 2).Draw(t, "first uses"),
		Inspections:   rapid.SliceOfN(rapid.Custom(anyInspection), 0, 4).Draw(t, "inspections"),
	}
}

func anyID(t *rapid.T) uuid.UUID {
	var id uuid.UUID
	copy(id[:], rapid.SliceOfN(rapid.Byte(), 16, 16).Draw(t, "id"))
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
		metal.NewSet(metal.SteelElectroplated), metal.NewSet(metal.Aluminium, "1.4301"),
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
	}
	if rapid.Bool().Draw(t, "hole known") {
		hole := quantity.Length(rapid.IntRange(8, 20).Draw(t, "hole"))
		i.HoleDiameter = &hole
	}
	return i
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

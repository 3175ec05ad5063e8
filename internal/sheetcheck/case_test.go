package sheetcheck_test

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
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

func id(name string) uuid.UUID { return uuid.NewSHA1(uuid.Nil, []byte(name)) }

// at is an instant of the day the anchors of these tests were set, in UTC.
func at(clock string) time.Time {
	t, err := time.Parse("2006-01-02 15:04", clock)
	if err != nil {
		panic(err)
	}
	return t
}

func moment(clock string) calendar.Moment { return calendar.Moment{From: at(clock), To: at(clock)} }

func mm(n quantity.Length) *quantity.Length { return &n }

func degrees(c quantity.Temperature) *quantity.Temperature { return &c }

func measured(c quantity.Temperature) *registry.Reading {
	return &registry.Reading{C: c, How: registry.Measured}
}

func ptr[T any](v T) *T { return &v }

var (
	house = houserules.Default()
	asOf  = day("2026-06-01")
)

// whole returns facts with a setting that has everything recorded and nothing
// against it: a shank of 10 mm in a hole of 12 mm, glued at 14:00 UTC on 1 June
// 2025 into dry hard rock of 12 degC that cooled to 8 degC, by an invented sheet
// (two hours from 5 to 9 degC, 80 minutes from 10 to 19 degC).
func whole(edit ...func(*registry.Facts)) registry.Facts {
	set := calendar.Exactly(day("2025-06-01"))
	adhesive, session := id("adhesive"), id("session")
	f := registry.Facts{
		Anchor: registry.Anchor{ID: id("anchor"), Form: registry.SingleShank, Shank: mm(10), SetOn: set, Origin: registry.Recorded},
		Site:   registry.Site{Kind: registry.Crag, Rock: registry.RockHard},
		Installations: []registry.Installation{{
			Record:    registry.Record{ID: id("installation"), DoneOn: set, Origin: registry.Recorded, PersonID: ptr(id("setter"))},
			SessionID: &session, HoleDiameter: mm(12), HoleDepth: mm(110), Embedded: mm(100), CleaningCycles: ptr(4),
			Moisture: registry.HoleDry, SetAt: moment("2025-06-01 14:00"), AdhesiveID: &adhesive, RockSound: registry.Ringing,
			CracksSeen: ptr(false), EdgeDistance: mm(300), NeighbourDistance: mm(300),
		}},
		Sessions: []registry.GluingSession{{
			ID: session, DoneOn: set, ExpiresOn: day("2026-01-31"), RockC: measured(12), NightC: measured(8), CartridgeC: measured(15),
			SampleKept: ptr(true),
		}},
		Sheets: []registry.ProductVersion{{
			ID: id("sheet"), ProductID: adhesive, From: day("2024-01-01"), Source: "invented sheet",
			CureRows: []registry.CureRow{
				{FromC: 5, ToC: 9, WorkMinutes: 25, CureMinutes: 120},
				{FromC: 10, ToC: 19, WorkMinutes: 15, CureMinutes: 80, CureWetMinutes: ptr(160)},
			},
			CartridgeLowC: degrees(5), CartridgeHighC: degrees(35), CleaningCycles: ptr(4),
		}},
	}
	for _, e := range edit {
		e(&f)
	}
	return f
}

// set changes the setting of a copy, session its session, sheet its sheet.
func set(edit func(*registry.Installation)) func(*registry.Facts) {
	return func(f *registry.Facts) { edit(&f.Installations[0]) }
}

func session(edit func(*registry.GluingSession)) func(*registry.Facts) {
	return func(f *registry.Facts) { edit(&f.Sessions[0]) }
}

func sheet(edit func(*registry.ProductVersion)) func(*registry.Facts) {
	return func(f *registry.Facts) { edit(&f.Sheets[0]) }
}

// noSheet takes the adhesive's sheet away.
func noSheet(f *registry.Facts) { f.Sheets = nil }

// hardware gives the anchor a product with a sheet.
func hardware(edit func(*registry.ProductVersion)) func(*registry.Facts) {
	return func(f *registry.Facts) {
		product := id("hardware")
		f.Anchor.ProductID = &product
		v := registry.ProductVersion{ID: id("hardware sheet"), ProductID: product, From: day("2020-01-01")}
		edit(&v)
		f.Sheets = append(f.Sheets, v)
	}
}

// sheetOf gives the anchor a product whose sheet asks for these distances in mm
// and this torque in N m; 0 is not stated.
func sheetOf(edge, spacing quantity.Length, nm float64) func(*registry.Facts) {
	return hardware(func(v *registry.ProductVersion) {
		v.EdgeLeast, v.SpacingLeast, v.TorqueNM = mm(edge), mm(spacing), &nm
		if edge == 0 {
			v.EdgeLeast = nil
		}
		if spacing == 0 {
			v.SpacingLeast = nil
		}
		if nm == 0 {
			v.TorqueNM = nil
		}
	})
}

func torque(nm float64) func(*registry.Facts) {
	return set(func(i *registry.Installation) { i.TorqueNM = &nm })
}

// form sets another form; one that is not bonded has no glue either.
func form(v registry.Form) func(*registry.Facts) {
	return func(f *registry.Facts) {
		f.Anchor.Form = v
		if !v.Bonded() {
			f.Installations[0].AdhesiveID, f.Installations[0].SessionID = nil, nil
		}
	}
}

// sizes sets form, hole and shank in mm; a shank of 0 is not known.
func sizes(v registry.Form, hole, shank quantity.Length) registry.Facts {
	return whole(form(v), func(f *registry.Facts) {
		f.Installations[0].HoleDiameter, f.Anchor.Shank = mm(hole), mm(shank)
		if shank == 0 {
			f.Anchor.Shank = nil
		}
	})
}

// embedded sets form, embedded length and hole in mm; 0 is not known.
func embedded(v registry.Form, length, hole quantity.Length) registry.Facts {
	return whole(form(v), set(func(i *registry.Installation) {
		i.Embedded, i.HoleDepth, i.HoleDiameter = mm(length), nil, mm(hole)
		if length == 0 {
			i.Embedded = nil
		}
	}))
}

// cured adds a cure record made that day.
func cured(edit func(*registry.Cure)) func(*registry.Facts) {
	return func(f *registry.Facts) {
		u := registry.Cure{Record: registry.Record{ID: id("cure"), DoneOn: calendar.Exactly(day("2025-06-01"))}}
		edit(&u)
		f.Cures = append(f.Cures, u)
	}
}

func label(minutes int, row *quantity.Temperature) func(*registry.Facts) {
	return cured(func(u *registry.Cure) { u.LabelCureMinutes, u.LabelC = &minutes, row })
}

func loaded(clock string) func(*registry.Facts) {
	return cured(func(u *registry.Cure) { u.LoadedAt = moment(clock) })
}

// allowed adds a first use; without a clock it has no time.
func allowed(on, clock string) func(*registry.Facts) {
	return func(f *registry.Facts) {
		u := registry.FirstUse{Record: registry.Record{ID: id("first use"), DoneOn: calendar.Exactly(day(on))}}
		if clock != "" {
			u.At = moment(on + " " + clock)
		}
		f.FirstUses = append(f.FirstUses, u)
	}
}

// london is the group's zone, an hour ahead of UTC in June.
func london(f *registry.Facts) { f.TimeZone = "Europe/London" }

// setLate has it set at 19:00 UTC, so that a damp hole cures at 23:00 UTC, when
// the day has ended in London.
func setLate(f *registry.Facts) { f.Installations[0].SetAt = moment("2025-06-01 19:00") }

func listed(f *registry.Facts) { f.Installations[0].Origin = registry.Imported }

func cave(f *registry.Facts) { f.Site.Kind = registry.Cave }

func noNight(f *registry.Facts) { f.Sessions[0].NightC = nil }

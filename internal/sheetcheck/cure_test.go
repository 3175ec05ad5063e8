package sheetcheck_test

import (
	"testing"
	"time"

	"github.com/google/uuid"
	"pgregory.net/rapid"

	"rockledger/internal/adhesive"
	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/sheetcheck"
)

func damp(f *registry.Facts) { f.Installations[0].Moisture = registry.HoleDamp }

func night(c quantity.Temperature) func(*registry.Facts) {
	return session(func(s *registry.GluingSession) { s.NightC = measured(c) })
}

func assumedNight(c quantity.Temperature) func(*registry.Facts) {
	return session(func(s *registry.GluingSession) { s.NightC = &registry.Reading{C: c, How: registry.Assumed} })
}

// The times are those of the invented sheet of whole; twice for a wet hole is
// common practice, no source; the temperature in a cave is the house rules'.
func TestCure(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name    string
		facts   registry.Facts
		basis   registry.CureBasis
		minutes int
		by      registry.LowestBy
		assumed bool
		usual   bool
		until   string // UTC
	}{
		{"the night decides", whole(), registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-01 16:00"},
		{
			"the setting decides", whole(session(func(s *registry.GluingSession) { s.RockC, s.NightC = measured(11), measured(15) })),
			registry.CureBySheet, 80, registry.LowestSetting, false, false, "2025-06-01 15:20",
		},
		{
			"what was found later decides", whole(night(11), cured(func(u *registry.Cure) { u.LowestC = measured(9.5) })),
			registry.CureBySheet, 120, registry.LowestNight, false, false, "2025-06-01 16:00",
		},
		{"night not read: the row for 0 degC", whole(noNight, coldRows), registry.CureBySheet, 1440, registry.LowestRow, true, false, "2025-06-02 14:00"},
		{"night not read, frost at the setting", whole(noNight, coldRows, air(-3)), registry.CureBySheet, 2880, registry.LowestRow, true, false, "2025-06-03 14:00"},
		{"the air was colder than the night assumed", whole(coldRows, assumedNight(11), air(4)), registry.CureBySheet, 1440, registry.LowestSetting, true, false, "2025-06-02 14:00"},
		{"the rock was colder than the lowest measured", whole(noNight, coldRows, cured(func(u *registry.Cure) { u.LowestC = measured(15) })), registry.CureBySheet, 80, registry.LowestSetting, false, false, "2025-06-01 15:20"},
		{"the air was colder than the lowest measured", whole(noNight, coldRows, air(4), cured(func(u *registry.Cure) { u.LowestC = measured(15) })), registry.CureBySheet, 1440, registry.LowestSetting, true, false, "2025-06-02 14:00"},
		{"an assumed night outdoors", whole(assumedNight(11)), registry.CureBySheet, 80, registry.LowestNight, true, false, "2025-06-01 15:20"},
		{"an assumed night in a cave, warmer than the house rules", whole(cave, assumedNight(11)), registry.CureBySheet, 120, registry.LowestCave, true, false, "2025-06-01 16:00"},
		{
			"an assumed lowest in a cave", whole(cave, noNight, cured(func(u *registry.Cure) { u.LowestC = &registry.Reading{C: 11} })),
			registry.CureBySheet, 120, registry.LowestCave, true, false, "2025-06-01 16:00",
		},
		{
			"a measured lowest in a cave beside an assumed night", whole(cave, assumedNight(12), cured(func(u *registry.Cure) { u.LowestC = measured(11) })),
			registry.CureBySheet, 80, registry.LowestNight, false, false, "2025-06-01 15:20",
		},
		{
			"how it was read is not recorded", whole(session(func(s *registry.GluingSession) { s.NightC.How = "" })),
			registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-01 16:00",
		},
		{"a cave stands in for the night", whole(cave, noNight), registry.CureBySheet, 120, registry.LowestCave, true, false, "2025-06-01 16:00"},
		{"a session's night in a cave lies ahead, whatever it says", whole(cave, night(11)), registry.CureBySheet, 120, registry.LowestCave, true, false, "2025-06-01 16:00"},
		{
			"nothing read: the row for 0 degC", whole(coldRows, session(func(s *registry.GluingSession) { s.RockC, s.NightC = nil, nil })),
			registry.CureBySheet, 1440, registry.LowestRow, true, false, "2025-06-02 14:00",
		},
		{"damp, the row's own", whole(damp, night(12)), registry.CureBySheet, 160, registry.LowestSetting, false, false, "2025-06-01 16:40"},
		{"damp, the usual doubling", whole(damp), registry.CureBySheet, 240, registry.LowestNight, true, true, "2025-06-01 18:00"},
		{
			"moisture not known counts as wet", whole(set(func(i *registry.Installation) { i.Moisture = "" })),
			registry.CureBySheet, 240, registry.LowestNight, true, true, "2025-06-01 18:00",
		},
		{
			"about 14:00 is the latest it can have been", whole(set(func(i *registry.Installation) { i.SetAt.To = at("2025-06-01 14:30") })),
			registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-01 16:30",
		},
		{
			"the day only", whole(set(func(i *registry.Installation) { i.SetAt = calendar.Moment{} })),
			registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-02 14:00",
		},
		{
			"a time of the year before", whole(set(func(i *registry.Installation) { i.SetAt = moment("2024-06-01 14:00") })),
			registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-02 14:00",
		},
		{
			"a time of the evening before in UTC", whole(set(func(i *registry.Installation) { i.SetAt = moment("2025-05-31 14:00") })),
			registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-05-31 16:00",
		},
		{
			"some day of June", whole(sometimeInJune, set(func(i *registry.Installation) { i.SetAt = calendar.Moment{} })),
			registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-07-01 14:00",
		},
		{"the label, dry", whole(noSheet, label(90, degrees(5))), registry.CureByLabel, 90, registry.LowestNight, true, false, "2025-06-01 15:30"},
		{
			"the label in a cave, nothing read", whole(cave, noSheet, label(90, degrees(5)), func(f *registry.Facts) { f.Sessions = nil }),
			registry.CureByLabel, 90, registry.LowestCave, true, false, "2025-06-01 15:30",
		},
		{"the label, damp", whole(noSheet, damp, label(90, degrees(5))), registry.CureByLabel, 180, registry.LowestNight, true, true, "2025-06-01 17:00"},
		{"the longer of two labels", whole(noSheet, label(90, degrees(5)), label(100, degrees(9))), registry.CureByLabel, 100, registry.LowestNight, true, false, "2025-06-01 15:40"},
		{"the longer of sheet and label: the label", whole(label(130, nil)), registry.CureByLabel, 130, registry.LowestNight, true, false, "2025-06-01 16:10"},
		{"and doubled in a damp hole", whole(damp, label(121, nil)), registry.CureByLabel, 242, registry.LowestNight, true, true, "2025-06-01 18:02"},
		{"the longer of sheet and label: the sheet", whole(label(10, degrees(5))), registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-01 16:00"},
		{
			"a sheet without times: the label", whole(sheet(func(v *registry.ProductVersion) { v.CureRows = nil }), label(90, degrees(5))),
			registry.CureByLabel, 90, registry.LowestNight, true, false, "2025-06-01 15:30",
		},
		{"form not known", whole(func(f *registry.Facts) { f.Anchor.Form = "" }), registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-01 16:00"},
		{
			"the adhesive is the session's", whole(set(func(i *registry.Installation) { i.AdhesiveID = nil }),
				session(func(s *registry.GluingSession) { s.AdhesiveID = ptr(id("adhesive")) })),
			registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-01 16:00",
		},
		{"the adhesive is the batch's", whole(set(func(i *registry.Installation) { i.AdhesiveID, i.BatchID = nil, ptr(id("batch")) }),
			func(f *registry.Facts) {
				f.Batches = []registry.Batch{{ID: id("batch"), ProductID: ptr(id("adhesive"))}}
			}), registry.CureBySheet, 120, registry.LowestNight, true, false, "2025-06-01 16:00"},
		{"the session that replaces it", whole(corrected), registry.CureBySheet, 80, registry.LowestSetting, false, false, "2025-06-01 15:20"},
	}
	for _, test := range tests {
		got, ok := sheetcheck.Cure(&test.facts, &house)
		if !ok || got.Missing != "" || got.Basis != test.basis || got.CureMinutes == nil || *got.CureMinutes != test.minutes ||
			got.LowestBy != test.by || got.Assumed != test.assumed || got.UsualDoubling != test.usual || !got.NotBefore.Equal(at(test.until)) {
			t.Errorf("%s: Cure = %+v, %v; want %v, %v minutes by %v until %v", test.name, got, ok, test.basis, test.minutes, test.by, test.until)
		}
		if moisture := test.facts.Setting().Moisture; got.MoistureUnknown != (got.Wet && moisture == "") {
			t.Errorf("%s: Cure says %t that the moisture is unknown; it is %q", test.name, got.MoistureUnknown, moisture)
		}
	}
}

// coldRows begins the invented sheet at -10 degC: two days below zero, a day from 0 to
// 4 degC.
func coldRows(f *registry.Facts) {
	f.Sheets[0].CureRows = append([]registry.CureRow{
		{FromC: -10, ToC: -1, WorkMinutes: 90, CureMinutes: 2880},
		{FromC: 0, ToC: 4, WorkMinutes: 60, CureMinutes: 1440},
	}, f.Sheets[0].CureRows...)
}

func air(c quantity.Temperature) func(*registry.Facts) {
	return session(func(s *registry.GluingSession) { s.AirC = measured(c) })
}

// corrected replaces the session twice; the last one read a night of 11 degC and
// the rock at 10.
func corrected(f *registry.Facts) {
	old := f.Sessions[0]
	middle := registry.GluingSession{ID: id("second session"), DoneOn: old.DoneOn, Replaces: &old.ID, NightC: measured(-5)}
	last := registry.GluingSession{ID: id("third session"), DoneOn: old.DoneOn, Replaces: &middle.ID, RockC: measured(10), NightC: measured(11)}
	f.Sessions = []registry.GluingSession{last, old, middle}
}

func TestCureSaysWhichSheet(t *testing.T) {
	t.Parallel()
	f := whole(func(f *registry.Facts) {
		later, earlier := f.Sheets[0], f.Sheets[0]
		later.ID, later.From = id("later"), day("2025-06-02")
		earlier.ID, earlier.From = id("earlier"), day("2020-01-01")
		f.Sheets = append(f.Sheets, later, earlier)
	})
	got, _ := sheetcheck.Cure(&f, &house)
	if got.SheetID == nil || *got.SheetID != id("sheet") || got.Source != "invented sheet" || got.InstallationID != id("installation") {
		t.Errorf("Cure = %+v, want the sheet of that day", got)
	}
	if got.WorkingMinutes == nil || *got.WorkingMinutes != 15 {
		t.Errorf("working time %v, want 15 minutes at 12 degC", got.WorkingMinutes)
	}
	f.Installations[0].DoneOn.From = day("2023-05-01") // the earlier end of an uncertain day
	if got, _ := sheetcheck.Cure(&f, &house); got.SheetID == nil || *got.SheetID != id("earlier") {
		t.Errorf("Cure = %+v, want the sheet of the earlier end", got)
	}
}

func TestNoCureTime(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name  string
		facts registry.Facts
		want  string
	}{
		{"no sheet", whole(noSheet), sheetcheck.NoSheet},
		{"a sheet of later", whole(sheet(func(v *registry.ProductVersion) { v.From = day("2025-06-02") })), sheetcheck.NoSheet},
		{"which adhesive is not known", whole(set(func(i *registry.Installation) { i.AdhesiveID = nil })), sheetcheck.NoAdhesive},
		{"the batch is of an adhesive without a sheet", whole(otherBatch("other"), session(func(s *registry.GluingSession) {
			s.AdhesiveID = ptr(id("adhesive"))
		})), sheetcheck.NoSheet},
		{"the batch is of nobody knows what", whole(otherBatch(""), session(func(s *registry.GluingSession) {
			s.AdhesiveID = ptr(id("adhesive"))
		})), sheetcheck.NoAdhesive},
		{"the batch is not the adhesive's", whole(otherBatch("other"), set(func(i *registry.Installation) {
			i.AdhesiveID = ptr(id("adhesive"))
		})), sheetcheck.Contradicted},
		{"too cold", whole(night(4)), string(adhesive.TooCold)},
		{"too warm", whole(night(25), session(func(s *registry.GluingSession) { s.RockC = measured(25) })), string(adhesive.TooWarm)},
		{"flooded", whole(set(func(i *registry.Installation) { i.Moisture = registry.RunningIn })), string(adhesive.Flooded)},
		{"flooded, by the label", whole(noSheet, label(90, degrees(5)), set(func(i *registry.Installation) { i.Moisture = registry.WaterFilled })), string(adhesive.Flooded)},
		{"the label's row was warmer", whole(noSheet, label(90, degrees(10))), sheetcheck.LabelTooWarm},
		{"a label without its row", whole(noSheet, label(90, nil)), sheetcheck.LabelNoRow},
		{"a label, and a night nobody read", whole(noSheet, noNight, label(90, degrees(5))), sheetcheck.RockNotKnown},
		{"a label for warmer rock than a cave's", whole(cave, noSheet, noNight, label(90, degrees(5.5))), sheetcheck.LabelTooWarm},
		{"a label does not make a flooded hole good", whole(label(900, degrees(5)), set(func(i *registry.Installation) { i.Moisture = registry.RunningIn })), string(adhesive.Flooded)},
		{"nor a colder rock", whole(night(4), label(900, degrees(0))), string(adhesive.TooCold)},
		{"running in, the sheet names standing water only", whole(
			sheet(func(v *registry.ProductVersion) { v.Moistures = []registry.Moisture{registry.WaterFilled} }),
			set(func(i *registry.Installation) { i.Moisture = registry.RunningIn })), string(adhesive.Flooded)},
		{"too cold at the setting, night not read", whole(noNight, session(func(s *registry.GluingSession) { s.RockC = measured(4) })), string(adhesive.TooCold)},
		{"too cold in the air, night not read", whole(noNight, session(func(s *registry.GluingSession) { s.AirC = measured(4) })), string(adhesive.TooCold)},
		{"a night nobody read, and a sheet that begins at 5 degC", whole(noNight), sheetcheck.RockNotKnown},
		{"nothing read, and a sheet that ends below zero", whole(sheet(func(v *registry.ProductVersion) {
			v.CureRows = []registry.CureRow{{FromC: -20, ToC: -5, CureMinutes: 600}}
		}), session(func(s *registry.GluingSession) { s.RockC, s.NightC = nil, nil })), sheetcheck.RockNotKnown},
		{"too cold in the air, night assumed", whole(assumedNight(11), air(4)), string(adhesive.TooCold)},
		{"a label of an earlier day", whole(noSheet, label(90, degrees(5)), func(f *registry.Facts) {
			f.Cures[0].DoneOn = calendar.Exactly(day("2025-05-31"))
		}), sheetcheck.NoSheet},
		{"a label of another setting", whole(noSheet, label(90, degrees(5)), func(f *registry.Facts) {
			other := registry.Installation{Record: registry.Record{ID: id("first setting"), DoneOn: calendar.Exactly(day("2020-05-31")), Origin: registry.Recorded}}
			f.Installations = append(f.Installations, other)
			f.Cures[0].InstallationID = &other.ID
		}), sheetcheck.NoSheet},
	}
	for _, test := range tests {
		got, ok := sheetcheck.Cure(&test.facts, &house)
		if !ok || got.Missing != test.want || got.Basis != registry.CureNone || got.CureMinutes != nil || !got.NotBefore.IsZero() {
			t.Errorf("%s: Cure = %+v, %v; want none, %q", test.name, got, ok, test.want)
		}
	}
	undated := whole(set(func(i *registry.Installation) { i.DoneOn, i.SetAt = calendar.Span{}, calendar.Moment{} }),
		session(func(s *registry.GluingSession) { s.DoneOn = calendar.Span{} }), noSheet, label(90, degrees(5)))
	if got, _ := sheetcheck.Cure(&undated, &house); got.Missing != sheetcheck.SetNotKnown || got.CureMinutes == nil || !got.NotBefore.IsZero() {
		t.Errorf("undated: Cure = %+v, want a time and no instant", got)
	}
}

// otherBatch gives the line a batch of its own, of a product (blank: not known),
// and no adhesive.
func otherBatch(product string) func(*registry.Facts) {
	return func(f *registry.Facts) {
		b := registry.Batch{ID: id("other batch"), Text: "invented"}
		if product != "" {
			b.ProductID = ptr(id(product))
		}
		f.Batches = append(f.Batches, b)
		f.Installations[0].AdhesiveID, f.Installations[0].BatchID = nil, &b.ID
	}
}

// A line with a batch of its own takes that batch's sheet, never its session's.
func TestCureTakesTheBatchsSheet(t *testing.T) {
	t.Parallel()
	f := whole(otherBatch("other"), session(func(s *registry.GluingSession) { s.AdhesiveID = ptr(id("adhesive")) }),
		func(f *registry.Facts) {
			other := f.Sheets[0]
			other.ID, other.ProductID = id("other sheet"), id("other")
			other.CureRows = []registry.CureRow{{FromC: 0, ToC: 30, WorkMinutes: 30, CureMinutes: 600}}
			f.Sheets = append(f.Sheets, other)
		})
	got, _ := sheetcheck.Cure(&f, &house)
	if got.SheetID == nil || *got.SheetID != id("other sheet") || *got.CureMinutes != 600 {
		t.Errorf("Cure = %+v, want the other sheet's 600 minutes", got)
	}
}

func TestNoCureOfWhatIsNotBonded(t *testing.T) {
	t.Parallel()
	for name, f := range map[string]registry.Facts{
		"a bolt": whole(form(registry.ThroughBolt)),
		"a bolt among what was glued": whole(form(registry.ThroughBolt), func(f *registry.Facts) {
			i := &f.Installations[0]
			i.Form, i.SessionID, f.Sessions[0].AdhesiveID = registry.ThroughBolt, &f.Sessions[0].ID, ptr(id("adhesive"))
		}),
		"a bolt where another was glued before": whole(form(registry.ThroughBolt), func(f *registry.Facts) {
			f.Installations[0].Form = registry.ThroughBolt
			f.Installations = append(f.Installations, registry.Installation{
				Record: registry.Record{ID: id("earlier"), DoneOn: calendar.Exactly(day("2001-06-01"))}, Form: registry.GlueIn,
			})
		}),
		"nothing on record ": whole(func(f *registry.Facts) { f.Installations = nil }),
	} {
		if got, ok := sheetcheck.Cure(&f, &house); ok {
			t.Errorf("%s: Cure = %+v, want none", name, got)
		}
	}
}

// The latest setting counts, and what a person recorded before what a list says.
func TestTheLatestSettingCounts(t *testing.T) {
	t.Parallel()
	setAnew := func(on string, origin registry.Origin) func(*registry.Facts) {
		return func(f *registry.Facts) {
			f.Installations = append(f.Installations, registry.Installation{
				Record: registry.Record{ID: id(on), DoneOn: calendar.Exactly(day(on)), Origin: origin},
			})
		}
	}
	for _, test := range []struct {
		on     string
		origin registry.Origin
		want   uuid.UUID
	}{
		{"2025-07-01", registry.Recorded, id("2025-07-01")},
		{"2025-05-01", registry.Recorded, id("installation")},
		{"2025-07-01", registry.Imported, id("installation")},
	} {
		f := whole(setAnew(test.on, test.origin))
		if got, _ := sheetcheck.Cure(&f, &house); got.InstallationID != test.want {
			t.Errorf("%s %s: setting %v, want %v", test.origin, test.on, got.InstallationID, test.want)
		}
	}
}

func TestSetBy(t *testing.T) {
	t.Parallel()
	f := whole(session(func(s *registry.GluingSession) { s.SetByID = ptr(id("another")) }))
	if got := sheetcheck.SetBy(&f); len(got) != 2 || got[0] != id("setter") || got[1] != id("another") {
		t.Errorf("SetBy = %v, want the record's person and the session's", got)
	}
}

// anyReading draws a temperature within the rows of the sheet.
func anyReading(t *rapid.T, name string) *registry.Reading {
	return measured(quantity.Temperature(rapid.Float64Range(5, 19).Draw(t, name)))
}

// Forgetting a fact never brings the end of the cure forward: of what was known,
// anything is plausible.
func TestNotKnownIsNeverSooner(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		start := time.Duration(rapid.IntRange(0, 1400).Draw(t, "set at")) * time.Minute
		f := whole(coldRows, set(func(i *registry.Installation) {
			i.Moisture = rapid.SampledFrom([]registry.Moisture{registry.HoleDry, registry.HoleDamp, registry.Saturated}).Draw(t, "moisture")
			i.SetAt.From = day("2025-06-01").Time().Add(start)
			i.SetAt.To = i.SetAt.From
		}), session(func(s *registry.GluingSession) { s.RockC, s.NightC = anyReading(t, "rock"), anyReading(t, "night") }))
		known, _ := sheetcheck.Cure(&f, &house)
		g := f
		g.Installations = []registry.Installation{f.Installations[0]}
		g.Sessions = []registry.GluingSession{f.Sessions[0]}
		rapid.SampledFrom([]func(){
			func() { g.Installations[0].Moisture = "" },
			func() { g.Installations[0].SetAt = calendar.Moment{} },
			func() { g.Sessions = nil },
			func() { g.Sessions[0].RockC, g.Sessions[0].NightC = nil, nil },
			func() { g.Sessions[0].NightC = nil },
		}).Draw(t, "forget")()
		if unknown, _ := sheetcheck.Cure(&g, &house); unknown.NotBefore.Before(known.NotBefore) {
			t.Fatalf("not known: %v, known: %v", unknown.NotBefore, known.NotBefore)
		}
	})
}

// Recording nothing of the rock never gives an earlier end of the cure than any
// reading no colder than the house rules' own: 0 degC, in a cave 5 degC; of rock,
// air, night or lowest, measured or assumed.
func TestRecordingNothingIsNeverSooner(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		place := rapid.SampledFrom([]registry.SiteKind{registry.Crag, registry.Cave, ""}).Draw(t, "place")
		least := float64(house.ColdestRock.Value)
		if place == registry.Cave {
			least = float64(house.CaveRock.Value)
		}
		some := func(name string) *registry.Reading {
			if rapid.Bool().Draw(t, "no "+name) {
				return nil
			}
			r := measured(quantity.Temperature(rapid.Float64Range(least, 19).Draw(t, name)))
			r.How = rapid.SampledFrom([]registry.HowRead{registry.Measured, registry.Assumed, ""}).Draw(t, name+" how")
			return r
		}
		at := func(f *registry.Facts) { f.Site.Kind = place }
		nothing := whole(at, coldRows, session(func(s *registry.GluingSession) { s.RockC, s.NightC = nil, nil }))
		none, _ := sheetcheck.Cure(&nothing, &house)
		recorded := whole(at, coldRows, session(func(s *registry.GluingSession) {
			s.RockC, s.AirC, s.NightC = some("rock"), some("air"), some("night")
		}), cured(func(u *registry.Cure) { u.LowestC = some("lowest") }))
		known, _ := sheetcheck.Cure(&recorded, &house)
		if known.NotBefore.IsZero() || none.NotBefore.Before(known.NotBefore) {
			t.Fatalf("nothing recorded: %v, recorded: %v", none.NotBefore, known.NotBefore)
		}
	})
}

// Colder rock and a wetter hole never bring the end of the cure forward, and the
// order of facts means nothing.
func TestColderAndWetterAreNeverSooner(t *testing.T) {
	t.Parallel()
	rapid.Check(t, func(t *rapid.T) {
		a, b := anyReading(t, "rock"), anyReading(t, "night")
		f := whole(session(func(s *registry.GluingSession) { s.RockC, s.NightC = a, b }))
		before, _ := sheetcheck.Cure(&f, &house)
		colder := whole(session(func(s *registry.GluingSession) { s.RockC, s.NightC = a, b }),
			cured(func(u *registry.Cure) { u.LowestC = anyReading(t, "as found") }))
		after, _ := sheetcheck.Cure(&colder, &house)
		wet := whole(damp, session(func(s *registry.GluingSession) { s.RockC, s.NightC = a, b }))
		wetter, _ := sheetcheck.Cure(&wet, &house)
		if after.NotBefore.Before(before.NotBefore) || wetter.NotBefore.Before(before.NotBefore) {
			t.Fatalf("dry %v, one more reading %v, damp %v", before.NotBefore, after.NotBefore, wetter.NotBefore)
		}
	})
}

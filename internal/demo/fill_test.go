package demo_test

import (
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/demo"
	"rockledger/internal/houserules"
	"rockledger/internal/pgtest"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// filled is a register with the scenario in it, on a day.
func filled(t *testing.T, at time.Time) (*app.Service, registry.Actor) {
	t.Helper()
	db := pgtest.New(t)
	group := registry.Group{ID: uuid.Must(uuid.NewV7()), Slug: "demo", Name: "demo", TimeZone: "Europe/London"}
	rules, err := houserules.Default().JSON()
	if err == nil {
		err = postgres.NewAdmin(db.Owner()).AddGroup(t.Context(), group, rules)
	}
	if err != nil {
		t.Fatal(err)
	}
	service := app.New(postgres.New(db.App), func() time.Time { return at })
	who := registry.Actor{GroupID: group.ID, Group: group.Slug, TimeZone: group.TimeZone, Role: registry.RoleOwner, Who: "test"}
	if err := demo.Fill(t.Context(), service, who, at); err != nil {
		t.Fatal(err)
	}
	return service, who
}

// Whatever the season, the register is neither all red nor empty, and has
// something to show of each kind.
func TestFill(t *testing.T) {
	t.Parallel()
	for name, at := range map[string]time.Time{
		"late autumn": noon,
		"midsummer":   time.Date(2027, 6, 21, 12, 0, 0, 0, time.UTC),
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			service, who := filled(t, at)
			today, err := service.Today(t.Context(), who, 10)
			if err != nil {
				t.Fatal(err)
			}
			living := 0
			for _, n := range today.Counts.ByStanding {
				living += n
			}
			living -= today.Counts.ByStanding[registry.StandingRemoved]
			if n := today.Overdue.Total; n < living/20 || n > living/7 {
				t.Errorf("%d of %d anchors are overdue, want about a tenth", n, living)
			}
			if bad := today.Suspect.Total + today.OutOfUse.Total + today.Marked.Total; bad == 0 || bad > living/6 {
				t.Errorf("%d of %d anchors are suspect or out of use, want a few", bad, living)
			}
			if today.OutOfUse.Total == 0 || today.Marked.Total != 1 {
				t.Errorf("out of use: %d unmarked, %d marked, want some and 1", today.OutOfUse.Total, today.Marked.Total)
			}
			tasks := make(map[string]report.TaskKind)
			for _, task := range today.Tasks {
				tasks[task.Site.Name] = task.Kind
			}
			if tasks["Old Brackwater Quarry"] != report.TaskEnvironment || tasks["Hollin Deep Cave"] != report.TaskSeaDistance {
				t.Errorf("tasks %v, want the quarry's environment and how far the sea is from the cave", tasks)
			}
			holds(t, service, who)
			cures(t, service, who)
		})
	}
}

// cures looks at the six anchors of one cartridge: one is not in use yet, two
// have something against how they were set, and all have a time by the sheet.
func cures(t *testing.T, service *app.Service, who registry.Actor) {
	t.Helper()
	lines, err := service.Anchors(t.Context(), who, registry.AnchorFilter{Text: "Wet Paint"}, registry.Page{Limit: 50})
	if err != nil || len(lines) != 6 {
		t.Fatalf("%d anchors of the cartridge, %v; want 6", len(lines), err)
	}
	ids, waiting, found := make([]uuid.UUID, 0, len(lines)), 0, make(map[string]int)
	for _, l := range lines {
		ids = append(ids, l.Anchor.ID)
		if l.Standing == registry.NotInUseYet {
			waiting++
		}
		story, err := service.AnchorStory(t.Context(), who, l.Anchor.ID)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range story.Assessment.Findings {
			found[f.Rule]++
		}
	}
	if waiting != 1 || found["hole-narrower-than-sheet"] != 1 || found["cleaning-short-of-sheet"] != 1 || found["loaded-before-cure"] != 0 {
		t.Errorf("%d anchors wait, findings %v; want one, and one of each of two", waiting, found)
	}
	times, err := service.CureTimes(t.Context(), who, ids)
	if err != nil || len(times) != len(ids) {
		t.Fatalf("%d cure times, %v; want %d", len(times), err, len(ids))
	}
	for id, c := range times {
		if c.Basis != registry.CureBySheet || c.NotBefore.IsZero() || c.LowestBy != registry.LowestNight {
			t.Errorf("cure time of %v = %+v, want one by the sheet at the night's temperature", id, c)
		}
	}
}

// pictured counts the pictures.
func pictured(t *testing.T, service *app.Service, who registry.Actor) (n int) {
	t.Helper()
	lines, err := service.Anchors(t.Context(), who, registry.AnchorFilter{}, registry.Page{Limit: 500})
	if err != nil {
		t.Fatal(err)
	}
	for _, l := range lines {
		list, err := service.Pictures(t.Context(), who, l.Anchor.ID, registry.Page{})
		if err != nil {
			t.Fatal(err)
		}
		for _, p := range list {
			if p.RecordID == nil || p.PersonID == nil || p.Words == "" {
				t.Errorf("picture %+v, want its record, person and words", p)
			}
			n++
		}
	}
	return n
}

// holds looks for what is entered after the scenario: parcels drawn, a
// settlement.
func holds(t *testing.T, service *app.Service, who registry.Actor) {
	t.Helper()
	parcels, err := service.Parcels(t.Context(), who, nil, registry.Page{Limit: 10})
	if err != nil {
		t.Fatal(err)
	}
	drawn := 0
	for _, p := range parcels {
		if p.AreaM2 != nil && *p.AreaM2 > 50000 && *p.AreaM2 < 500000 {
			drawn++
		}
	}
	if len(parcels) != 5 || drawn != 3 { // the list names an owner, whose land nobody has drawn
		t.Errorf("%d parcels, %d drawn with a likely area, want 5 and 3", len(parcels), drawn)
	}
	asOf := service.AsOf(who)
	land, err := service.Land(t.Context(), who, nil, asOf.AddYears(-1), asOf, false)
	if err != nil {
		t.Fatal(err)
	}
	settled, agreed := 0, 0
	for _, o := range land.Owners {
		agreed += len(o.Agreements)
		for _, p := range o.Problems {
			settled += p.Settled
		}
	}
	if settled != 1 || agreed != 3 {
		t.Errorf("land report: %d findings settled, %d agreements, want 1 and 3", settled, agreed)
	}
	if n := pictured(t, service, who); n != 2 {
		t.Errorf("%d pictures, want 2 drawings", n)
	}
	waiting, err := service.ProposalGroups(t.Context(), who, registry.ProposalFilter{State: registry.ProposalOpen})
	if err != nil || len(waiting) != 5 {
		t.Errorf("%d groups of notes wait, %v; want 5", len(waiting), err)
	}
	if work := workOf(t, service, who); work.Replace == 0 || work.Repair == 0 || len(work.Kit) == 0 {
		t.Errorf("work list: %d to replace, %d to repair, %d lines of kit, want some of each", work.Replace, work.Repair, len(work.Kit))
	}
}

func workOf(t *testing.T, service *app.Service, who registry.Actor) report.Work {
	t.Helper()
	work, err := service.Work(t.Context(), who, calendar.Date(0))
	if err != nil {
		t.Fatal(err)
	}
	return work
}

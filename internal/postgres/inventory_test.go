package postgres_test

import (
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// write saves a change through Write.
func (r *register) write(t *testing.T, ch registry.Change) error {
	t.Helper()
	ch.What, ch.At = "test", sample.At
	return r.store.Write(t.Context(), r.who, ch)
}

// same reads a noun and compares it with what was stored.
func same[T any](t *testing.T, name string, want T, read func() (T, error)) {
	t.Helper()
	got, err := read()
	if err != nil {
		t.Errorf("%s: %v", name, err)
		return
	}
	if d := diff(want, got); d != "" {
		t.Errorf("%s differs (-want +got):\n%s", name, d)
	}
}

func TestEveryStatementReadsAsItWasStored(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	s.parcel.Outline, s.parcel.AreaM2 = `{"type":"Polygon","coordinates":[]}`, sample.Of(1234.5)
	s.landowner.EndedOn, s.fitting.EndedOn = sample.Day, sample.Day
	s.position.ParcelByHand, s.position.EndedOn = true, sample.Day
	r.enter(t, s.change())
	ctx, g := t.Context(), r.group.ID
	for _, version := range []*int{
		&s.assembly.Version, &s.fitting.Version, &s.person.Version, &s.landowner.Version, &s.parcel.Version, &s.agreement.Version,
		&s.restriction.Version, &s.picture.Version, &s.environment.Version, &s.event.Version, &s.notice.Version, &s.position.Version,
	} {
		*version = 1
	}
	same(t, "assembly", s.assembly, func() (registry.Assembly, error) { return r.store.Assembly(ctx, g, s.assembly.ID) })
	same(t, "fitting", s.fitting, func() (registry.Fitting, error) { return r.store.Fitting(ctx, g, s.fitting.ID) })
	same(t, "picture", s.picture, func() (registry.Picture, error) { return r.store.Picture(ctx, g, s.picture.ID) })
	same(t, "picture by its hash", s.picture, func() (registry.Picture, error) { return r.store.PictureOf(ctx, g, s.anchor.ID, s.picture.Hash) })
	same(t, "person", s.person, func() (registry.Person, error) { return r.store.Person(ctx, g, s.person.ID) })
	same(t, "landowner", s.landowner, func() (registry.Landowner, error) { return r.store.Landowner(ctx, g, s.landowner.ID) })
	same(t, "parcel", s.parcel, func() (registry.Parcel, error) { return r.store.Parcel(ctx, g, s.parcel.ID) })
	same(t, "position", s.position, func() (registry.Position, error) { return r.store.Position(ctx, g, s.position.ID) })
	same(t, "agreement", s.agreement, func() (registry.Agreement, error) { return r.store.Agreement(ctx, g, s.agreement.ID) })
	same(t, "restriction", s.restriction, func() (registry.Restriction, error) { return r.store.Restriction(ctx, g, s.restriction.ID) })
	same(t, "environment", s.environment, func() (registry.Environment, error) { return r.store.Environment(ctx, g, s.environment.ID) })
	same(t, "event", s.event, func() (registry.Event, error) { return r.store.Event(ctx, g, s.event.ID) })
	same(t, "notice", s.notice, func() (registry.Notice, error) { return r.store.Notice(ctx, g, s.notice.ID) })
	same(t, "stops", []registry.Stop{s.stop}, func() ([]registry.Stop, error) { return r.store.StopsOf(ctx, g, s.position.ID) })
	same(t, "product versions", []registry.ProductVersion{s.version}, func() ([]registry.ProductVersion, error) {
		return r.store.ProductVersions(ctx, g, s.hardware.ID)
	})
}

func TestStatementsAreListed(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	ctx, g, all, none := t.Context(), r.group.ID, registry.Page{}, sample.ID()
	counts := map[string]func(id *uuid.UUID) (int, error){
		"assemblies":   func(id *uuid.UUID) (int, error) { l, err := r.store.Assemblies(ctx, g, id, all); return len(l), err },
		"environments": func(id *uuid.UUID) (int, error) { l, err := r.store.Environments(ctx, g, id, all); return len(l), err },
		"events":       func(id *uuid.UUID) (int, error) { l, err := r.store.Events(ctx, g, id, all); return len(l), err },
		"parcels":      func(id *uuid.UUID) (int, error) { l, err := r.store.Parcels(ctx, g, id, all); return len(l), err },
		"agreements":   func(id *uuid.UUID) (int, error) { l, err := r.store.Agreements(ctx, g, id, all); return len(l), err },
	}
	of := map[string]uuid.UUID{
		"assemblies": s.site.ID, "environments": s.site.ID, "events": s.site.ID, "parcels": s.landowner.ID, "agreements": s.landowner.ID,
	}
	for name, count := range counts {
		id := of[name]
		for asked, want := range map[*uuid.UUID]int{nil: 1, &id: 1, &none: 0} {
			if got, err := count(asked); err != nil || got != want {
				t.Errorf("%s, asked for %v: %d, %v, want %d", name, asked, got, err, want)
			}
		}
	}
	whole := map[string]func() (int, error){
		"persons":      func() (int, error) { l, err := r.store.Persons(ctx, g, all); return len(l), err },
		"landowners":   func() (int, error) { l, err := r.store.Landowners(ctx, g, all); return len(l), err },
		"restrictions": func() (int, error) { l, err := r.store.Restrictions(ctx, g, all); return len(l), err },
		"notices":      func() (int, error) { l, err := r.store.Notices(ctx, g, all); return len(l), err },
		"pictures":     func() (int, error) { l, err := r.store.Pictures(ctx, g, s.anchor.ID, all); return len(l), err },
		"fittings":     func() (int, error) { l, err := r.store.Fittings(ctx, g, s.anchor.ID, all); return len(l), err },
	}
	for name, count := range whole {
		if got, err := count(); err != nil || got != 1 {
			t.Errorf("%s: %d, %v, want 1", name, got, err)
		}
	}
}

// What is said of a position is what is said of itself, its routes, its sector
// and its site, and of nothing else.
func TestWhatIsSaidOfAPosition(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	other, elsewhere := sample.Position(s.site), sample.Site()
	ch := s.change()
	ch.Positions, ch.Sites = append(ch.Positions, other), append(ch.Sites, elsewhere)
	r.enter(t, ch)
	at := func(kind registry.PlaceKind, id uuid.UUID) registry.Environment {
		return sample.Environment(s.site, func(e *registry.Environment) { e.Place = registry.Place{Kind: kind, ID: id} })
	}
	statements := []registry.Environment{
		at(registry.AtSector, s.sector.ID), at(registry.AtRoute, s.route.ID), at(registry.AtPosition, s.position.ID),
	}
	bars := []registry.Restriction{
		sample.Restriction(registry.AtSector, s.sector.ID), sample.Restriction(registry.AtRoute, s.route.ID),
		sample.Restriction(registry.AtPosition, s.position.ID),
		sample.Restriction("", uuid.Nil, func(r *registry.Restriction) {
			r.Place, r.ParcelID, r.Yearly = nil, &s.parcel.ID, nil
			r.From, r.Until = sample.Day, sample.Day.AddDays(9)
		}),
	}
	err := r.write(t, registry.Change{
		Environments: append(statements, at(registry.AtPosition, other.ID), sample.Environment(elsewhere)),
		Restrictions: append(bars, sample.Restriction(registry.AtPosition, other.ID), sample.Restriction(registry.AtSite, elsewhere.ID)),
	})
	if err != nil {
		t.Fatal(err)
	}
	wantE := append([]registry.Environment{s.environment}, statements...)
	for i := range wantE {
		wantE[i].Version = 1
	}
	wantR := append([]registry.Restriction{s.restriction}, bars...)
	for i := range wantR {
		wantR[i].Version = 1
	}
	same(t, "environments", wantE, func() ([]registry.Environment, error) {
		return r.store.EnvironmentsAt(t.Context(), r.group.ID, s.position.ID)
	})
	same(t, "restrictions", wantR, func() ([]registry.Restriction, error) {
		return r.store.RestrictionsAt(t.Context(), r.group.ID, s.position.ID)
	})
	story, err := r.store.AnchorStory(t.Context(), r.group.ID, s.anchor.ID)
	if err != nil || len(story.Facts.Environments) != len(wantE) {
		t.Errorf("facts with %d environments, %v, want %d", len(story.Facts.Environments), err, len(wantE))
	}
	reach, err := r.store.RestrictionReach(t.Context(), r.group.ID)
	if err != nil || len(reach[s.position.ID]) != len(wantR) || len(reach[other.ID]) != 2 {
		t.Errorf("reach %v, %v, want %d restrictions at the position, 2 at the other", reach, err, len(wantR))
	}
}

func TestWriteQueuesWhatRestsOnIt(t *testing.T) {
	t.Parallel()
	tests := map[string]func(s *scene, ch *registry.Change){
		"environment of the site": func(s *scene, ch *registry.Change) {
			ch.Environments = []registry.Environment{sample.Environment(s.site)}
		},
		"environment of the sector": func(s *scene, ch *registry.Change) {
			ch.Environments = []registry.Environment{sample.Environment(s.site, func(e *registry.Environment) {
				e.Place = registry.Place{Kind: registry.AtSector, ID: s.sector.ID}
			})}
		},
		"environment of the route": func(s *scene, ch *registry.Change) {
			ch.Environments = []registry.Environment{sample.Environment(s.site, func(e *registry.Environment) {
				e.Place = registry.Place{Kind: registry.AtRoute, ID: s.route.ID}
			})}
		},
		"environment moved to another site": func(s *scene, ch *registry.Change) {
			other := sample.Site()
			s.environment.Version, s.environment.SiteID, s.environment.Place.ID = 1, other.ID, other.ID
			ch.Sites, ch.Environments = []registry.Site{other}, []registry.Environment{s.environment}
		},
		"event": func(s *scene, ch *registry.Change) { ch.Events = []registry.Event{sample.Event(s.site)} },
		"event taken back": func(s *scene, ch *registry.Change) {
			s.event.Version, s.event.EndedOn = 1, sample.Day
			ch.Events = []registry.Event{s.event}
		},
		"notice": func(s *scene, ch *registry.Change) { ch.Notices = []registry.Notice{sample.Notice(s.anchor)} },
		"notice by a criterion": func(s *scene, ch *registry.Change) {
			n := sample.Notice()
			n.Criterion.BatchIDs = []uuid.UUID{s.batch.ID}
			ch.Notices = []registry.Notice{n}
		},
		"notice that names it no more": func(s *scene, ch *registry.Change) {
			other := sample.Anchor(s.position)
			ch.Anchors, ch.Assessments = []registry.Anchor{other}, []registry.Assessment{sample.Assessment(other)}
			s.notice.Version, s.notice.AnchorIDs = 1, []uuid.UUID{other.ID}
			ch.Notices = []registry.Notice{s.notice}
		},
		"fitting": func(s *scene, ch *registry.Change) {
			s.fitting.Version, s.fitting.EndedOn = 1, sample.Day
			ch.Fittings = []registry.Fitting{s.fitting}
		},
		"stops taken away": func(s *scene, ch *registry.Change) { ch.StopsOf = []uuid.UUID{s.position.ID} },
		"assembly taken apart": func(s *scene, ch *registry.Change) {
			s.assembly.Version, s.assembly.EndedOn = 1, sample.Day
			ch.Assemblies = []registry.Assembly{s.assembly}
		},
		"record without assessment": func(s *scene, ch *registry.Change) {
			ch.Settlements = []registry.Settlement{sample.Settlement(s.anchor, s.person)}
		},
	}
	for name, edit := range tests {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r, s := newRegister(t), newScene()
			r.enter(t, s.change())
			var ch registry.Change
			edit(s, &ch)
			if err := r.write(t, ch); err != nil {
				t.Fatal(err)
			}
			if d := diff([]uuid.UUID{s.anchor.ID}, r.stale(t, 1, 0)); d != "" {
				t.Errorf("Stale() differs (-want +got):\n%s", d)
			}
		})
	}
}

func TestWriteLeavesOthersAlone(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	removed := sample.Anchor(s.position, func(a *registry.Anchor) { a.Removed = true })
	ch := s.change()
	ch.Anchors, ch.Assessments = append(ch.Anchors, removed), append(ch.Assessments, sample.Assessment(removed))
	r.enter(t, ch)
	s.landowner.Version, s.restriction.Version, s.sector.Version = 1, 1, 1
	other := sample.Hardware()
	err := r.write(t, registry.Change{
		Products: []registry.Product{other}, ProductVersions: []registry.ProductVersion{sample.ProductVersion(other)},
		Landowners: []registry.Landowner{s.landowner}, Restrictions: []registry.Restriction{s.restriction},
		Sectors: []registry.Sector{s.sector},
	})
	if got := r.stale(t, 1, 0); err != nil || len(got) > 0 {
		t.Errorf("Stale() = %v, %v after a change that no assessment rests on, want none", got, err)
	}
	if err := r.write(t, registry.Change{Events: []registry.Event{sample.Event(s.site)}}); err != nil {
		t.Fatal(err)
	}
	if d := diff([]uuid.UUID{s.anchor.ID}, r.stale(t, 1, 0)); d != "" {
		t.Errorf("Stale() after an event differs, removed anchors aside (-want +got):\n%s", d)
	}
}

func TestWriteRejects(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	s.person.Version = 2
	tests := []struct {
		name string
		ch   registry.Change
		kind fault.Kind
		code fault.Code
	}{
		{"another version", registry.Change{Persons: []registry.Person{s.person}}, fault.Stale, ""},
		{"an id that is taken", registry.Change{Environments: []registry.Environment{s.environment}}, fault.Conflict, ""},
		{"a sector of another site", registry.Change{Environments: []registry.Environment{
			sample.Environment(s.site, func(e *registry.Environment) { e.Place = registry.Place{Kind: registry.AtSector, ID: sample.ID()} }),
		}}, fault.Invalid, fault.NoSuchReference},
		{"a site that is not its own place", registry.Change{Environments: []registry.Environment{
			sample.Environment(s.site, func(e *registry.Environment) { e.Place.ID = sample.ID() }),
		}}, fault.Invalid, fault.Mismatch},
		{"an environment that ends before it begins", registry.Change{Environments: []registry.Environment{
			sample.Environment(s.site, func(e *registry.Environment) { e.Until = e.From.AddDays(-1) }),
		}}, fault.Invalid, fault.Order},
		{"a restriction with no day", registry.Change{Restrictions: []registry.Restriction{
			sample.Restriction(registry.AtSite, s.site.ID, func(r *registry.Restriction) { r.Yearly = nil }),
		}}, fault.Invalid, fault.Blank},
		{"a restriction at a place that is not there", registry.Change{Restrictions: []registry.Restriction{
			sample.Restriction(registry.AtRoute, sample.ID()),
		}}, fault.Invalid, fault.NoSuchReference},
		{"a notice about an anchor that is not there", registry.Change{Notices: []registry.Notice{
			sample.Notice(sample.Anchor(s.position)),
		}}, fault.Invalid, fault.NoSuchReference},
	}
	for _, tt := range tests {
		err := r.write(t, tt.ch)
		if err == nil || fault.KindOf(err) != tt.kind {
			t.Errorf("%s: error %v, want kind %v", tt.name, err, tt.kind)
			continue
		}
		if f, _ := fault.As(err); tt.code != "" && (len(f.Violations) != 1 || f.Violations[0].Code != tt.code) {
			t.Errorf("%s: violations %v, want %v", tt.name, f.Violations, tt.code)
		}
	}
}

func TestStopsAreReplaced(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	second, third := sample.Route(s.site), sample.Route(s.site)
	ch := s.change()
	ch.Routes = append(ch.Routes, second, third)
	ch.Stops = append(ch.Stops, sample.Stop(second, s.position))
	r.enter(t, ch)
	want := []registry.Stop{{RouteID: second.ID, PositionID: s.position.ID, Rank: 7}, {RouteID: third.ID, PositionID: s.position.ID, Rank: 1}}
	err := r.write(t, registry.Change{StopsOf: []uuid.UUID{s.position.ID}, Stops: want})
	if err != nil {
		t.Fatal(err)
	}
	same(t, "stops", want, func() ([]registry.Stop, error) { return r.store.StopsOf(t.Context(), r.group.ID, s.position.ID) })
}

func TestHouseRulesFollowEachOther(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	text, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	for _, version := range []int{1, 3} {
		if err := r.write(t, registry.Change{Rules: text, RulesVersion: version}); fault.KindOf(err) != fault.Stale {
			t.Errorf("house rules of version %d after 1: error %v, want Stale", version, err)
		}
	}
	if err := r.write(t, registry.Change{Rules: text, RulesVersion: 2}); err != nil {
		t.Fatal(err)
	}
	if got, err := r.store.Rules(t.Context(), r.group.ID); err != nil || got.Version != 2 {
		t.Errorf("Rules() = version %d, %v, want 2", got.Version, err)
	}
	if d := diff([]uuid.UUID{s.anchor.ID}, r.stale(t, 1, 0)); d != "" {
		t.Errorf("Stale() after new house rules differs (-want +got):\n%s", d)
	}
	if rows := r.ledger(t, "test"); rows[len(rows)-1].Noun != "house_rules" {
		t.Errorf("the last ledger row is of %s, want house_rules", rows[len(rows)-1].Noun)
	}
}

func TestSitesThatLackAnEnvironment(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	bare := sample.Site()
	ended := sample.Site(func(s *registry.Site) { s.EndedOn = sample.Day })
	cliff := sample.Site(func(s *registry.Site) { s.Kind = registry.SeaCliff })
	cave := sample.Site(func(s *registry.Site) { s.Kind, s.Lat, s.Lon = registry.Cave, nil, nil })
	inland := sample.Site()
	past := sample.Site()
	ch := s.change()
	ch.Sites = append(ch.Sites, bare, ended, cliff, cave, inland, past)
	ch.Environments = append(ch.Environments,
		sample.Environment(inland, func(e *registry.Environment) { e.SeaKm = nil }),
		sample.Environment(past, func(e *registry.Environment) { e.Until = sample.Day.AddDays(-1) }))
	r.enter(t, ch)
	for name, tt := range map[string]struct {
		list func() ([]registry.Site, error)
		want []uuid.UUID
	}{
		"environment": {
			func() ([]registry.Site, error) {
				return r.store.SitesWithoutEnvironment(t.Context(), r.group.ID, sample.Day)
			},
			[]uuid.UUID{bare.ID, cliff.ID, cave.ID, past.ID},
		},
		"sea distance": {
			func() ([]registry.Site, error) {
				return r.store.SitesWithoutSource(t.Context(), r.group.ID, sample.Day)
			},
			[]uuid.UUID{bare.ID, cave.ID, inland.ID, past.ID},
		},
	} {
		sites, err := tt.list()
		var got []uuid.UUID
		for _, s := range sites {
			got = append(got, s.ID)
		}
		if d := diff(tt.want, got); err != nil || d != "" {
			t.Errorf("sites without %s: %v (-want +got):\n%s", name, err, d)
		}
	}
}

func TestLandRecords(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	nobody := sample.Position(s.site)
	a := sample.Anchor(nobody)
	corrected := sample.Inspection(s.anchor, func(i *registry.Inspection) { i.Replaces = &s.inspection.ID; i.Verdict = registry.Repair })
	ch := s.change()
	ch.Positions, ch.Anchors = append(ch.Positions, nobody), append(ch.Anchors, a)
	ch.Inspections = append(ch.Inspections, corrected, sample.Inspection(a), sample.Inspection(a, func(i *registry.Inspection) {
		i.DoneOn = calendar.Exactly(calendar.NewDate(1999, time.May, 1))
	}))
	r.enter(t, ch)
	// The scene's removal is taken back; its installation is of 2014.
	got, err := r.store.LandRecords(t.Context(), r.group.ID, sample.Day.AddYears(-1), sample.Day)
	if err != nil {
		t.Fatal(err)
	}
	want := []registry.LandRecord{
		{LandownerID: &s.landowner.ID, AnchorID: s.anchor.ID, RecordID: corrected.ID, Kind: "inspection", DoneOn: corrected.DoneOn, Verdict: registry.Repair},
		{AnchorID: a.ID, RecordID: ch.Inspections[2].ID, Kind: "inspection", DoneOn: corrected.DoneOn, Verdict: registry.Keep},
		{LandownerID: &s.landowner.ID, AnchorID: s.anchor.ID, RecordID: s.maintenance.ID, Kind: "maintenance", DoneOn: s.maintenance.DoneOn},
		{LandownerID: &s.landowner.ID, AnchorID: s.anchor.ID, RecordID: s.marking.ID, Kind: "marking", DoneOn: s.marking.DoneOn},
		{LandownerID: &s.landowner.ID, AnchorID: s.anchor.ID, RecordID: s.lifted.ID, Kind: "marking", DoneOn: s.lifted.DoneOn},
		{LandownerID: &s.landowner.ID, AnchorID: s.anchor.ID, RecordID: s.settlement.ID, Kind: "settlement", DoneOn: s.settlement.DoneOn},
	}
	if d := diff(want, got); d != "" {
		t.Errorf("LandRecords() differs (-want +got):\n%s", d)
	}
	for day, n := range map[calendar.Date]int{calendar.NewDate(2014, time.June, 1): 1, calendar.NewDate(2013, time.December, 31): 0} {
		if got, err := r.store.LandRecords(t.Context(), r.group.ID, day, day); err != nil || len(got) != n {
			t.Errorf("LandRecords() of %v = %d records, %v, want %d: the installation of 2014", day, len(got), err, n)
		}
	}
}

package postgres_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func TestChangeStoresEveryNoun(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())

	story, err := r.store.AnchorStory(t.Context(), r.group.ID, s.anchor.ID)
	if err != nil {
		t.Fatal(err)
	}
	want := registry.AnchorStory{
		Facts:     s.facts(),
		Sector:    s.sector.Name,
		Routes:    []registry.Route{stored(s.route, func(r *registry.Route) *int { return &r.Version })},
		Landowner: s.landowner.Name,
		Persons:   map[uuid.UUID]string{s.person.ID: s.person.Name},
		Products: map[uuid.UUID]registry.Product{
			s.hardware.ID: stored(s.hardware, func(p *registry.Product) *int { return &p.Version }),
			s.adhesive.ID: stored(s.adhesive, func(p *registry.Product) *int { return &p.Version }),
		},
		Batches:    map[uuid.UUID]registry.Batch{s.batch.ID: stored(s.batch, func(b *registry.Batch) *int { return &b.Version })},
		Assessment: s.assessment,
		History: []registry.HistoryRow{{
			At: sample.At, Standing: s.assessment.Standing, DueOn: s.assessment.DueOn, DueState: s.assessment.DueState,
			Rules: []string{"batch-not-recorded"}, Settled: []string{"batch-not-recorded"},
		}},
	}
	if d := diff(want, story); d != "" {
		t.Errorf("AnchorStory() differs (-want +got):\n%s", d)
	}
}

func TestChangeKeepsWhatIsNotKnown(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	site := registry.Site{ID: sample.ID(), Name: "Bare Cave", Kind: registry.Cave}
	position := registry.Position{ID: sample.ID(), SiteID: site.ID, Label: "1"}
	anchor := registry.Anchor{ID: sample.ID(), SiteID: site.ID, PositionID: position.ID, Origin: registry.Imported, EnteredOn: sample.Day}
	bare := registry.Record{ID: sample.ID(), AnchorID: anchor.ID, Origin: registry.Imported, RecordedAt: sample.At}
	inspection := registry.Inspection{Record: bare, Level: registry.Glance, Found: sample.Of(false)}
	r.enter(t, registry.Change{
		What: "test", Sites: []registry.Site{site}, Positions: []registry.Position{position}, Anchors: []registry.Anchor{anchor},
		Installations: []registry.Installation{{Record: bare}}, Inspections: []registry.Inspection{inspection},
	})

	story, err := r.store.AnchorStory(t.Context(), r.group.ID, anchor.ID)
	if err != nil {
		t.Fatal(err)
	}
	site.Version, position.Version, anchor.Version = 1, 1, 1
	want := registry.Facts{
		Anchor: anchor, Position: position, Site: site,
		Installations: []registry.Installation{{Record: bare}}, Inspections: []registry.Inspection{inspection}, TimeZone: zoneOfTests,
	}
	if d := diff(want, story.Facts); d != "" {
		t.Errorf("facts differ (-want +got):\n%s", d)
	}
}

// Every value of every closed list is one the database takes.
func TestChangeTakesEveryListedValue(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	ch := registry.Change{What: "test"}
	for _, k := range registry.SiteKinds() {
		ch.Sites = append(ch.Sites, registry.Site{ID: sample.ID(), Name: "x", Kind: k})
	}
	for _, k := range registry.RockClasses() {
		ch.Sites = append(ch.Sites, sample.Site(func(s *registry.Site) { s.Rock = k }))
	}
	site := ch.Sites[0]
	for _, k := range registry.RouteKinds() {
		ch.Routes = append(ch.Routes, sample.Route(site, func(r *registry.Route) { r.Kind = k }))
	}
	for _, k := range registry.Traffics() {
		ch.Routes = append(ch.Routes, sample.Route(site, func(r *registry.Route) { r.Traffic = k }))
	}
	for _, k := range registry.PositionRoles() {
		ch.Positions = append(ch.Positions, sample.Position(site, func(p *registry.Position) { p.Role = k }))
	}
	for _, k := range registry.Faces() {
		ch.Positions = append(ch.Positions, sample.Position(site, func(p *registry.Position) { p.Face = k }))
	}
	for _, k := range registry.AssemblyKinds() {
		ch.Assemblies = append(ch.Assemblies, registry.Assembly{ID: sample.ID(), SiteID: site.ID, Name: "x", Kind: k})
	}
	addListedAnchors(&ch)
	addListedStatements(&ch, site)
	r.enter(t, ch)
}

func addListedStatements(ch *registry.Change, site registry.Site) {
	for _, k := range registry.EventKinds() {
		ch.Events = append(ch.Events, sample.Event(site, func(e *registry.Event) { e.Kind = k }))
	}
	for _, k := range registry.RestrictionKinds() {
		ch.Restrictions = append(ch.Restrictions, sample.Restriction(registry.AtSite, site.ID, func(r *registry.Restriction) { r.Kind = k }))
	}
	for _, w := range registry.Weights() {
		ch.Restrictions = append(ch.Restrictions, sample.Restriction(registry.AtSite, site.ID, func(r *registry.Restriction) { r.Weight = w }))
	}
	landowner := sample.Landowner()
	ch.Landowners = append(ch.Landowners, landowner)
	for _, k := range registry.AgreementKinds() {
		ch.Agreements = append(ch.Agreements, sample.Agreement(landowner, func(a *registry.Agreement) { a.Kind = k }))
	}
	say := func(edit func(*registry.Environment)) {
		ch.Environments = append(ch.Environments, sample.Environment(site, edit))
	}
	for _, c := range registry.Categories() {
		say(func(e *registry.Environment) {
			e.SteelCategory, e.ZincCategory, e.CopperCategory, e.AluminiumCategory = c, c, c, c
		})
	}
	for _, w := range registry.Wetnesses() {
		say(func(e *registry.Environment) { e.Wetness = w })
	}
	for _, c := range registry.Coasts() {
		say(func(e *registry.Environment) { e.Coast = c })
	}
}

func addListedAnchors(ch *registry.Change) {
	position := ch.Positions[0]
	for _, f := range registry.Forms() {
		ch.Anchors = append(ch.Anchors, sample.Anchor(position, func(a *registry.Anchor) { a.Form = f }))
		ch.Products = append(ch.Products, sample.Hardware(func(p *registry.Product) { p.Form = f }))
	}
	anchor := ch.Anchors[0]
	for _, k := range registry.FittingKinds() {
		ch.Fittings = append(ch.Fittings, sample.Fitting(anchor, func(f *registry.Fitting) { f.Kind = k }))
	}
	for _, p := range registry.Presences() {
		ch.Fittings = append(ch.Fittings, sample.Fitting(anchor, func(f *registry.Fitting) { f.Presence = p }))
	}
	for _, s := range registry.Sounds() {
		ch.Installations = append(ch.Installations, sample.Installation(anchor, func(i *registry.Installation) { i.RockSound = s }))
	}
	for _, l := range registry.Levels() {
		ch.Inspections = append(ch.Inspections, sample.Inspection(anchor, func(i *registry.Inspection) { i.Level = l }))
	}
	for _, v := range registry.Verdicts() {
		ch.Inspections = append(ch.Inspections, sample.Inspection(anchor, func(i *registry.Inspection) { i.Verdict = v }))
	}
	ch.Inspections = append(ch.Inspections, sample.Inspection(anchor, func(i *registry.Inspection) {
		i.Origin, i.Observations = registry.Imported, registry.Observations()
	}))
	for i, s := range registry.Standings() {
		a := sample.Assessment(ch.Anchors[i], func(a *registry.Assessment) { a.Standing = s })
		a.DueState = registry.DueStates()[i%len(registry.DueStates())]
		a.Band = registry.Bands()[i%len(registry.Bands())]
		a.Findings[0].Severity = registry.Severities()[i%len(registry.Severities())]
		ch.Assessments = append(ch.Assessments, a)
	}
}

func TestChangeGivesFactsInTheOrderAskedFor(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	second := sample.Anchor(s.position)
	ch := s.change()
	ch.Anchors = append(ch.Anchors, second)
	r.enter(t, ch)
	asked := []uuid.UUID{second.ID, s.anchor.ID, second.ID}
	err := r.store.Change(t.Context(), r.who, asked, func(facts []registry.Facts, rules houserules.Rules) (registry.Change, error) {
		for i, f := range facts {
			if f.Anchor.ID != asked[i] {
				t.Errorf("facts[%d] are of %v, want %v", i, f.Anchor.ID, asked[i])
			}
		}
		if d := diff(s.facts(), facts[1]); d != "" {
			t.Errorf("facts differ (-want +got):\n%s", d)
		}
		if rules.Version != 1 {
			t.Errorf("rules.Version = %d, want 1", rules.Version)
		}
		return registry.Change{}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

func TestChangeReplacesTheVersionItNames(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())

	a := s.anchor
	a.Version, a.Notes, a.Metal, a.Shank, a.SetOn = 1, "checked", nil, nil, calendar.Span{Words: "?"}
	r.enter(t, registry.Change{What: "anchor changed", Anchors: []registry.Anchor{a}}, a.ID)
	story, err := r.store.AnchorStory(t.Context(), r.group.ID, a.ID)
	if err != nil {
		t.Fatal(err)
	}
	want := a
	want.Version = 2
	if d := diff(want, story.Facts.Anchor); d != "" {
		t.Errorf("changed anchor differs (-want +got):\n%s", d)
	}

	if err := r.try(t, registry.Change{What: "anchor changed", Anchors: []registry.Anchor{a}}, a.ID); fault.KindOf(err) != fault.Stale {
		t.Errorf("second change of version 1: error %v, want Stale", err)
	}
	a.ID = sample.ID()
	if err := r.try(t, registry.Change{What: "anchor changed", Anchors: []registry.Anchor{a}}); fault.KindOf(err) != fault.NotFound {
		t.Errorf("change of an anchor that is not there: error %v, want NotFound", err)
	}
}

func TestChangeRejects(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	tests := []struct {
		name string
		ch   registry.Change
		kind fault.Kind
		want fault.Violation
	}{
		{"an id that is taken", registry.Change{Inspections: []registry.Inspection{s.inspection}}, fault.Conflict, fault.Violation{}},
		{
			"a person who is not there",
			registry.Change{FirstUses: []registry.FirstUse{sample.FirstUse(s.anchor, sample.Person())}},
			fault.Invalid,
			fault.Violation{Field: "person_id", Code: fault.NoSuchReference},
		},
		{
			"a batch text twice",
			registry.Change{Batches: []registry.Batch{sample.Batch(s.adhesive, func(b *registry.Batch) { b.Text = "x 0001" })}},
			fault.Conflict,
			fault.Violation{Field: "text", Code: fault.Duplicate},
		},
		{
			"a cave on the map",
			registry.Change{Sites: []registry.Site{sample.Site(func(s *registry.Site) { s.Kind = registry.Cave })}},
			fault.Invalid,
			fault.Violation{Field: "lat", Code: fault.Mismatch},
		},
		{
			"a kind that does not exist",
			registry.Change{Sites: []registry.Site{sample.Site(func(s *registry.Site) { s.Kind = "hill" })}},
			fault.Invalid,
			fault.Violation{Field: "kind", Code: fault.Unknown},
		},
		{
			"a shank without size",
			registry.Change{Anchors: []registry.Anchor{sample.Anchor(s.position, func(a *registry.Anchor) { *a.Shank = 0 })}},
			fault.Invalid,
			fault.Violation{Field: "shank_diameter_mm", Code: fault.OutOfRange},
		},
		{
			"a date back to front",
			registry.Change{Anchors: []registry.Anchor{sample.Anchor(s.position, func(a *registry.Anchor) {
				a.SetOn.From, a.SetOn.To = a.SetOn.To, a.SetOn.From
			})}},
			fault.Invalid,
			fault.Violation{Field: "set_on", Code: fault.Order},
		},
		{
			"an anchor at another site's position",
			registry.Change{Anchors: []registry.Anchor{sample.Anchor(s.position, func(a *registry.Anchor) { a.SiteID = sample.ID() })}},
			fault.Invalid,
			fault.Violation{Field: "position_id", Code: fault.NoSuchReference},
		},
		{
			"text the database cannot hold",
			registry.Change{Sites: []registry.Site{sample.Site(func(s *registry.Site) { s.Notes = "a\x00b" })}},
			fault.Invalid,
			fault.Violation{},
		},
	}
	before := r.count(t, `SELECT count(*) FROM ledger`)
	for _, tt := range tests {
		tt.ch.What = "test"
		err := r.try(t, tt.ch, s.anchor.ID)
		if fault.KindOf(err) != tt.kind || err == nil {
			t.Errorf("%s: error %v, want kind %v", tt.name, err, tt.kind)
			continue
		}
		f, _ := fault.As(err)
		if tt.want.Code != "" && (len(f.Violations) != 1 || diff(tt.want, f.Violations[0]) != "") {
			t.Errorf("%s: violations %v, want %v", tt.name, f.Violations, tt.want)
		}
	}
	if after := r.count(t, `SELECT count(*) FROM ledger`); after != before {
		t.Errorf("ledger has %d rows after refused changes, want %d", after, before)
	}
}

func TestChangeReturnsTheErrorOfDecide(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	sentinel := errors.New("enough")
	fail := func() (registry.Change, error) {
		return registry.Change{What: "test", At: sample.At, Persons: []registry.Person{sample.Person()}}, sentinel
	}
	err := r.store.Change(t.Context(), r.who, nil, func([]registry.Facts, houserules.Rules) (registry.Change, error) { return fail() })
	if err != sentinel { //nolint:errorlint // it must be the very error
		t.Errorf("Change() = %v, want the error of decide as it is", err)
	}
	err = r.store.Intake(t.Context(), r.who, registry.Wanted{}, func(registry.Known, houserules.Rules) (registry.Change, error) { return fail() })
	if err != sentinel { //nolint:errorlint // it must be the very error
		t.Errorf("Intake() = %v, want the error of decide as it is", err)
	}
	if n := r.count(t, `SELECT count(*) FROM person`); n != 1 {
		t.Errorf("%d persons stored, want 1", n)
	}
}

func TestChangeNeedsAnInstant(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	err := r.store.Change(t.Context(), r.who, nil, func([]registry.Facts, houserules.Rules) (registry.Change, error) {
		return registry.Change{What: "test", Persons: []registry.Person{sample.Person()}}, nil
	})
	if err == nil {
		t.Error("Change() without an instant = nil, want an error")
	}
}

func TestEmptyChangeWritesNothing(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	before := r.count(t, `SELECT count(*) FROM ledger`)
	err := r.store.Change(t.Context(), r.who, nil, func([]registry.Facts, houserules.Rules) (registry.Change, error) {
		return registry.Change{What: "nothing"}, nil
	})
	if after := r.count(t, `SELECT count(*) FROM ledger`); err != nil || after != before {
		t.Errorf("empty Change() = %v with %d ledger rows, want nil with %d", err, after, before)
	}
}

func TestIntakeKnowsWhatIsThere(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, inForce(s))
	unnamed := registry.Change{What: "test", Sites: []registry.Site{sample.Site(func(s *registry.Site) { s.Name = "Unnamed Crag" })}}
	r.enter(t, unnamed)
	wanted := registry.Wanted{Rows: []registry.ListRow{{Site: " example  CRAG", Label: "B1"}}}
	err := r.store.Intake(t.Context(), r.who, wanted, func(k registry.Known, rules houserules.Rules) (registry.Change, error) {
		got := []int{
			len(k.Sites), len(k.Sectors), len(k.Routes), len(k.Positions), len(k.Stops), len(k.Persons), len(k.Landowners),
			len(k.Parcels), len(k.Products), len(k.Batches), len(k.Rows), rules.Version,
		}
		if d := diff([]int{1, 1, 1, 1, 1, 1, 1, 1, 2, 1, 1, 1}, got); d != "" {
			t.Errorf("known differs (-want +got):\n%s", d)
		}
		if k.Rows[s.row.Key].Print != s.row.Print {
			t.Errorf("Rows[%q] = %q, want %q", s.row.Key, k.Rows[s.row.Key].Print, s.row.Print)
		}
		return registry.Change{What: "import", At: sample.At, Sites: []registry.Site{sample.Site()}}, nil
	})
	if n := r.count(t, `SELECT count(*) FROM site`); err != nil || n != 3 {
		t.Errorf("Intake() = %v with %d sites, want nil with 3", err, n)
	}
}

func TestIntakeHoldsOffOthersOfItsGroup(t *testing.T) {
	t.Parallel()
	r := newRegister(t)
	inside, done := make(chan struct{}), make(chan error, 1)
	release := make(chan struct{})
	go func() {
		done <- r.store.Intake(t.Context(), r.who, registry.Wanted{}, func(registry.Known, houserules.Rules) (registry.Change, error) {
			close(inside)
			<-release
			return registry.Change{What: "import", At: sample.At, Sites: []registry.Site{sample.Site()}}, nil
		})
	}()
	<-inside
	second := make(chan error, 1)
	go func() {
		wanted := registry.Wanted{Rows: []registry.ListRow{{Site: sample.Site().Name, Label: "B1"}}}
		second <- r.store.Intake(t.Context(), r.who, wanted, func(k registry.Known, _ houserules.Rules) (registry.Change, error) {
			if len(k.Sites) != 1 {
				t.Errorf("the second intake knows %d sites, want 1", len(k.Sites))
			}
			return registry.Change{}, nil
		})
	}()
	for waiting := 0; waiting == 0; {
		waiting = r.count(t, `SELECT count(*) FROM pg_locks WHERE locktype = 'advisory' AND NOT granted AND database = (SELECT oid FROM pg_database WHERE datname = current_database())`)
	}
	close(release)
	for _, c := range []chan error{done, second} {
		select {
		case err := <-c:
			if err != nil {
				t.Error(err)
			}
		case <-time.After(20 * time.Second):
			t.Fatal("an intake never ended")
		}
	}
}

func TestAssemblyFollowsItsChange(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	other := sample.Position(s.site)
	ch := s.change()
	ch.Positions = append(ch.Positions, other)
	r.enter(t, ch)
	a := s.assembly
	a.Version, a.PositionIDs = 1, []uuid.UUID{other.ID}
	r.enter(t, registry.Change{What: "assembly changed", Assemblies: []registry.Assembly{a}})
	var got uuid.UUID
	if err := r.db.Owner().QueryRow(t.Context(), `SELECT position_id FROM assembly_position`).Scan(&got); err != nil || got != other.ID {
		t.Errorf("position of the assembly = %v, %v, want %v", got, err, other.ID)
	}
	if n := r.count(t, `SELECT count(*) FROM assessment_due WHERE anchor_id = $1`, s.anchor.ID); n != 1 {
		t.Errorf("anchor of the position taken out is queued %d times, want once", n)
	}
}

// Rows that are many enough are entered while the next are written down: what
// the database says against one of them is said as ever, and nothing is kept.
func TestChangeOfManyRowsNamesWhatIsWrong(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	ch := s.change()
	for range 150 {
		f := registry.Fitting{ID: sample.ID(), AnchorID: s.anchor.ID, Kind: registry.Hanger, Presence: registry.Present}
		ch.Fittings = append(ch.Fittings, f)
	}
	ch.Fittings[149].AnchorID = sample.ID() // is not there
	err := r.try(t, ch)
	e, ok := fault.As(err)
	if !ok || e.Kind != fault.Invalid || len(e.Violations) != 1 || e.Violations[0].Code != fault.NoSuchReference ||
		!strings.Contains(err.Error(), "enter fitting") {
		t.Errorf("error %v, want Invalid, of entering fittings", err)
	}
	if _, err := r.store.AnchorStory(t.Context(), r.group.ID, s.anchor.ID); fault.KindOf(err) != fault.NotFound {
		t.Errorf("something was kept: %v", err)
	}
	if n := r.db.App.Stat().AcquiredConns(); n != 0 {
		t.Errorf("%d connections are held", n)
	}
	ch.Fittings[149].AnchorID = s.anchor.ID
	r.enter(t, ch)
	var noted int // by the last statement, which is left running too
	err = r.db.Owner().QueryRow(t.Context(), `SELECT count(*) FROM ledger WHERE noun = 'fitting'`).Scan(&noted)
	if want := len(ch.Fittings); err != nil || noted != want {
		t.Errorf("%d fittings noted in the ledger, %v, want %d", noted, err, want)
	}
}

package postgres_test

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/pgtest"
	"rockledger/internal/postgres"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

// register is a database with one group in it.
type register struct {
	db    *pgtest.DB
	store *postgres.Store
	admin *postgres.Admin
	group registry.Group
	who   registry.Actor
}

func newRegister(t *testing.T) *register {
	t.Helper()
	db := pgtest.New(t)
	r := &register{db: db, store: postgres.New(db.App), admin: postgres.NewAdmin(db.Owner())}
	r.group = addGroup(t, r.admin)
	r.who = sample.Actor(r.group)
	return r
}

func addGroup(t *testing.T, admin *postgres.Admin) registry.Group {
	t.Helper()
	g := sample.Group()
	rules, err := houserules.Default().JSON()
	if err != nil {
		t.Fatal(err)
	}
	if err := admin.AddGroup(t.Context(), g, rules); err != nil {
		t.Fatal(err)
	}
	return g
}

// enter saves a change that locks the given anchors.
func (r *register) enter(t *testing.T, ch registry.Change, anchors ...uuid.UUID) {
	t.Helper()
	if err := r.try(t, ch, anchors...); err != nil {
		t.Fatal(err)
	}
}

// handIn keeps a long list of some pieces.
func (r *register) handIn(t *testing.T, rest ...registry.Piece) registry.ImportJob {
	t.Helper()
	job := registry.ImportJob{
		ID: sample.ID(), FileName: "long.csv", FileHash: "00000000000000000000000000000000000000000000000000000000000000fe",
		Headings: []string{"crag", "bolt"}, Columns: map[string]string{"site": "crag", "position": "bolt"}, Encoding: "UTF-8", Delimiter: ",",
		Who: r.who.Who, At: sample.At, State: registry.JobWaiting, Pieces: len(rest), Report: []byte(`{"rows":1}`),
	}
	if err := r.store.AddJob(t.Context(), r.who, job, slices.Values(rest)); err != nil {
		t.Fatal(err)
	}
	return job
}

func (r *register) try(t *testing.T, ch registry.Change, anchors ...uuid.UUID) error {
	t.Helper()
	if ch.At.IsZero() {
		ch.At = sample.At
	}
	return r.store.Change(t.Context(), r.who, anchors, func([]registry.Facts, houserules.Rules) (registry.Change, error) {
		return ch, nil
	})
}

// count runs a count as the owner, who sees all groups.
func (r *register) count(t *testing.T, sql string, args ...any) int {
	t.Helper()
	var n int
	if err := r.db.Owner().QueryRow(t.Context(), sql, args...).Scan(&n); err != nil {
		t.Fatal(err)
	}
	return n
}

// scene is one of every noun and record, around one anchor.
type scene struct {
	person       registry.Person
	landowner    registry.Landowner
	parcel       registry.Parcel
	site         registry.Site
	sector       registry.Sector
	route        registry.Route
	position     registry.Position
	stop         registry.Stop
	assembly     registry.Assembly
	hardware     registry.Product
	adhesive     registry.Product
	batch        registry.Batch
	anchor       registry.Anchor
	fitting      registry.Fitting
	session      registry.GluingSession
	installation registry.Installation
	cure         registry.Cure
	firstUse     registry.FirstUse
	inspection   registry.Inspection
	maintenance  registry.Maintenance
	removal      registry.Removal
	marking      registry.Marking
	lifted       registry.Marking
	settlement   registry.Settlement
	retraction   registry.Retraction
	environment  registry.Environment
	event        registry.Event
	picture      registry.Picture
	notice       registry.Notice
	agreement    registry.Agreement
	restriction  registry.Restriction
	version      registry.ProductVersion
	intake       registry.Import
	row          registry.ImportRow
	undo         registry.ImportUndo
	proposal     registry.Proposal
	assessment   registry.Assessment
	hold         registry.LegalHold // not part of the change
}

func newScene() *scene {
	s := &scene{person: sample.Person(), landowner: sample.Landowner(), site: sample.Site(), hardware: sample.Hardware(), adhesive: sample.Adhesive()}
	s.parcel = sample.Parcel(s.landowner)
	s.sector = sample.Sector(s.site)
	s.route = sample.Route(s.site, func(r *registry.Route) { r.SectorID = &s.sector.ID })
	s.position = sample.Position(s.site, func(p *registry.Position) { p.SectorID, p.ParcelID = &s.sector.ID, &s.parcel.ID })
	s.stop = sample.Stop(s.route, s.position)
	s.assembly = sample.Assembly(s.site, s.position)
	s.batch = sample.Batch(s.adhesive)
	s.anchor = sample.Anchor(s.position, func(a *registry.Anchor) { a.ProductID = &s.hardware.ID })
	s.fitting = sample.Fitting(s.anchor, func(f *registry.Fitting) { f.New, f.ProductID = sample.Of(quantity.Length(10)), &s.hardware.ID })
	s.picture = sample.Picture(s.anchor, func(p *registry.Picture) { p.PersonID, p.RecordID = &s.person.ID, sample.Of(sample.ID()) })
	s.session = sample.GluingSession(s.site, s.glued)
	s.installation = sample.Installation(s.anchor, s.setting)
	s.cure = sample.Cure(s.anchor, func(u *registry.Cure) {
		u.InstallationID, u.PersonID = &s.installation.ID, &s.person.ID
		u.LowestC, u.LabelWorkingMinutes = &registry.Reading{C: -2.5, How: registry.Measured}, sample.Of(12)
		u.LoadedAt = aboutTwo
	})
	s.firstUse = sample.FirstUse(s.anchor, s.person, func(f *registry.FirstUse) { f.At, f.Sample = aboutTwo, registry.SampleHard })
	s.inspection = sample.Inspection(s.anchor, func(i *registry.Inspection) {
		i.Observations = []registry.Observation{registry.SurfaceRust}
		i.Measured = []registry.Measurement{{FittingID: &s.fitting.ID, Left: 8.5}, {Left: 11, New: sample.Of(quantity.Length(12))}}
	})
	s.maintenance = sample.Maintenance(s.anchor, func(m *registry.Maintenance) {
		m.Done = []registry.Upkeep{registry.Tightened, registry.FittingAdded}
		m.FittingID, m.NewFittingID, m.TorqueNM, m.TorqueTool = &s.fitting.ID, &s.fitting.ID, sample.Of(35.5), "click wrench"
	})
	s.removal = sample.Removal(s.anchor, func(r *registry.Removal) {
		r.How, r.Stub, r.OldHole = registry.CutOff, sample.Of(quantity.Length(4)), registry.HoleStub
		r.Observations = []registry.Observation{registry.CrackedMetal}
		r.MetalKept, r.MetalWhere = sample.Of(true), "invented shed"
	})
	s.marking = sample.Marking(s.anchor)
	s.lifted = sample.Marking(s.anchor, func(m *registry.Marking) { m.How, m.Lifts = nil, &s.marking.ID })
	s.settlement = sample.Settlement(s.anchor, s.person, func(s *registry.Settlement) {
		s.Values = registry.Values{{Name: "z_mm", Text: "1"}, {Name: "a_on", Text: "2020-01-02"}}
	})
	s.retraction = sample.Retraction(s.anchor, s.person, s.removal.ID)
	s.environment, s.event, s.notice = sample.Environment(s.site), sample.Event(s.site), sample.Notice(s.anchor)
	s.agreement, s.restriction = sample.Agreement(s.landowner), sample.Restriction(registry.AtSite, s.site.ID)
	s.version = sample.ProductVersion(s.hardware)
	s.intake = registry.Import{
		ID: sample.ID(), FileName: "invented.csv", FileHash: "00000000000000000000000000000000000000000000000000000000000000ff",
		Headings: []string{"crag", "bolt"}, Encoding: "UTF-8", Delimiter: ",", Report: []byte(`{"rows":1}`), At: sample.At,
	}
	s.row = registry.ImportRow{ImportID: s.intake.ID, Line: 2, Key: "example crag\x1f\x1f\x1fb1", Print: "p", Cells: []string{"Example Crag", "B1"}, AnchorID: s.anchor.ID}
	s.proposal = registry.Proposal{
		ID: sample.ID(), ImportID: s.intake.ID, Line: 2, SiteID: s.site.ID, PositionID: s.position.ID, AnchorID: s.anchor.ID,
		Noted: registry.Noted{
			Kind: registry.ProposesRestriction, Words: "bird ban Mar-Jul", Bars: registry.NoClimbing, Weight: registry.ByRequest,
			Yearly: &calendar.Window{FromMonth: 3, FromDay: 1, ToMonth: 7, ToDay: 31},
		},
		State: registry.ProposalOpen,
	}
	s.undo = registry.ImportUndo{ImportID: s.intake.ID, Counts: registry.UndoneCounts{Anchors: 1}, At: sample.At}
	s.hold = registry.LegalHold{ID: sample.ID(), Over: registry.HoldAll, Reason: "a court asks, invented"}
	s.assessment = sample.Assessment(s.anchor, func(a *registry.Assessment) { a.Findings[0].SettledBy = &s.settlement.ID })
	return s
}

// aboutTwo is a moment as somebody noted it.
var aboutTwo = calendar.Moment{From: sample.At, To: sample.At.Add(time.Hour), Words: "about 2"}

// glued fills every field of a session.
func (s *scene) glued(g *registry.GluingSession) {
	g.AdhesiveID, g.BatchID, g.ExpiresOn = &s.adhesive.ID, &s.batch.ID, sample.Day.AddYears(1)
	g.Cartridge, g.NozzleNew, g.OpenedAt, g.FirstMixDiscarded = "invented 3", sample.Of(true), aboutTwo, sample.Of(false)
	g.RockC, g.AirC = &registry.Reading{C: 8, How: registry.Measured}, &registry.Reading{C: 0}
	g.CartridgeC, g.NightC = &registry.Reading{C: 15, How: registry.Assumed}, &registry.Reading{C: -1.5}
	g.SetByID, g.SupervisedByID, g.CheckedByID = &s.person.ID, &s.person.ID, &s.person.ID
	g.MethodStatement, g.SampleKept, g.SampleWhere, g.SampleAtRock = "v3", sample.Of(true), "on the ledge", sample.Of(true)
	g.Words = "cold hands"
}

// setting fills every field of an installation.
func (s *scene) setting(i *registry.Installation) {
	length := func(mm quantity.Length) *quantity.Length { return &mm }
	i.PersonID, i.AdhesiveID, i.BatchID, i.SessionID = &s.person.ID, &s.adhesive.ID, &s.batch.ID, &s.session.ID
	i.Form, i.HardwareID, i.HoleDiameter, i.HoleDepth = registry.TwistedLeg, &s.hardware.ID, length(16), length(105)
	i.CleaningCycles, i.Moisture, i.SetAt = sample.Of(0), registry.HoleDamp, aboutTwo
	i.Rock, i.RockWords, i.RockSound, i.CracksSeen = registry.RockOther, "limestone", registry.Dull, sample.Of(false)
	i.EdgeDistance, i.NeighbourDistance, i.AngleDeg, i.Embedded = length(200), length(300.5), sample.Of(0.0), length(100)
	i.RecessCut, i.DryFit, i.FromBottom, i.FillPct = sample.Of(true), sample.Of(false), sample.Of(true), sample.Of(66.5)
	i.Turned, i.AsDrawn, i.SurplusWiped = sample.Of(true), sample.Of(false), sample.Of(true)
	i.Hole, i.OldHoleDistance, i.TorqueNM, i.TorqueTool = registry.HoleReused, length(40), sample.Of(25.0), "wrench"
}

// nouns is how many rows of the scene have ledger entries of their own: all
// but the import's row (which its import answers for) and the assessment.
const nouns = 37

func (s *scene) change() registry.Change {
	return registry.Change{
		What: "test", At: sample.At,
		Persons: []registry.Person{s.person}, Landowners: []registry.Landowner{s.landowner}, Parcels: []registry.Parcel{s.parcel},
		Products: []registry.Product{s.hardware, s.adhesive}, Batches: []registry.Batch{s.batch},
		Sites: []registry.Site{s.site}, Sectors: []registry.Sector{s.sector}, Routes: []registry.Route{s.route},
		Positions: []registry.Position{s.position}, Stops: []registry.Stop{s.stop}, Assemblies: []registry.Assembly{s.assembly},
		Anchors: []registry.Anchor{s.anchor}, Fittings: []registry.Fitting{s.fitting}, Pictures: []registry.Picture{s.picture},
		Sessions: []registry.GluingSession{s.session}, Cures: []registry.Cure{s.cure},
		Installations: []registry.Installation{s.installation}, FirstUses: []registry.FirstUse{s.firstUse},
		Inspections: []registry.Inspection{s.inspection}, Removals: []registry.Removal{s.removal},
		Maintenance: []registry.Maintenance{s.maintenance}, Markings: []registry.Marking{s.marking, s.lifted},
		Settlements: []registry.Settlement{s.settlement}, Retractions: []registry.Retraction{s.retraction},
		Environments: []registry.Environment{s.environment}, Events: []registry.Event{s.event}, Notices: []registry.Notice{s.notice},
		Agreements: []registry.Agreement{s.agreement}, Restrictions: []registry.Restriction{s.restriction},
		ProductVersions: []registry.ProductVersion{s.version},
		Import:          &s.intake, ImportRows: []registry.ImportRow{s.row}, ImportUndo: &s.undo, Proposals: []registry.Proposal{s.proposal}, Assessments: []registry.Assessment{s.assessment},
	}
}

// stored is a noun as it reads once it is stored: of version 1.
func stored[T any](v T, version func(*T) *int) T {
	*version(&v) = 1
	return v
}

// zoneOfTests is the time zone of sample.Group.
const zoneOfTests = "Europe/London"

func (s *scene) facts() registry.Facts {
	return registry.Facts{
		Anchor:   stored(s.anchor, func(a *registry.Anchor) *int { return &a.Version }),
		Position: stored(s.position, func(p *registry.Position) *int { return &p.Version }),
		Site:     stored(s.site, func(p *registry.Site) *int { return &p.Version }),
		Traffic:  registry.TrafficOrdinary, InAssembly: true,
		Fittings: []registry.Fitting{stored(s.fitting, func(f *registry.Fitting) *int { return &f.Version })},
		Sessions: []registry.GluingSession{s.session}, Cures: []registry.Cure{s.cure},
		Sheets: []registry.ProductVersion{s.version}, Batches: []registry.Batch{stored(s.batch, func(b *registry.Batch) *int { return &b.Version })},
		Installations: []registry.Installation{s.installation}, FirstUses: []registry.FirstUse{s.firstUse},
		Inspections: []registry.Inspection{s.inspection}, Removals: []registry.Removal{s.removal},
		Maintenance: []registry.Maintenance{s.maintenance}, Markings: []registry.Marking{s.marking, s.lifted},
		Settlements: []registry.Settlement{s.settlement}, Retractions: []registry.Retraction{s.retraction},
		Environments: []registry.Environment{stored(s.environment, func(e *registry.Environment) *int { return &e.Version })},
		Events:       []registry.Event{stored(s.event, func(e *registry.Event) *int { return &e.Version })},
		Notices:      []registry.Notice{stored(s.notice, func(n *registry.Notice) *int { return &n.Version })},
		TimeZone:     zoneOfTests,
	}
}

// diff compares, taking nil and empty lists for the same.
func diff(want, got any) string { return cmp.Diff(want, got, cmpopts.EquateEmpty()) }

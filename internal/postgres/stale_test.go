package postgres_test

import (
	"testing"

	"github.com/google/uuid"

	"rockledger/internal/houserules"
	"rockledger/internal/registry"
	"rockledger/internal/sample"
)

func (r *register) stale(t *testing.T, engine int, day int) []uuid.UUID {
	t.Helper()
	got, err := r.store.Stale(t.Context(), r.group.ID, engine, sample.Day.AddDays(day), 10)
	if err != nil {
		t.Fatal(err)
	}
	return got
}

func TestStale(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	s.assessment.ValidUntil = sample.Day.AddDays(10)
	r.enter(t, s.change())
	tests := []struct {
		name   string
		engine int
		day    int // after sample.Day
		want   bool
	}{
		{"fresh", 1, 0, false},
		{"on the last day it holds", 1, 10, false},
		{"a day later", 1, 11, true},
		{"another engine", 2, 0, true},
	}
	for _, tt := range tests {
		if got := len(r.stale(t, tt.engine, tt.day)) == 1; got != tt.want {
			t.Errorf("%s: stale = %v, want %v", tt.name, got, tt.want)
		}
	}
	if _, err := r.db.Owner().Exec(t.Context(), `INSERT INTO house_rules SELECT group_id, 2, rules FROM house_rules`); err != nil {
		t.Fatal(err)
	}
	if len(r.stale(t, 1, 0)) != 1 {
		t.Error("other house rules: stale = false, want true")
	}
}

func TestStaleWithoutAssessmentOrEnd(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	s.assessment.ValidUntil = 0
	second := sample.Anchor(s.position)
	ch := s.change()
	ch.Anchors = append(ch.Anchors, second)
	r.enter(t, ch)
	if d := diff([]uuid.UUID{second.ID}, r.stale(t, 1, 36500)); d != "" {
		t.Errorf("Stale() differs (-want +got):\n%s", d)
	}
}

// Each of these alone ties the anchor to what changes.
func TestChangesOfWhatAnAnchorWasSetWithQueueIt(t *testing.T) {
	t.Parallel()
	only := func(s *scene) {
		s.anchor.ProductID, s.session.AdhesiveID, s.session.BatchID = nil, nil, nil
		s.installation.HardwareID, s.installation.AdhesiveID, s.installation.BatchID = nil, nil, nil
	}
	sheet := func(p *registry.Product) registry.Change {
		return registry.Change{ProductVersions: []registry.ProductVersion{sample.ProductVersion(*p, func(v *registry.ProductVersion) { v.From = sample.Day })}}
	}
	batch := func(s *scene) registry.Change {
		return registry.Change{Batches: []registry.Batch{stored(s.batch, func(b *registry.Batch) *int { return &b.Version })}}
	}
	for name, c := range map[string]struct {
		tie    func(s *scene)
		change func(s *scene) registry.Change
		want   bool
	}{
		"a sheet of nothing of it":  {func(*scene) {}, func(s *scene) registry.Change { return sheet(&s.adhesive) }, false},
		"a batch of nothing of it":  {func(*scene) {}, batch, false},
		"a sheet of its product":    {func(s *scene) { s.anchor.ProductID = &s.hardware.ID }, func(s *scene) registry.Change { return sheet(&s.hardware) }, true},
		"of the hardware as set":    {func(s *scene) { s.installation.HardwareID = &s.hardware.ID }, func(s *scene) registry.Change { return sheet(&s.hardware) }, true},
		"of its adhesive":           {func(s *scene) { s.installation.AdhesiveID = &s.adhesive.ID }, func(s *scene) registry.Change { return sheet(&s.adhesive) }, true},
		"of its batch's product":    {func(s *scene) { s.installation.BatchID = &s.batch.ID }, func(s *scene) registry.Change { return sheet(&s.adhesive) }, true},
		"of its session's adhesive": {func(s *scene) { s.session.AdhesiveID = &s.adhesive.ID }, func(s *scene) registry.Change { return sheet(&s.adhesive) }, true},
		"of its session's batch":    {func(s *scene) { s.session.BatchID = &s.batch.ID }, func(s *scene) registry.Change { return sheet(&s.adhesive) }, true},
		"its batch":                 {func(s *scene) { s.installation.BatchID = &s.batch.ID }, batch, true},
		"its session's batch":       {func(s *scene) { s.session.BatchID = &s.batch.ID }, batch, true},
	} {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r, s := newRegister(t), newScene()
			only(s)
			c.tie(s)
			r.enter(t, s.change())
			ch := c.change(s)
			ch.What = "test"
			r.enter(t, ch)
			if got := len(r.stale(t, 1, 0)) == 1; got != c.want {
				t.Errorf("stale = %v, want %v", got, c.want)
			}
		})
	}
	t.Run("the batch of a session that corrects its own", func(t *testing.T) {
		t.Parallel()
		r, s := newRegister(t), newScene()
		only(s)
		ch := s.change()
		ch.Sessions = append(ch.Sessions, sample.GluingSession(s.site, func(g *registry.GluingSession) { g.Replaces, g.BatchID = &s.session.ID, &s.batch.ID }))
		r.enter(t, ch)
		later := batch(s)
		later.What = "test"
		r.enter(t, later)
		if len(r.stale(t, 1, 0)) != 1 {
			t.Error("stale = false, want true")
		}
	})
}

func TestChangesBesideAnAnchorQueueIt(t *testing.T) {
	t.Parallel()
	tests := map[string]func(s *scene, ch *registry.Change){
		"site": func(s *scene, ch *registry.Change) { s.site.Version = 1; ch.Sites = []registry.Site{s.site} },
		"position": func(s *scene, ch *registry.Change) {
			s.position.Version = 1
			ch.Positions = []registry.Position{s.position}
		},
		"route": func(s *scene, ch *registry.Change) { s.route.Version = 1; ch.Routes = []registry.Route{s.route} },
		"stop": func(s *scene, ch *registry.Change) {
			other := sample.Route(s.site)
			ch.Routes, ch.Stops = []registry.Route{other}, []registry.Stop{sample.Stop(other, s.position)}
		},
		"assembly": func(s *scene, ch *registry.Change) {
			ch.Assemblies = []registry.Assembly{sample.Assembly(s.site, s.position)}
		},
	}
	for name, edit := range tests {
		t.Run(name, func(t *testing.T) {
			t.Parallel()
			r, s := newRegister(t), newScene()
			r.enter(t, s.change())
			ch := registry.Change{What: "test"}
			edit(s, &ch)
			r.enter(t, ch)
			if d := diff([]uuid.UUID{s.anchor.ID}, r.stale(t, 1, 0)); d != "" {
				t.Errorf("Stale() after a change of the %s differs (-want +got):\n%s", name, d)
			}
			r.enter(t, registry.Change{What: "refresh", Assessments: []registry.Assessment{s.assessment}}, s.anchor.ID)
			if got := r.stale(t, 1, 0); len(got) != 0 {
				t.Errorf("Stale() after a fresh assessment = %v, want none", got)
			}
		})
	}
}

// An anchor that comes onto the queue while it is being assessed from older
// facts stays there.
func TestQueueOutlastsOlderFacts(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	err := r.store.Change(t.Context(), r.who, []uuid.UUID{s.anchor.ID}, func([]registry.Facts, houserules.Rules) (registry.Change, error) {
		s.site.Version = 1
		r.enter(t, registry.Change{What: "site changed", Sites: []registry.Site{s.site}})
		return registry.Change{What: "refresh", At: sample.At, Assessments: []registry.Assessment{s.assessment}}, nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if d := diff([]uuid.UUID{s.anchor.ID}, r.stale(t, 1, 0)); d != "" {
		t.Errorf("Stale() differs (-want +got):\n%s", d)
	}
}

func TestAssessmentIsWrittenOnlyWhenItDiffers(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	// xmin is the transaction that wrote the row version.
	const written = `
SELECT count(DISTINCT xmin::text) FROM (
  SELECT xmin FROM assessment UNION ALL SELECT xmin FROM assessment_finding UNION ALL SELECT xmin FROM assessment_candidate) AS x`
	same := s.assessment
	same.AsOf = same.AsOf.AddDays(3)
	r.enter(t, registry.Change{What: "refresh", Assessments: []registry.Assessment{same}}, s.anchor.ID)
	if n := r.count(t, written); n != 1 {
		t.Errorf("the same assessment on a later day was written again")
	}
	other := s.assessment
	other.ValidUntil = other.ValidUntil.AddDays(1)
	r.enter(t, registry.Change{What: "refresh", Assessments: []registry.Assessment{other}}, s.anchor.ID)
	if n := r.count(t, `SELECT count(*) FROM assessment_finding AS f JOIN assessment AS x USING (anchor_id) WHERE f.xmin::text <> x.xmin::text`); n != 1 {
		t.Errorf("a finding that did not change was written again")
	}
}

func TestHistoryHoldsWhatWasShown(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	steps := []struct {
		name string
		edit func(a *registry.Assessment)
		want int // rows of history afterwards
	}{
		{"only the urgency", func(a *registry.Assessment) { a.Band = registry.BandNow }, 1},
		{"only a value of a finding", func(a *registry.Assessment) {
			a.Findings = []registry.Finding{a.Findings[0]}
			a.Findings[0].Values = registry.Values{{Name: "x", Text: "1"}}
		}, 1},
		{"the standing", func(a *registry.Assessment) { a.Standing = registry.StandingWatch }, 2},
		{"the due date", func(a *registry.Assessment) { a.DueOn = a.DueOn.AddDays(1) }, 3},
		{"the findings", func(a *registry.Assessment) { a.Findings = nil }, 4},
		{"nothing", func(*registry.Assessment) {}, 4},
	}
	a := s.assessment
	for _, step := range steps {
		step.edit(&a)
		r.enter(t, registry.Change{What: "refresh", Assessments: []registry.Assessment{a}}, s.anchor.ID)
		story, err := r.store.AnchorStory(t.Context(), r.group.ID, s.anchor.ID)
		if err != nil {
			t.Fatal(err)
		}
		if len(story.History) != step.want || story.History[0].DueOn != a.DueOn {
			t.Errorf("after a change of %s: history %+v, want %d rows, newest first", step.name, story.History, step.want)
		}
		if d := diff(a, story.Assessment); d != "" {
			t.Errorf("after a change of %s: assessment differs (-want +got):\n%s", step.name, d)
		}
	}
}

func TestAssessmentOfAnAnchorNotLockedIsRefused(t *testing.T) {
	t.Parallel()
	r, s := newRegister(t), newScene()
	r.enter(t, s.change())
	other := s.assessment
	other.Standing = registry.StandingWatch
	if err := r.try(t, registry.Change{What: "refresh", Assessments: []registry.Assessment{other}}); err == nil {
		t.Error("Change() = nil, want an error: it did not lock the anchor")
	}
}

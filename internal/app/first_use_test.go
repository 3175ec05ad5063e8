package app

import (
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/houserules"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// glued is the day on which the anchor of these tests was glued, at 14:00 UTC
// into a dry hole; its label gives two hours.
var glued = calendar.NewDate(2026, time.May, 1)

// setting is the anchor's facts and the first use that somebody wants to allow
// at 16:00, two days later in the group's zone.
type setting struct {
	facts registry.Facts
	use   registry.FirstUse
	rules houserules.Rules
}

func newSetting() *setting {
	setter, other := uuid.New(), uuid.New()
	at := glued.Time().Add(14 * time.Hour)
	i := registry.Installation{
		Record:   registry.Record{ID: uuid.New(), DoneOn: calendar.Exactly(glued), Origin: registry.Recorded, PersonID: &setter},
		Moisture: registry.HoleDry, SetAt: calendar.Moment{From: at, To: at},
	}
	minutes, row := 120, quantity.Temperature(5)
	use := at.Add(2 * time.Hour)
	return &setting{
		facts: registry.Facts{
			Anchor:        registry.Anchor{Form: registry.SingleShank, SetOn: calendar.Exactly(glued)},
			Installations: []registry.Installation{i},
			Cures: []registry.Cure{{
				Record: registry.Record{ID: uuid.New(), DoneOn: calendar.Exactly(glued)}, LabelCureMinutes: &minutes, LabelC: &row,
				LowestC: &registry.Reading{C: 8, How: registry.Measured},
			}},
		},
		use: registry.FirstUse{
			Record: registry.Record{ID: uuid.New(), DoneOn: calendar.Exactly(glued), PersonID: &other},
			At:     calendar.Moment{From: use, To: use}, Sample: registry.SampleHard,
		},
		rules: houserules.Default(),
	}
}

// admit says what is wrong with the first use: fields and codes, in order.
func (s *setting) admit() []string {
	now := glued.AddDays(3).Time()
	err := admitFirstUse(&scene{facts: &s.facts, rules: s.rules, asOf: glued.AddDays(3), now: now, zone: time.FixedZone("two hours ahead", 7200)}, &s.use)
	e, _ := fault.As(err)
	if e == nil {
		return nil
	}
	var out []string
	for _, v := range e.Violations {
		out = append(out, v.Field+" "+string(v.Code))
	}
	slices.Sort(out)
	return out
}

// Design, section 5: no sheet, no time, no release; house rules: somebody other
// than the setter, the kept sample stated.
func TestAdmitFirstUse(t *testing.T) {
	t.Parallel()
	tests := []struct {
		name string
		edit func(*setting)
		want []string
	}{
		{"as it should be", func(*setting) {}, nil},
		{"a minute early", func(s *setting) { s.use.At.From = s.use.At.From.Add(-time.Minute) }, []string{"at cure-not-over"}},
		{"some time that day: which time is asked for", func(s *setting) { s.use.At = calendar.Moment{} }, []string{"at required"}},
		{"some time of a day that ends before", func(s *setting) {
			minutes := 8 * 60 // until 22:00 UTC, when the day has just ended in the group's zone
			s.use.At, s.facts.Cures[0].LabelCureMinutes = calendar.Moment{}, &minutes
		}, []string{"at cure-not-over"}},
		{"some time the next day", func(s *setting) {
			s.use.At, s.use.DoneOn = calendar.Moment{}, calendar.Exactly(glued+1)
		}, nil},
		{"some time the next day, cured after its beginning in the group's zone", func(s *setting) {
			minutes := 8*60 + 1 // until 22:01 UTC, when the next day has begun there
			s.use.At, s.use.DoneOn, s.facts.Cures[0].LabelCureMinutes = calendar.Moment{}, calendar.Exactly(glued+1), &minutes
		}, []string{"at required"}},
		{"in a damp hole it takes twice as long", func(s *setting) { s.facts.Installations[0].Moisture = registry.HoleDamp }, []string{"at cure-not-over"}},
		{"at a time to come", func(s *setting) { s.use.At.To = glued.AddDays(3).Time().Add(time.Second) }, []string{"at date-ahead"}},
		{"no label, no sheet", func(s *setting) { s.facts.Cures = nil }, []string{"at cure-not-known"}},
		{"label taken back", func(s *setting) {
			s.facts.Retractions = []registry.Retraction{{Record: registry.Record{ID: uuid.New()}, RetractsID: s.facts.Cures[0].ID}}
		}, []string{"at cure-not-known"}},
		{"a flooded hole", func(s *setting) { s.facts.Installations[0].Moisture = registry.WaterFilled }, []string{"at cure-not-known"}},
		{"form not known", func(s *setting) { s.facts.Anchor.Form, s.facts.Cures = "", nil }, []string{"at cure-not-known"}},
		{"sample not stated", func(s *setting) { s.use.Sample = "" }, []string{"sample required"}},
		{"no sample was kept", func(s *setting) { s.use.Sample = registry.SampleNone }, nil},
		{"the house rules do not ask for it", func(s *setting) {
			s.use.Sample, s.rules.KeptSample.Value = "", houserules.SampleNotAsked
		}, nil},
		{"by the setter", func(s *setting) { s.use.PersonID = s.facts.Installations[0].PersonID }, []string{"person_id same-person"}},
		{"by the setter of the session", func(s *setting) {
			session := registry.GluingSession{ID: uuid.New(), SetByID: s.use.PersonID}
			s.facts.Sessions, s.facts.Installations[0].SessionID = []registry.GluingSession{session}, &session.ID
		}, []string{"person_id same-person"}},
		{"hard, though none was kept", func(s *setting) {
			session := registry.GluingSession{ID: uuid.New(), SampleKept: new(bool), SampleAtRock: new(bool)}
			s.facts.Sessions, s.facts.Installations[0].SessionID = []registry.GluingSession{session}, &session.ID
		}, []string{"sample mismatch"}},
		{"hard, though it did not lie at the rock's temperature", func(s *setting) {
			session := registry.GluingSession{ID: uuid.New(), SampleAtRock: new(bool)}
			s.facts.Sessions, s.facts.Installations[0].SessionID = []registry.GluingSession{session}, &session.ID
		}, []string{"sample mismatch"}},
		{"hard, though it was found soft", func(s *setting) {
			session := registry.GluingSession{ID: uuid.New(), SampleFound: registry.SampleSoft}
			s.facts.Sessions, s.facts.Installations[0].SessionID = []registry.GluingSession{session}, &session.ID
		}, []string{"sample mismatch"}},
		{"nothing said, though it was found soft", func(s *setting) {
			session := registry.GluingSession{ID: uuid.New(), SampleFound: registry.SampleSoft}
			s.facts.Sessions, s.facts.Installations[0].SessionID = []registry.GluingSession{session}, &session.ID
			s.use.Sample, s.rules.KeptSample.Value = "", houserules.SampleNotAsked
		}, []string{"sample mismatch"}},
		{"hard, as it was found", func(s *setting) {
			session := registry.GluingSession{ID: uuid.New(), SampleFound: registry.SampleHard}
			s.facts.Sessions, s.facts.Installations[0].SessionID = []registry.GluingSession{session}, &session.ID
		}, nil},
		{"none kept, as its session says", func(s *setting) {
			session := registry.GluingSession{ID: uuid.New(), SampleKept: new(bool)}
			s.facts.Sessions, s.facts.Installations[0].SessionID = []registry.GluingSession{session}, &session.ID
			s.use.Sample = registry.SampleNone
		}, nil},
		{"hard, where it lay is not recorded", func(s *setting) {
			session := registry.GluingSession{ID: uuid.New()}
			s.facts.Sessions, s.facts.Installations[0].SessionID = []registry.GluingSession{session}, &session.ID
		}, nil},
		{"by the setter, as the house rules allow", func(s *setting) {
			s.use.PersonID, s.rules.FirstUseBy.Value = s.facts.Installations[0].PersonID, houserules.AnyPerson
		}, nil},
		{"who set it is not recorded", func(s *setting) { s.facts.Installations[0].PersonID = nil }, nil},
		{"a bolt asks for nothing", func(s *setting) {
			s.facts.Anchor.Form, s.facts.Cures, s.use.Sample = registry.ThroughBolt, nil, ""
		}, nil},
		{"nor does a list", func(s *setting) {
			s.facts.Installations[0].Origin, s.facts.Cures, s.use.Sample = registry.Imported, nil, ""
		}, nil},
		{"of an earlier setting", func(s *setting) {
			s.facts.Anchor.SetOn, s.facts.Cures = calendar.Span{}, nil
			s.use.At, s.use.DoneOn, s.use.Sample = calendar.Moment{}, calendar.Exactly(glued-1), ""
		}, nil},
	}
	for _, test := range tests {
		s := newSetting()
		test.edit(s)
		if d := cmp.Diff(test.want, s.admit()); d != "" {
			t.Errorf("%s (-want +got):\n%s", test.name, d)
		}
	}
}

// The refusal says from when on.
func TestFirstUseRefusedSaysWhen(t *testing.T) {
	t.Parallel()
	s := newSetting()
	s.use.At.From = glued.Time().Add(15 * time.Hour)
	s.use.At.To = s.use.At.From
	err := admitFirstUse(&scene{facts: &s.facts, rules: s.rules, asOf: glued + 3, now: (glued + 3).Time(), zone: time.UTC}, &s.use)
	e, _ := fault.As(err)
	if fault.KindOf(err) != fault.Invalid || len(e.Violations) != 1 || e.Violations[0].Values["not_before"] != "2026-05-01T16:00:00Z" {
		t.Errorf("admit = %v, want invalid with the instant", err)
	}
}

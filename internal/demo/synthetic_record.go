package demo

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// recordColumns are what every record has in common.
var recordColumns = []string{"group_id", "id", "anchor_id", "done_on_from", "done_on_to", "done_on_words", "person_id", "words", "origin", "recorded_at"}

func withRecord(more ...string) []string {
	return append(recordColumns[:len(recordColumns):len(recordColumns)], more...)
}

// recorded are the values of recordColumns, then more.
func (s *Synthetic) recorded(id uuid.UUID, at stance, t *traits, on calendar.Date, more ...any) []any {
	origin := registry.Recorded
	if t.imported {
		origin = registry.Imported
	}
	day := on.Time()
	person := syntheticID(sortPerson, at.group*groupPersons+t.person)
	return append([]any{s.group(at.group), id, syntheticID(sortAnchor, at.n), day, day, "", person, "", string(origin), evening(day)}, more...)
}

// inTheRock is anchors, what hangs on them and their records.
func (s *Synthetic) inTheRock() []Table {
	return []Table{
		{"anchor", []string{
			"group_id", "id", "version", "site_id", "position_id", "form", "form_words", "metal", "metal_words", "product_id",
			"shank_diameter_mm", "overall_length_mm", "set_on_from", "set_on_to", "set_on_words",
			"removed", "removed_on_from", "removed_on_to", "removed_on_words", "origin", "entered_on", "notes",
		}, rows(s.Anchors, s.anchor)},
		{"fitting", []string{
			"group_id", "id", "version", "anchor_id", "kind", "presence", "words", "metal", "metal_words", "set_on_from", "set_on_to", "set_on_words",
		}, rows(s.Anchors, s.fitting)},
		{"installation", withRecord("hole_diameter_mm", "hole_depth_mm", "adhesive_id", "batch_id", "rock_sound"), rows(s.Anchors, s.installation)},
		{"first_use", withRecord(), rows(s.Anchors, s.firstUse)},
		{"inspection", withRecord("level", "observations", "verdict", "measured", "ticked"), rows(s.Anchors, s.inspections)},
		{"removal", withRecord(), rows(s.Anchors, s.removal)},
	}
}

// dayOrNil is a date as a row has it.
func dayOrNil(d calendar.Date) any {
	if d.IsZero() {
		return nil
	}
	return d.Time()
}

func (s *Synthetic) anchor(n int, emit emit) bool {
	at, t := s.stance(n), s.traits(n)
	origin, set, gone := registry.Recorded, t.setOn.Time(), dayOrNil(t.removedOn)
	if t.imported {
		origin = registry.Imported
	}
	return emit(s.group(at.group), syntheticID(sortAnchor, n), 1, syntheticID(sortSite, at.site), syntheticID(sortPosition, n),
		string(t.form), "", gradeTexts(t.metal), t.words, syntheticID(sortProduct, at.group*groupProducts+t.product),
		t.shank, t.length, set, set, "", gone != nil, gone, gone, "", string(origin), set, "")
}

// fitting hangs a hanger on what is not glued.
func (s *Synthetic) fitting(n int, emit emit) bool {
	t := s.traits(n)
	if t.form.Bonded() {
		return true
	}
	set := t.setOn.Time()
	return emit(s.group(s.stance(n).group), syntheticID(sortFitting, n), 1, syntheticID(sortAnchor, n),
		string(registry.Hanger), string(registry.Present), "", gradeTexts(t.metal), t.words, set, set, "")
}

func (s *Synthetic) installation(n int, emit emit) bool {
	at, t := s.stance(n), s.traits(n)
	var adhesive, batch any
	if t.adhesive {
		adhesive, batch = s.resin(at.group), syntheticID(sortBatch, at.group*groupBatches+t.batch)
	}
	return emit(s.recorded(syntheticID(sortInstallation, n), at, &t, t.setOn, t.hole, t.length+10, adhesive, batch, string(registry.Ringing))...)
}

func (s *Synthetic) firstUse(n int, emit emit) bool {
	at, t := s.stance(n), s.traits(n)
	return !t.adhesive || emit(s.recorded(syntheticID(sortFirstUse, n), at, &t, t.setOn.AddDays(7))...)
}

func (s *Synthetic) inspections(n int, emit emit) bool {
	at, t := s.stance(n), s.traits(n)
	for k, on := range t.visits {
		row := s.recorded(syntheticID(sortInspection, 4*n+k), at, &t, on, string(registry.HandsOn), []string{}, string(registry.Keep), "[]", true)
		if !emit(row...) {
			return false
		}
	}
	return true
}

func (s *Synthetic) removal(n int, emit emit) bool {
	at, t := s.stance(n), s.traits(n)
	return t.removedOn.IsZero() || emit(s.recorded(syntheticID(sortRemoval, n), at, &t, t.removedOn)...)
}

// computed is what the register holds to have computed.
func (s *Synthetic) computed() []Table {
	return []Table{
		{"assessment", []string{
			"group_id", "anchor_id", "site_id", "as_of", "standing", "due_on", "soonest_on", "due_state", "band", "band_reason",
			"consequence", "oldest_on", "valid_until", "engine", "rules_version",
		}, rows(s.Anchors, s.assessment)},
		{"assessment_finding", []string{"group_id", "anchor_id", "rank", "rule", "severity", "values", "source", "settles"}, rows(s.Anchors, s.finding)},
		{"assessment_candidate", []string{"group_id", "anchor_id", "rank", "rule", "factor", "falls_on", "values", "source", "hard"}, rows(s.Anchors, s.candidates)},
		{"assessment_history", []string{"group_id", "anchor_id", "at", "standing", "due_on", "due_state", "rules"}, rows(s.Anchors, s.history)},
	}
}

func (s *Synthetic) assessment(n int, emit emit) bool {
	at, t := s.stance(n), s.traits(n)
	var state, band any
	consequence := 0
	if t.removedOn.IsZero() {
		state, band, consequence = string(t.dueState), string(t.band), int(registry.OneOfMany)
	}
	due := dayOrNil(t.dueOn)
	return emit(s.group(at.group), syntheticID(sortAnchor, n), syntheticID(sortSite, at.site), s.AsOf.Time(), string(t.standing),
		due, due, state, band, "", consequence, t.setOn.Time(), dayOrNil(t.validUntil), s.Engine, 1)
}

// syntheticRule is the one rule behind every synthetic finding.
const syntheticRule = "synthetic"

func (s *Synthetic) finding(n int, emit emit) bool {
	t := s.traits(n)
	severity := t.severity()
	return severity == "" || emit(s.group(s.stance(n).group), syntheticID(sortAnchor, n), 1, syntheticRule, string(severity), "{}", "invented", "expert")
}

func (s *Synthetic) candidates(n int, emit emit) bool {
	t := s.traits(n)
	if !t.removedOn.IsZero() {
		return true
	}
	group, anchor := s.group(s.stance(n).group), syntheticID(sortAnchor, n)
	for rank := range 2 {
		if !emit(group, anchor, rank, "interval", "form", t.dueOn.Time(), `{"months":"24"}`, "invented", false) {
			return false
		}
	}
	return true
}

func (s *Synthetic) history(n int, emit emit) bool {
	t := s.traits(n)
	var state any
	if t.removedOn.IsZero() {
		state = string(t.dueState)
	}
	found := []string{}
	if t.severity() != "" {
		found = append(found, syntheticRule)
	}
	return emit(s.group(s.stance(n).group), syntheticID(sortAnchor, n), s.AsOf.Time().Add(-time.Hour), string(t.standing), dayOrNil(t.dueOn), state, found)
}

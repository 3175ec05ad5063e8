package wording

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// HistoryLine is one thing that happened to an anchor, as a sentence.
type HistoryLine struct {
	ID    uuid.UUID     // of the record; nil id: of what was shown
	At    time.Time     // when it was recorded, or shown, here
	On    calendar.Span // when it happened; not known for what was shown
	Words string
	Gone  bool // a later record replaces it or takes it back
	shown bool
}

// Shown says that the line is not about what was done, but about what the
// register showed from its instant on.
func (l HistoryLine) Shown() bool { return l.shown }

// History tells an anchor's history in sentences, newest first: each record by
// the day it says, and each change of what the register showed by the instant.
// A record that another replaces or takes back says so. What has no day stands
// last.
func History(s registry.AnchorStory) []HistoryLine {
	b := teller{names: Names{s.Persons, s.Products, s.Batches}, counts: counting(s.Facts)}
	b.records(&s.Facts)
	for _, h := range s.History {
		b.lines = append(b.lines, HistoryLine{At: h.At, Words: shown(h), shown: true})
	}
	slices.SortStableFunc(b.lines, func(x, y HistoryLine) int {
		return cmp.Or(cmp.Compare(y.day(), x.day()), y.At.Compare(x.At))
	})
	return b.lines
}

// counting lists the records that no other replaces or takes back.
func counting(f registry.Facts) map[uuid.UUID]bool {
	ids := make(map[uuid.UUID]bool)
	now := f.Current()
	for _, r := range now.Installations {
		ids[r.ID] = true
	}
	for _, r := range now.Cures {
		ids[r.ID] = true
	}
	for _, r := range now.FirstUses {
		ids[r.ID] = true
	}
	for _, r := range now.Inspections {
		ids[r.ID] = true
	}
	for _, r := range now.Maintenance {
		ids[r.ID] = true
	}
	for _, r := range now.Removals {
		ids[r.ID] = true
	}
	for _, r := range now.Markings {
		ids[r.ID] = true
	}
	for _, r := range now.Settlements {
		ids[r.ID] = true
	}
	for _, r := range f.Retractions {
		ids[r.ID] = !slices.ContainsFunc(f.Retractions, func(o registry.Retraction) bool { return o.RetractsID == r.ID })
	}
	return ids
}

// day is the day a line is sorted by: none for a record without a day.
func (l HistoryLine) day() calendar.Date {
	if l.shown {
		return calendar.On(l.At, time.UTC)
	}
	return l.On.To
}

// teller puts a history together.
type teller struct {
	names  Names
	counts map[uuid.UUID]bool // the records that count
	lines  []HistoryLine
}

func (b *teller) records(f *registry.Facts) {
	for _, r := range f.Installations {
		b.add(r.Record, Installation(f.AsSet(&r), b.names))
	}
	for _, r := range f.Cures {
		b.add(r.Record, Cure(r, b.names))
	}
	for _, r := range f.FirstUses {
		b.add(r.Record, FirstUse(r, b.names))
	}
	for _, r := range f.Inspections {
		b.add(r.Record, Inspection(r, b.names))
	}
	for _, r := range f.Maintenance {
		b.add(r.Record, Maintenance(r, f.Fittings, b.names))
	}
	for _, r := range f.Markings {
		b.add(r.Record, Marking(r, b.names))
	}
	for _, r := range f.Removals {
		b.add(r.Record, Removal(r, b.names))
	}
	for _, r := range f.Settlements {
		b.add(r.Record, Settlement(r, b.names))
	}
	for _, r := range f.Retractions {
		b.add(r.Record, Retraction(r, b.names))
	}
}

func (b *teller) add(r registry.Record, words string) {
	gone := !b.counts[r.ID]
	if gone {
		words += " " + RecordGone
	}
	b.lines = append(b.lines, HistoryLine{ID: r.ID, At: r.RecordedAt, On: r.DoneOn, Words: words, Gone: gone})
}

// shown says what the register showed from an instant on: "From then on shown
// as suspect; inspect by 2 May 2026: overdue."
func shown(h registry.HistoryRow) string {
	text := "From then on shown as: " + lower(Standing(h.Standing))
	if line := InspectBy(h.Standing, h.DueOn, h.DueState); line != "" {
		text += "; " + lower(line)
	}
	if len(h.Rules) > 0 {
		text += ". Held against it: " + strings.Join(heldThen(h), ", ")
	}
	return text + "."
}

// heldThen names the rules with a finding, each once, and says which were
// settled, all of their findings or some.
func heldThen(h registry.HistoryRow) []string {
	var names []string
	for i, r := range h.Rules {
		if slices.Index(h.Rules, r) < i {
			continue
		}
		name := lower(Rule(r))
		switch settled := times(h.Settled, r); {
		case settled > 0 && settled < times(h.Rules, r):
			name += " (in part settled)"
		case settled > 0:
			name += " (settled)"
		}
		names = append(names, name)
	}
	return names
}

func times(list []string, word string) int {
	n := 0
	for _, s := range list {
		if s == word {
			n++
		}
	}
	return n
}

// lower continues a sentence with what usually begins one.
func lower(s string) string {
	if s == "" {
		return s
	}
	return strings.ToLower(s[:1]) + s[1:]
}

// Settlement says which finding a person answered, why and until when.
func Settlement(t registry.Settlement, n Names) string {
	s := sentences{"Finding settled " + On(t.DoneOn) + n.by(t.PersonID) + ": " + lower(Rule(t.Rule)) + "."}
	s.add("Reason: “" + t.Reason + "”.")
	if !t.Until.IsZero() {
		s.add("It holds until " + t.Until.Words() + ", or until a value behind the finding changes.")
	}
	return s.with(t.Record)
}

// Retraction says that a record was taken back, by whom and why.
func Retraction(r registry.Retraction, n Names) string {
	s := sentences{"Record taken back " + On(r.DoneOn) + n.by(r.PersonID) + "."}
	s.add("Reason: “" + r.Reason + "”.")
	return s.with(r.Record)
}

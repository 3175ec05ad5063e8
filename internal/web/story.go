package web

import (
	"cmp"
	"slices"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// recordLines are all records, newest first.
func recordLines(s registry.AnchorStory) []recordLine {
	n := wording.Names{Persons: s.Persons, Products: s.Products, Batches: s.Batches}
	f, c := s.Facts, s.Facts.Current()
	all := slices.Concat(
		told("Set", f.Installations, c.Installations, func(r registry.Installation) (registry.Record, string) { return r.Record, wording.Installation(r, n) }),
		told("First use", f.FirstUses, c.FirstUses, func(r registry.FirstUse) (registry.Record, string) { return r.Record, wording.FirstUse(r, n) }),
		told("Inspection", f.Inspections, c.Inspections, func(r registry.Inspection) (registry.Record, string) { return r.Record, wording.Inspection(r, n) }),
		told("Removal", f.Removals, c.Removals, func(r registry.Removal) (registry.Record, string) { return r.Record, wording.Removal(r, n) }),
	)
	slices.SortFunc(all, func(a, b toldRecord) int { return -byTime(a.of, b.of) })
	lines := make([]recordLine, len(all))
	for i, d := range all {
		lines[i] = d.line
	}
	return lines
}

// toldRecord is a record with its sentences.
type toldRecord struct {
	of   registry.Record
	line recordLine
}

// told puts all records of a kind into sentences; those that are not among the
// current ones are marked as gone.
func told[R any](kind string, all, current []R, tell func(R) (registry.Record, string)) []toldRecord {
	counts := make(map[uuid.UUID]bool, len(current))
	for _, r := range current {
		of, _ := tell(r)
		counts[of.ID] = true
	}
	list := make([]toldRecord, len(all))
	for i, r := range all {
		of, text := tell(r)
		list[i] = toldRecord{of, recordLine{kind, text, !counts[of.ID]}}
	}
	return list
}

// byTime orders records by the day they had surely happened by, then by when
// they were recorded, then by id. A day not known comes first.
func byTime(a, b registry.Record) int {
	return cmp.Or(
		cmp.Compare(a.DoneOn.To, b.DoneOn.To),
		a.RecordedAt.Compare(b.RecordedAt),
		strings.Compare(a.ID.String(), b.ID.String()),
	)
}

func historyLines(rows []registry.HistoryRow, zone *time.Location) []historyLine {
	lines := make([]historyLine, len(rows))
	for i, r := range rows {
		lines[i] = historyLine{
			At:       calendar.On(r.At, zone).Words() + r.At.In(zone).Format(", 15:04"),
			Standing: r.Standing,
			Due:      wording.InspectBy(r.Standing, r.DueOn, r.DueState),
			Findings: ruleNames(r.Rules),
		}
	}
	return lines
}

// ruleNames are the ids of rules as words: their values of that day are not
// kept with the history.
func ruleNames(rules []string) string {
	names := make([]string, len(rules))
	for i, r := range rules {
		names[i] = strings.ReplaceAll(r, "-", " ")
	}
	return strings.Join(names, ", ")
}

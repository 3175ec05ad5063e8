package schedule

import (
	"math"
	"strconv"

	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// wear adds, for each point that was measured, the date by which it reaches
// the limit of the house rules from which it is suspect. What had reached it
// when it was measured is due from that day, the first of several, until the
// part is replaced or the reading taken back or settled. What had not is carried
// on from the thinnest reading in a straight line at the greater of two rates:
// that since the reading before, and that since it was new; of a single reading
// the latter times the factor of the house rules, as its bound.
func (g *gathering) wear() {
	for _, p := range houserules.WearPoints(g.facts, g.asOf) {
		if p.New == nil || !(*p.New > 0) {
			continue
		}
		limit := g.rules.Wear[string(registry.Suspect)]
		w, ok := g.wornOn(&p, limit.Value)
		if !ok {
			continue
		}
		g.add(registry.Candidate{
			Rule: RuleWear, On: w.on, Source: limit.Source, Values: wearValues(&p, &w, limit.Value),
		})
	}
}

// worn is the date by which a point reaches the limit, the reading it is
// counted from and, if it was carried on, the one before that.
type worn struct {
	on           calendar.Date
	last, before houserules.Reading
}

// wornOn returns when a point reaches the limit; false without a date.
func (g *gathering) wornOn(p *houserules.WearPoint, limit int) (worn, bool) {
	first, settled, kept := g.overLimit(p, limit)
	if first.Inspection != nil {
		return worn{on: first.Inspection.DoneOn.From, last: first}, true
	}
	if len(kept) == 0 {
		return worn{}, false
	}
	w := worn{last: kept[0], before: readBefore(kept)}
	perDay := max(between(w.before, w.last), g.sinceNew(p, &w))
	left := w.last.Left - *p.New*quantity.Length(100-limit)/100
	on, ok := after(w.last.Inspection.DoneOn.From, float64(left)/perDay)
	w.on = max(on, settled) // whoever settled that reading knew the part then
	return w, ok
}

// overLimit returns the earliest reading that had reached the limit and is not
// settled, the latest day of one that is, and the readings that had not.
func (g *gathering) overLimit(p *houserules.WearPoint, limit int) (first houserules.Reading, settled calendar.Date, kept []houserules.Reading) {
	for k, r := range p.Readings {
		switch {
		case *p.LostPct(r.Left) < float64(limit):
			return first, settled, p.Readings[k:] // thinnest first: so are the rest
		case g.wearSettled(p, r):
			settled = max(settled, r.Inspection.DoneOn.From)
		case first.Inspection == nil || houserules.Newer(first.Inspection, r.Inspection):
			first = r
		}
	}
	return first, settled, nil
}

// readBefore returns the newest reading before the first; none if that is the
// oldest.
func readBefore(list []houserules.Reading) houserules.Reading {
	var before houserules.Reading
	for _, r := range list[1:] {
		if houserules.Newer(list[0].Inspection, r.Inspection) &&
			(before.Inspection == nil || houserules.Newer(r.Inspection, before.Inspection)) {
			before = r
		}
	}
	return before
}

// wearSettled says whether a person settled what a reading of a point says
// against it.
func (g *gathering) wearSettled(p *houserules.WearPoint, r houserules.Reading) bool {
	of := ""
	if p.Fitting != nil {
		of = p.Fitting.ID.String()
	}
	for k := range g.given.Findings {
		f := &g.given.Findings[k]
		if f.SettledBy != nil && f.RecordID != nil && *f.RecordID == r.Inspection.ID &&
			f.Values.Text("left_mm") != "" && f.Values.Text("fitting_id") == of {
			return true
		}
	}
	return false
}

func pointWord(p *houserules.WearPoint) string {
	if p.Fitting == nil {
		return "eye"
	}
	return string(p.Fitting.Kind)
}

func wearValues(p *houserules.WearPoint, w *worn, limit int) registry.Values {
	values := append(spanned(measured, w.last.Inspection.DoneOn),
		registry.Value{Name: "point", Text: pointWord(p)},
		registry.Value{Name: "left_mm", Text: millimetres(w.last.Left)},
		registry.Value{Name: "new_mm", Text: millimetres(*p.New)},
		registry.Value{Name: "limit_pct", Text: strconv.Itoa(limit)})
	if w.before.Inspection == nil {
		return append(values, registry.Value{Name: "readings", Text: "1"})
	}
	return append(values, registry.Value{Name: "readings", Text: "2"})
}

func millimetres(l quantity.Length) string {
	return strconv.FormatFloat(l.Millimetres(), 'f', -1, 64)
}

// between returns the rate between two readings in mm a day, over the shortest
// time that can lie between them; 0 if there was none before.
func between(before, last houserules.Reading) float64 {
	if before.Inspection == nil {
		return 0
	}
	days := last.Inspection.DoneOn.From - before.Inspection.DoneOn.To
	return float64(before.Left-last.Left) / float64(max(days, 1))
}

// sinceNew returns the rate since the point was new in mm a day, over the
// shortest age it can have; 0 if that is not known.
func (g *gathering) sinceNew(p *houserules.WearPoint, w *worn) float64 {
	set := g.facts.SetDay()
	if p.Fitting != nil && p.Fitting.SetOn.Known() {
		set = p.Fitting.SetOn
	}
	if !set.Known() {
		return 0
	}
	days := w.last.Inspection.DoneOn.From - set.To
	rate := float64(*p.New-w.last.Left) / float64(max(days, 1))
	if w.before.Inspection == nil {
		rate *= float64(g.rules.WearFactor.Value)
	}
	return rate
}

// centuries is the longest time ahead that still gives a date, in days.
const centuries = 200 * 365.25

// after returns the day a number of days after another, rounded down; false
// for one too far ahead to mean anything.
func after(day calendar.Date, days float64) (calendar.Date, bool) {
	if math.IsNaN(days) || days < 0 || days > centuries {
		return 0, false
	}
	return day.AddDays(int(days)), true
}

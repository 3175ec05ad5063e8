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
// the limit of the house rules from which it is suspect, carried on in a
// straight line at the greater of two rates: that between the last two
// readings, and that since it was new; of a single reading the latter times the
// factor of the house rules, as its bound. What had reached the limit when it
// was measured is due from that day, until the part is replaced, measured again
// or settled.
func (g *gathering) wear() {
	for _, p := range houserules.WearPoints(g.facts, g.asOf) {
		limit := g.rules.Wear[string(registry.Suspect)]
		on, ok := g.wornOn(&p, limit.Value)
		if !ok {
			continue
		}
		g.add(registry.Candidate{
			Rule: RuleWear, On: on, Source: limit.Source, Values: wearValues(&p, limit.Value),
		})
	}
}

// wornOn returns the date by which a point reaches the limit; false without
// one.
func (g *gathering) wornOn(p *houserules.WearPoint, limit int) (calendar.Date, bool) {
	lost := p.LostPct()
	if lost == nil {
		return 0, false
	}
	measured := p.Last.Inspection.DoneOn.From
	if *lost >= float64(limit) {
		return measured, !g.wearSettled(p)
	}
	perDay := max(between(p.Before, p.Last), g.sinceNew(p))
	left := p.Last.Left - *p.New*quantity.Length(100-limit)/100
	return after(measured, float64(left)/perDay)
}

// wearSettled says whether a person settled what the last reading of a point
// says against it.
func (g *gathering) wearSettled(p *houserules.WearPoint) bool {
	for k := range g.given.Findings {
		f := &g.given.Findings[k]
		if f.SettledBy != nil && f.RecordID != nil && *f.RecordID == p.Last.Inspection.ID &&
			f.Values.Text("point") == pointWord(p) && f.Values.Text("left_mm") == millimetres(p.Last.Left) {
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

func wearValues(p *houserules.WearPoint, limit int) registry.Values {
	values := append(spanned(measured, p.Last.Inspection.DoneOn),
		registry.Value{Name: "point", Text: pointWord(p)},
		registry.Value{Name: "left_mm", Text: millimetres(p.Last.Left)},
		registry.Value{Name: "new_mm", Text: millimetres(*p.New)},
		registry.Value{Name: "limit_pct", Text: strconv.Itoa(limit)})
	if p.Before.Inspection == nil {
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
func (g *gathering) sinceNew(p *houserules.WearPoint) float64 {
	set := g.facts.Anchor.SetOn
	if p.Fitting != nil && p.Fitting.SetOn.Known() {
		set = p.Fitting.SetOn
	}
	if !set.Known() {
		return 0
	}
	days := p.Last.Inspection.DoneOn.From - set.To
	rate := float64(*p.New-p.Last.Left) / float64(max(days, 1))
	if p.Before.Inspection == nil {
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

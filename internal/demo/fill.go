package demo

import (
	"context"
	"fmt"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Fill enters the invented scenario into the actor's empty group: first what
// stands in the rock and its history, then a last round of inspections that
// leaves about a tenth overdue, then what that round found, what was made of
// some finds, drawings of two, and a neighbour's list with its notes.
func Fill(ctx context.Context, service *app.Service, who registry.Actor, at time.Time) error {
	asOf := service.AsOf(who)
	scenario := Scenario(asOf, at)
	outlines := takeOutlines(scenario.Parcels)
	if err := service.Enter(ctx, who, scenario); err != nil {
		return fmt.Errorf("enter the invented scenario: %w", err)
	}
	if err := draw(ctx, service, who, outlines); err != nil {
		return err
	}
	r := &round{maker: newMaker(asOf, 2), persons: scenario.Persons, rings: ringsIn(scenario)}
	late, err := service.Overdue(ctx, who, 0)
	if err != nil {
		return fmt.Errorf("list what the last round should visit: %w", err)
	}
	visit := r.last(late.Lines, living(scenario.Anchors)/10)
	if err := service.RecordInspections(ctx, who, visit); err != nil {
		return fmt.Errorf("record the last round: %w", err)
	}
	found := r.finds(scenario)
	if err := service.RecordInspections(ctx, who, found); err != nil {
		return fmt.Errorf("record what the last round found: %w", err)
	}
	if err := r.maintain(ctx, service, who, found); err != nil {
		return err
	}
	if err := r.settle(ctx, service, who, found); err != nil {
		return err
	}
	if err := r.picture(ctx, service, who, found); err != nil {
		return err
	}
	return takeOver(ctx, service, who)
}

func living(anchors []registry.Anchor) int {
	n := 0
	for _, a := range anchors {
		if !a.Removed {
			n++
		}
	}
	return n
}

// round invents the last round of inspections.
type round struct {
	*maker
	persons []registry.Person
	rings   map[uuid.UUID]registry.Measurement // by anchor
}

// last visits what is late, but for leave anchors spread over the list, and
// measures rings.
func (r *round) last(late []registry.ReportLine, leave int) []registry.Inspection {
	var out []registry.Inspection
	for i, line := range late {
		if leave > 0 && i*leave/len(late) != (i+1)*leave/len(late) {
			continue
		}
		i := r.inspection(line.Place.Anchor, r.between(12, 70))
		if m, ok := r.rings[i.AnchorID]; ok {
			i.Measured = []registry.Measurement{m}
		}
		out = append(out, i)
	}
	return out
}

func (r *round) inspection(a registry.Anchor, daysAgo int) registry.Inspection {
	on := max(r.asOf.AddDays(-daysAgo), a.SetOn.From)
	person := pick(r.maker, r.persons).ID
	return registry.Inspection{
		Record: registry.Record{ID: r.id(), AnchorID: a.ID, DoneOn: calendar.Exactly(on), PersonID: &person, Origin: registry.Recorded},
		Level:  registry.HandsOn, Verdict: registry.Keep, Ticked: true,
	}
}

// find is something the last round came across.
type find struct {
	at      func(sitePlan registry.SiteKind, a registry.Anchor) bool
	times   int
	saw     []registry.Observation
	verdict registry.Verdict
	words   string
}

var findings = []find{
	{bonded, 2, []registry.Observation{registry.AnchorTurns}, registry.TakeOutOfUse, "Turns by hand."},
	{hung, 3, []registry.Observation{registry.LooseNut}, registry.KeepWatching, "Nut a quarter turn loose, no spanner along."},
	{seaside, 4, []registry.Observation{registry.TeaStaining}, registry.KeepWatching, "Brown staining below the eye."},
	{hung, 2, []registry.Observation{registry.Rust}, registry.KeepWatching, "Hanger rusting at the edge."},
	{bonded, 1, []registry.Observation{registry.CrackedGlue}, registry.Repair, "Crack round half the collar."},
	{hung, 1, []registry.Observation{registry.CrackedRock}, registry.Repair, "Hairline crack through the hole."},
	{underground, 2, nil, "", "Looked for on the far wall, not found."},
}

func bonded(_ registry.SiteKind, a registry.Anchor) bool { return a.Form.Bonded() }
func hung(k registry.SiteKind, a registry.Anchor) bool {
	return k != registry.Cave && a.Form.Expansion()
}
func seaside(k registry.SiteKind, _ registry.Anchor) bool     { return k == registry.SeaCliff }
func underground(k registry.SiteKind, _ registry.Anchor) bool { return k == registry.Cave }

// finds gives each find to living anchors of long standing, spread over the
// register.
func (r *round) finds(scenario registry.Change) []registry.Inspection {
	kinds := map[string]registry.SiteKind{}
	for _, s := range scenario.Sites {
		kinds[s.ID.String()] = s.Kind
	}
	left := make([]find, len(findings))
	copy(left, findings)
	var out []registry.Inspection
	for i, a := range scenario.Anchors {
		if a.Removed || i%7 != 0 || a.SetOn.From > r.asOf.AddYears(-1) {
			continue
		}
		for f := range left {
			if left[f].times == 0 || !left[f].at(kinds[a.SiteID.String()], a) {
				continue
			}
			left[f].times--
			out = append(out, r.found(a, left[f]))
			break
		}
	}
	return out
}

func (r *round) found(a registry.Anchor, f find) registry.Inspection {
	i := r.inspection(a, r.between(3, 9))
	i.Observations, i.Verdict, i.Words = f.saw, f.verdict, f.words
	if f.saw == nil {
		no := false
		i.Found, i.Level = &no, registry.Glance
	}
	return i
}

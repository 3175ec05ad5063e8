package schedule

import (
	"slices"
	"strconv"

	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// events adds the dates of events and notices that still ask for an
// inspection.
func (g *gathering) events() {
	for k := range g.facts.Events {
		e := &g.facts.Events[k]
		if g.rules.EventStands(g.facts, e, g.asOf) && !g.settled(e.ID) {
			g.event(e)
		}
	}
	for k := range g.facts.Notices {
		n := &g.facts.Notices[k]
		if !g.rules.NoticeStands(g.facts, n, g.asOf) || g.settled(n.ID) {
			continue
		}
		g.add(registry.Candidate{
			Rule: RuleNotice, On: n.InspectBy, Source: "set with the notice", Hard: true,
			Values: registry.Values{{Name: "title", Text: n.Title}, {Name: "issued_on", Text: n.IssuedOn.String()}},
		})
	}
}

func (g *gathering) settled(id uuid.UUID) bool { return slices.Contains(g.given.Settled, id) }

// event adds the date that the steward set after an event, or that follows
// from the house rules.
func (g *gathering) event(e *registry.Event) {
	c := registry.Candidate{
		Rule: RuleEvent, On: e.InspectBy, Source: "set by a steward", Hard: true,
		Values: registry.Values{
			{Name: "event", Text: string(e.Kind)},
			{Name: "happened_on", Text: e.HappenedOn.String()},
			{Name: "closed", Text: strconv.FormatBool(e.Closed)},
		},
	}
	if e.InspectBy.IsZero() {
		n := g.rules.Event
		c.On, c.Source = e.HappenedOn.AddDays(n.Value), n.Source
		c.Values = append(c.Values, registry.Value{Name: "days", Text: strconv.Itoa(n.Value)})
	}
	g.add(c)
}

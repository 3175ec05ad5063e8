package app

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

var environments = noun[registry.Environment]{
	what: "environment", add: AddEnvironment, change: ChangeEnvironment, read: Store.Environment,
	key:   func(n *registry.Environment) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	check: checkEnvironment,
	put:   func(c *registry.Change, n registry.Environment) { c.Environments = append(c.Environments, n) },
}

// presets are the names that an environment's preset may have, and the kind of
// site each is for.
var presets = map[string]registry.SiteKind{
	registry.PresetSeaCliff: registry.SeaCliff,
	registry.PresetCave:     registry.Cave,
}

func checkEnvironment(d *desk, before, n *registry.Environment) {
	if before == nil || before.Preset != n.Preset {
		d.preset(n)
	}
	d.Nest("", n.Validate())
	site := d.place(n.Place)
	if n.SiteID = site; before != nil {
		d.fixed("place_id", before.Place == n.Place)
	}
	d.Require(n.From.IsZero() || states(n), "preset", fault.Required, "states", "nothing")
}

// preset fills what a statement leaves open from the preset it names.
func (d *desk) preset(n *registry.Environment) {
	if n.Preset == "" {
		return
	}
	kind, ok := presets[n.Preset]
	d.Require(ok, "preset", fault.Unknown, "value", n.Preset,
		"allowed", registry.PresetSeaCliff+", "+registry.PresetCave)
	if ok {
		n.Fill(registry.Preset(kind))
	}
}

// states says whether a statement says anything of a climate.
func states(n *registry.Environment) bool {
	open := *n
	open.Until = 0
	return len(registry.ExplainEnvironment([]registry.Environment{open}, n.From)) > 0
}

// AddEnvironment stores what is stated of the climate at a place, by the terms
// of AddSite. It lies at its place's site. What it leaves open is filled from
// the preset it names, if it names one; it must then say something.
func (s *Service) AddEnvironment(ctx context.Context, who registry.Actor, n registry.Environment) (stored registry.Environment, created bool, err error) {
	return addNoun(ctx, s, who, n, environments)
}

// ChangeEnvironment changes what is stated of the climate at a place, by the
// terms of ChangeSite. The place stays.
func (s *Service) ChangeEnvironment(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Environment) error) (registry.Environment, error) {
	return changeNoun(ctx, s, who, id, version, edit, environments)
}

var events = noun[registry.Event]{
	what: "event", add: AddEvent, change: ChangeEvent, read: Store.Event,
	key: func(n *registry.Event) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	check: func(d *desk, before, n *registry.Event) {
		d.Nest("", n.Validate(d.asOf))
		d.Require(len(n.Words) <= registry.MaxWords, "words", fault.TooLong)
		d.past("ended_on", n.EndedOn)
		has(d, "site_id", n.SiteID, Store.Site)
		d.fixed("site_id", before == nil || before.SiteID == n.SiteID)
	},
	put: func(c *registry.Change, n registry.Event) { c.Events = append(c.Events, n) },
}

// AddEvent stores what befell a site, by the terms of AddSite.
func (s *Service) AddEvent(ctx context.Context, who registry.Actor, n registry.Event) (stored registry.Event, created bool, err error) {
	return addNoun(ctx, s, who, n, events)
}

// ChangeEvent changes an event, by the terms of ChangeSite. Its site stays.
func (s *Service) ChangeEvent(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Event) error) (registry.Event, error) {
	return changeNoun(ctx, s, who, id, version, edit, events)
}

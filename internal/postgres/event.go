package postgres

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type eventRow struct {
	inventoryKey
	SiteID     uuid.UUID     `json:"site_id"`
	Kind       word          `json:"kind"`
	HappenedOn calendar.Date `json:"happened_on"`
	InspectBy  calendar.Date `json:"inspect_by"`
	Closed     bool          `json:"closed"`
	Words      string        `json:"words"`
	EndedOn    calendar.Date `json:"ended_on"`
}

func newEventRow(e registry.Event) eventRow {
	return eventRow{
		inventoryKey{e.ID, e.Version}, e.SiteID, word(e.Kind), e.HappenedOn, e.InspectBy, e.Closed, e.Words, e.EndedOn,
	}
}

func (r eventRow) place() registry.Place { return registry.Place{Kind: registry.AtSite, ID: r.SiteID} }

func (r eventRow) noun() registry.Event {
	return registry.Event{
		ID: r.ID, Version: r.Version, SiteID: r.SiteID, Kind: registry.EventKind(r.Kind), HappenedOn: r.HappenedOn,
		InspectBy: r.InspectBy, Closed: r.Closed, Words: r.Words, EndedOn: r.EndedOn,
	}
}

var events = newTable[eventRow]("event")

// Events lists events, of one site or of all, in the order of ids.
func (s *Store) Events(ctx context.Context, group uuid.UUID, site *uuid.UUID, page registry.Page) ([]registry.Event, error) {
	f := pageOf(page)
	f.andID(ofSite, "site_id", site)
	return list(ctx, s, group, f.query("list events", events.selectSQL), eventRow.noun)
}

// Event returns one event, or fault.NotFound.
func (s *Store) Event(ctx context.Context, group, id uuid.UUID) (registry.Event, error) {
	return single(ctx, s, group, byID("read event", events.selectSQL, id), eventRow.noun)
}

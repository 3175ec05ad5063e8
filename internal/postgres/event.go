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

type noticeRow struct {
	inventoryKey
	Title     string        `json:"title"`
	Words     string        `json:"words"`
	IssuedOn  calendar.Date `json:"issued_on"`
	InspectBy calendar.Date `json:"inspect_by"`
	EndedOn   calendar.Date `json:"ended_on"`
}

func newNoticeRow(n registry.Notice) noticeRow {
	return noticeRow{inventoryKey{n.ID, n.Version}, n.Title, n.Words, n.IssuedOn, n.InspectBy, n.EndedOn}
}

var notices = newTable[noticeRow]("notice")

// namedRow is an anchor that a notice names.
type namedRow struct {
	NoticeID uuid.UUID `json:"notice_id"`
	AnchorID uuid.UUID `json:"anchor_id"`
}

func (r namedRow) rowID() uuid.UUID { return r.NoticeID }

var named = newTable[namedRow]("notice_anchor")

// noticeReadRow is a notice with the anchors it names.
type noticeReadRow struct {
	noticeRow
	AnchorIDs []uuid.UUID `json:"anchor_ids"`
}

func (r noticeReadRow) noun() registry.Notice {
	return registry.Notice{
		ID: r.ID, Version: r.Version, Title: r.Title, Words: r.Words, IssuedOn: r.IssuedOn, InspectBy: r.InspectBy,
		AnchorIDs: r.AnchorIDs, EndedOn: r.EndedOn,
	}
}

// selectNotices reads notices up to the WHERE; the primary key of
// notice_anchor serves the anchors.
var selectNotices = "\nSELECT " + selectList[noticeRow]("t") + `,
  ARRAY(SELECT na.anchor_id FROM notice_anchor AS na WHERE na.notice_id = t.id ORDER BY na.anchor_id) AS anchor_ids
FROM notice AS t`

// Notices lists notices with the anchors they name, in the order of ids.
func (s *Store) Notices(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Notice, error) {
	return list(ctx, s, group, pageOf(page).query("list notices", selectNotices), noticeReadRow.noun)
}

// Notice returns one notice with the anchors it names, or fault.NotFound.
func (s *Store) Notice(ctx context.Context, group, id uuid.UUID) (registry.Notice, error) {
	return single(ctx, s, group, byID("read notice", selectNotices, id), noticeReadRow.noun)
}

package postgres

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

type anchorRow struct {
	inventoryKey
	SiteID          uuid.UUID        `json:"site_id"`
	PositionID      uuid.UUID        `json:"position_id"`
	Form            word             `json:"form"`
	FormWords       string           `json:"form_words"`
	Metal           metal.Set        `json:"metal"`
	MetalWords      string           `json:"metal_words"`
	ProductID       *uuid.UUID       `json:"product_id"`
	ShankDiameterMM *quantity.Length `json:"shank_diameter_mm"`
	OverallLengthMM *quantity.Length `json:"overall_length_mm"`
	SetOnFrom       calendar.Date    `json:"set_on_from"`
	SetOnTo         calendar.Date    `json:"set_on_to"`
	SetOnWords      string           `json:"set_on_words"`
	Removed         bool             `json:"removed"`
	RemovedOnFrom   calendar.Date    `json:"removed_on_from"`
	RemovedOnTo     calendar.Date    `json:"removed_on_to"`
	RemovedOnWords  string           `json:"removed_on_words"`
	Origin          word             `json:"origin"`
	EnteredOn       calendar.Date    `json:"entered_on"`
	Notes           string           `json:"notes"`
}

func newAnchorRow(a registry.Anchor) anchorRow {
	return anchorRow{
		inventoryKey{a.ID, a.Version},
		a.SiteID, a.PositionID, word(a.Form), a.FormWords, grades(a.Metal), a.MetalWords,
		a.ProductID, a.Shank, a.Length, a.SetOn.From, a.SetOn.To, a.SetOn.Words,
		a.Removed, a.RemovedOn.From, a.RemovedOn.To, a.RemovedOn.Words, word(a.Origin), a.EnteredOn, a.Notes,
	}
}

func (r anchorRow) noun() registry.Anchor {
	return registry.Anchor{
		ID: r.ID, Version: r.Version, SiteID: r.SiteID, PositionID: r.PositionID,
		Form: registry.Form(r.Form), FormWords: r.FormWords, Metal: r.Metal, MetalWords: r.MetalWords,
		ProductID: r.ProductID, Shank: r.ShankDiameterMM, Length: r.OverallLengthMM,
		SetOn:   span(r.SetOnFrom, r.SetOnTo, r.SetOnWords),
		Removed: r.Removed, RemovedOn: span(r.RemovedOnFrom, r.RemovedOnTo, r.RemovedOnWords),
		Origin: registry.Origin(r.Origin), EnteredOn: r.EnteredOn, Notes: r.Notes,
	}
}

var anchors = newTable[anchorRow]("anchor")

type fittingRow struct {
	inventoryKey
	AnchorID   uuid.UUID     `json:"anchor_id"`
	Kind       word          `json:"kind"`
	Presence   word          `json:"presence"`
	Words      string        `json:"words"`
	Metal      metal.Set     `json:"metal"`
	MetalWords string        `json:"metal_words"`
	SetOnFrom  calendar.Date `json:"set_on_from"`
	SetOnTo    calendar.Date `json:"set_on_to"`
	SetOnWords string        `json:"set_on_words"`
}

func newFittingRow(f registry.Fitting) fittingRow {
	return fittingRow{
		inventoryKey{f.ID, f.Version},
		f.AnchorID, word(f.Kind), word(f.Presence), f.Words, grades(f.Metal), f.MetalWords,
		f.SetOn.From, f.SetOn.To, f.SetOn.Words,
	}
}

func (r fittingRow) noun() registry.Fitting {
	return registry.Fitting{
		ID: r.ID, Version: r.Version, AnchorID: r.AnchorID, Kind: registry.FittingKind(r.Kind),
		Presence: registry.Presence(r.Presence), Words: r.Words, Metal: r.Metal, MetalWords: r.MetalWords,
		SetOn: span(r.SetOnFrom, r.SetOnTo, r.SetOnWords),
	}
}

var fittings = newTable[fittingRow]("fitting")

// lineRow is an anchor with its place and how it stands.
type lineRow struct {
	anchorRow
	Site     string        `json:"site"`
	Sector   string        `json:"sector"`
	Route    string        `json:"route"`
	Label    string        `json:"label"`
	Role     word          `json:"role"`
	Standing word          `json:"standing"`
	DueOn    calendar.Date `json:"due_on"`
	DueState word          `json:"due_state"`
	Band     word          `json:"band"`
}

func (r lineRow) noun() registry.AnchorLine {
	return registry.AnchorLine{
		Anchor: r.anchorRow.noun(), Site: r.Site, Sector: r.Sector, Route: r.Route, Label: r.Label,
		Role: registry.PositionRole(r.Role), Standing: registry.Standing(r.Standing), DueOn: r.DueOn,
		DueState: registry.DueState(r.DueState), Band: registry.Band(r.Band),
	}
}

// lineColumns and lineTables make up a line. Of an anchor's routes the first
// by name stands in the line.
var lineColumns = selectList[anchorRow]("t") + `,
  site.name AS site, COALESCE(sector.name, '') AS sector, COALESCE(route.name, '') AS route, p.label, p.role,
  x.standing, x.due_on, x.due_state, x.band`

const lineTables = `
FROM anchor AS t
JOIN position AS p ON p.id = t.position_id
JOIN site ON site.id = t.site_id
LEFT JOIN sector ON sector.id = p.sector_id
LEFT JOIN assessment AS x ON x.anchor_id = t.id
LEFT JOIN LATERAL (
  SELECT r.name
  FROM route_position AS rp
  JOIN route AS r ON r.id = rp.route_id
  WHERE rp.position_id = p.id
  ORDER BY r.name, r.id
  LIMIT 1
) AS route ON true`

// Conditions of a list of anchors.
const (
	anchorOnRoute    = `t.position_id IN (SELECT rp.position_id FROM route_position AS rp WHERE rp.route_id = @route_id)`
	anchorStands     = `x.standing = @standing`
	anchorDueBefore  = `x.due_on < @due_before`
	anchorCanBe      = `@metal = ANY (t.metal)`
	anchorOfBatch    = `t.id IN (SELECT i.anchor_id FROM installation AS i WHERE i.batch_id = @batch_id)`
	anchorSpeaksOfIt = `(strpos(lower(p.label), @text) > 0 OR strpos(lower(site.name), @text) > 0 OR strpos(lower(t.notes), @text) > 0
    OR EXISTS (
      SELECT FROM route_position AS rp
      JOIN route AS r ON r.id = rp.route_id
      WHERE rp.position_id = p.id AND strpos(lower(r.name), @text) > 0))`
)

// Anchors lists anchors, removed ones too, in the order of ids. The filter's
// metal finds those whose recorded grades include it; an anchor whose metal is
// not known is not among them. The primary key serves the pages; text and metal
// are looked at row by row.
func (s *Store) Anchors(ctx context.Context, group uuid.UUID, filter registry.AnchorFilter, page registry.Page) ([]registry.AnchorLine, error) {
	f := pageOf(page)
	f.andID(ofSite, "site_id", filter.SiteID)
	f.andID(anchorOnRoute, "route_id", filter.RouteID)
	f.andID(anchorOfBatch, "batch_id", filter.BatchID)
	if filter.Standing != "" {
		f.and(anchorStands, "standing", string(filter.Standing))
	}
	if !filter.DueBefore.IsZero() {
		f.and(anchorDueBefore, "due_before", filter.DueBefore)
	}
	if filter.Metal != "" {
		f.and(anchorCanBe, "metal", string(filter.Metal))
	}
	if text := registry.Fold(filter.Text); text != "" {
		f.and(anchorSpeaksOfIt, "text", text)
	}
	return list(ctx, s, group, f.query("list anchors", "\nSELECT "+lineColumns+lineTables), lineRow.noun)
}

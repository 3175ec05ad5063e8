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
	Mistaken        bool             `json:"mistaken"`
	Origin          word             `json:"origin"`
	EnteredOn       calendar.Date    `json:"entered_on"`
	Notes           string           `json:"notes"`
}

func newAnchorRow(a registry.Anchor) anchorRow {
	return anchorRow{
		inventoryKey{a.ID, a.Version},
		a.SiteID, a.PositionID, word(a.Form), a.FormWords, grades(a.Metal), a.MetalWords,
		a.ProductID, a.Shank, a.Length, a.SetOn.From, a.SetOn.To, a.SetOn.Words,
		a.Removed, a.RemovedOn.From, a.RemovedOn.To, a.RemovedOn.Words, a.Mistaken, word(a.Origin), a.EnteredOn, a.Notes,
	}
}

func (r anchorRow) noun() registry.Anchor {
	return registry.Anchor{
		ID: r.ID, Version: r.Version, SiteID: r.SiteID, PositionID: r.PositionID,
		Form: registry.Form(r.Form), FormWords: r.FormWords, Metal: r.Metal, MetalWords: r.MetalWords,
		ProductID: r.ProductID, Shank: r.ShankDiameterMM, Length: r.OverallLengthMM,
		SetOn:   span(r.SetOnFrom, r.SetOnTo, r.SetOnWords),
		Removed: r.Removed, RemovedOn: span(r.RemovedOnFrom, r.RemovedOnTo, r.RemovedOnWords),
		Mistaken: r.Mistaken,
		Origin:   registry.Origin(r.Origin), EnteredOn: r.EnteredOn, Notes: r.Notes,
	}
}

var anchors = newTable[anchorRow]("anchor")

type fittingRow struct {
	inventoryKey
	AnchorID     uuid.UUID        `json:"anchor_id"`
	Kind         word             `json:"kind"`
	Presence     word             `json:"presence"`
	Words        string           `json:"words"`
	Metal        metal.Set        `json:"metal"`
	MetalWords   string           `json:"metal_words"`
	SetOnFrom    calendar.Date    `json:"set_on_from"`
	SetOnTo      calendar.Date    `json:"set_on_to"`
	SetOnWords   string           `json:"set_on_words"`
	NewSectionMM *quantity.Length `json:"new_section_mm"`
	EndedOn      calendar.Date    `json:"ended_on"`
	ProductID    *uuid.UUID       `json:"product_id"`
	BatchID      *uuid.UUID       `json:"batch_id"`
}

func newFittingRow(f registry.Fitting) fittingRow {
	return fittingRow{
		inventoryKey{f.ID, f.Version},
		f.AnchorID, word(f.Kind), word(f.Presence), f.Words, grades(f.Metal), f.MetalWords,
		f.SetOn.From, f.SetOn.To, f.SetOn.Words, f.New, f.EndedOn, f.ProductID, f.BatchID,
	}
}

func (r fittingRow) noun() registry.Fitting {
	return registry.Fitting{
		ID: r.ID, Version: r.Version, AnchorID: r.AnchorID, Kind: registry.FittingKind(r.Kind),
		Presence: registry.Presence(r.Presence), Words: r.Words, Metal: r.Metal, MetalWords: r.MetalWords,
		SetOn: span(r.SetOnFrom, r.SetOnTo, r.SetOnWords), New: r.NewSectionMM, EndedOn: r.EndedOn,
		ProductID: r.ProductID, BatchID: r.BatchID,
	}
}

var fittings = newTable[fittingRow]("fitting")

// Fittings lists an anchor's fittings in the order of ids, those taken off too;
// none for an anchor that is not there. Served by fitting_of_anchor_idx.
func (s *Store) Fittings(ctx context.Context, group, anchor uuid.UUID, page registry.Page) ([]registry.Fitting, error) {
	f := pageOf(page)
	f.and(`t.anchor_id = @anchor_id`, "anchor_id", anchor)
	return list(ctx, s, group, f.query("list fittings", fittings.selectSQL), fittingRow.noun)
}

// Fitting returns one fitting, or fault.NotFound.
func (s *Store) Fitting(ctx context.Context, group, id uuid.UUID) (registry.Fitting, error) {
	return single(ctx, s, group, byID("read fitting", fittings.selectSQL, id), fittingRow.noun)
}

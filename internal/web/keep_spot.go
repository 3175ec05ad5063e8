package web

import (
	"context"
	"slices"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// keptPositions are positions. A new one is added to a route by another form,
// which asks where on it.
func (p *Pages) keptPositions() kept[registry.Position] {
	return kept[registry.Position]{
		noun: "position", change: app.ChangePosition,
		key:  func(n *registry.Position) (*uuid.UUID, *int) { return &n.ID, &n.Version },
		read: p.service.Position, check: (*registry.Position).Validate,
		keep: func(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Position) error) (registry.Position, error) {
			return p.service.ChangePosition(ctx, who, id, version, func(n *registry.Position, _ *[]registry.Stop) error { return edit(n) })
		},
		fields: p.positionFields,
		place: func(ctx context.Context, who registry.Actor, base string, n *registry.Position) (keptPlace, error) {
			above, err := p.above(ctx, who, base, n.SiteID, n.SectorID)
			return keptPlace{n.Label, positionHref(base, n.ID), above}, err
		},
	}
}

func (p *Pages) positionFields(ctx context.Context, who registry.Actor, n *registry.Position) ([]keptField[registry.Position], error) {
	site, err := p.service.Site(ctx, who, n.SiteID)
	if err != nil {
		return nil, err
	}
	sectors, err := p.sectorOptions(ctx, who, n.SiteID, n.SectorID)
	if err != nil {
		return nil, err
	}
	parcels, err := p.parcelOptions(ctx, who, n)
	fields := []keptField[registry.Position]{
		textOf("label", wording.PositionLabelHelp, func(n *registry.Position) *string { return &n.Label }),
		wordOf("role", notRecordedOptions(registry.PositionRoles()), func(n *registry.Position) *registry.PositionRole { return &n.Role }),
		wordOf("face", notRecordedOptions(registry.Faces()), func(n *registry.Position) *registry.Face { return &n.Face }),
		flagOf("backed_up", func(n *registry.Position) **bool { return &n.BackedUp }),
		proseOf("how_to_find", wording.PositionFindHelp, func(n *registry.Position) *string { return &n.HowTo }),
		refOf("sector_id", "", sectors, func(n *registry.Position) **uuid.UUID { return &n.SectorID }),
		parcelOf(parcels),
	}
	// A cave's positions never have coordinates.
	if site.Kind != registry.Cave {
		fields = append(fields,
			degreesOf("lat", wording.PositionPlaceHelp, func(n *registry.Position) **float64 { return &n.Lat }),
			degreesOf("lon", "", func(n *registry.Position) **float64 { return &n.Lon }))
	}
	fields = append(fields, proseOf("notes", "", func(n *registry.Position) *string { return &n.Notes }))
	return ending(true, fields, dayOf(endedField, wording.EndedHelp, positionEnd)), err
}

// noParcel is the choice of no parcel, by a person; the blank choice leaves it
// to the outlines on the map.
const noParcel = "none"

// parcelOf is on whose land a position is, as a person says.
func parcelOf(options []option) keptField[registry.Position] {
	return keptField[registry.Position]{
		formField{Name: "parcel_id", Kind: "select", Help: wording.ParcelHelp, Options: options},
		func(n *registry.Position) string {
			switch {
			case !n.ParcelByHand:
				return ""
			case n.ParcelID == nil:
				return noParcel
			}
			return n.ParcelID.String()
		},
		func(f *form, n *registry.Position) {
			n.ParcelID, n.ParcelByHand = nil, f.text("parcel_id") != ""
			if f.text("parcel_id") != noParcel {
				n.ParcelID = f.ref("parcel_id")
			}
		},
	}
}

// parcelOptions are parcels as choices, those that have ended only where it is
// the one chosen.
func (p *Pages) parcelOptions(ctx context.Context, who registry.Actor, n *registry.Position) ([]option, error) {
	parcels, err := everything(func(page registry.Page) ([]registry.Parcel, error) {
		return p.service.Parcels(ctx, who, nil, page)
	}, func(x registry.Parcel) uuid.UUID { return x.ID })
	slices.SortFunc(parcels, func(a, b registry.Parcel) int { return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name)) })
	options := []option{{Text: wording.ParcelByOutline}, {Value: noParcel, Text: wording.ParcelNone}}
	for _, x := range parcels {
		if x.EndedOn.IsZero() || n.ParcelID != nil && *n.ParcelID == x.ID {
			options = append(options, option{Value: x.ID.String(), Text: x.Name})
		}
	}
	return options, err
}

// keptAnchors are what describes anchors: where one is and what became of it is
// for records to say.
func (p *Pages) keptAnchors() kept[registry.Anchor] {
	return kept[registry.Anchor]{
		noun: "anchor", change: app.ChangeAnchor,
		key: func(n *registry.Anchor) (*uuid.UUID, *int) { return &n.ID, &n.Version },
		read: func(ctx context.Context, who registry.Actor, id uuid.UUID) (registry.Anchor, error) {
			story, err := p.service.AnchorStory(ctx, who, id)
			return story.Facts.Anchor, err
		},
		keep: p.service.ChangeAnchor, check: (*registry.Anchor).Validate,
		fields: p.anchorFields,
		place: func(ctx context.Context, who registry.Actor, base string, n *registry.Anchor) (keptPlace, error) {
			at, err := p.service.Position(ctx, who, n.PositionID)
			if err != nil {
				return keptPlace{}, err
			}
			above, err := p.above(ctx, who, base, at.SiteID, at.SectorID)
			return keptPlace{at.Label, anchorHref(base, n.ID), above}, err
		},
	}
}

func (p *Pages) anchorFields(_ context.Context, who registry.Actor, n *registry.Anchor) ([]keptField[registry.Anchor], error) {
	asOf := p.service.AsOf(who)
	shape := wordOf("form", notRecordedOptions(registry.Forms()), func(n *registry.Anchor) *registry.Form { return &n.Form })
	shape.Help = wording.AnchorFormHelp
	return []keptField[registry.Anchor]{
		shape,
		{
			formField{Name: "metal_text", Kind: "text", Help: wording.MetalRead(n.Metal)},
			func(n *registry.Anchor) string { return n.MetalWords },
			func(f *form, n *registry.Anchor) {
				if n.MetalWords = f.text("metal_text"); n.MetalWords == "" {
					n.Metal = nil
				}
				n.Metal = app.RereadMetal(n.Metal, n.MetalWords)
			},
		},
		lengthOf("shank_diameter_mm", "", func(n *registry.Anchor) **quantity.Length { return &n.Shank }),
		lengthOf("overall_length_mm", wording.AnchorLengthHelp, func(n *registry.Anchor) **quantity.Length { return &n.Length }),
		{
			formField{Name: "set_on", Kind: "text", Help: wording.AnchorSetHelp},
			func(n *registry.Anchor) string { return n.SetOn.Text(asOf) },
			func(f *form, n *registry.Anchor) { n.SetOn = f.span("set_on", asOf) },
		},
		proseOf("notes", "", func(n *registry.Anchor) *string { return &n.Notes }),
	}, nil
}

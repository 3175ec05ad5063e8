package app

import (
	"context"
	"fmt"

	"github.com/google/uuid"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// maxOutline is the longest outline, in bytes of GeoJSON.
const maxOutline = 200_000

var parcels = noun[registry.Parcel]{
	what: "parcel", add: AddParcel, change: ChangeParcel, read: readParcel,
	key:   func(n *registry.Parcel) (*uuid.UUID, *int) { return &n.ID, &n.Version },
	tidy:  func(n *registry.Parcel) { n.Name = tidy(n.Name); measure(n) },
	check: checkParcel,
	put:   func(c *registry.Change, n registry.Parcel) { c.Parcels = append(c.Parcels, n) },
}

func readParcel(s Store, ctx context.Context, group, id uuid.UUID) (registry.Parcel, error) {
	n, err := s.Parcel(ctx, group, id)
	measure(&n)
	return n, err
}

// measure works out a parcel's area from its outline; one that is not right has
// none.
func measure(n *registry.Parcel) {
	n.AreaM2 = nil
	if drawn, err := parseOutline(n.Outline); err == nil && n.Outline != "" {
		area := drawn.area()
		n.AreaM2 = &area
	}
}

func checkParcel(d *desk, before, n *registry.Parcel) {
	d.Nest("", n.Validate())
	d.past("ended_on", n.EndedOn)
	if n.LandownerID != uuid.Nil {
		has(d, "landowner_id", n.LandownerID, Store.Landowner)
	}
	d.Require(len(n.Outline) <= maxOutline, "outline", fault.TooLong, "max", fmt.Sprint(maxOutline))
	redrawn := before == nil && n.Outline != "" ||
		before != nil && (before.Outline != n.Outline || before.EndedOn != n.EndedOn)
	if !redrawn || len(n.Outline) > maxOutline {
		return
	}
	land, err := d.s.drawnLand(d.ctx, d.who)
	d.Nest("", err)
	mine, err := parseOutline(n.Outline)
	if d.Nest("outline", err); err != nil {
		return
	}
	if n.EndedOn.IsZero() {
		d.checkOverlap(land, n, mine)
	}
	d.moveOnto(land.with(n, mine))
}

// checkOverlap wants an outline to leave other parcels' land alone.
func (d *desk) checkOverlap(land drawnLand, n *registry.Parcel, mine outline) {
	for _, other := range land.drawn {
		d.Require(other.id == n.ID || !mine.overlaps(other.outline), "outline", fault.Overlaps, "name", other.name)
	}
}

// moveOnto puts on the desk every position whose parcel the drawn land now says
// is another.
func (d *desk) moveOnto(land drawnLand) {
	positions, err := d.s.allPositions(d.ctx, d.who, nil)
	d.Nest("", err)
	for _, p := range positions {
		if p.ParcelByHand {
			continue
		}
		if parcel := land.parcelOf(&p); !sameID(parcel, p.ParcelID) {
			p.ParcelID = parcel
			d.also.Positions = append(d.also.Positions, p)
		}
	}
}

// AddParcel stores a new parcel, by the terms of AddSite. Its outline, if drawn,
// is a GeoJSON Polygon or MultiPolygon in WGS 84 that neither crosses itself
// nor another parcel; its area is worked out, and the positions that lie within
// become its own, but for those whose parcel a person named.
func (s *Service) AddParcel(ctx context.Context, who registry.Actor, n registry.Parcel) (stored registry.Parcel, created bool, err error) {
	return addNoun(ctx, s, who, n, parcels)
}

// ChangeParcel changes a parcel, by the terms of ChangeSite and AddParcel.
func (s *Service) ChangeParcel(ctx context.Context, who registry.Actor, id uuid.UUID, version int, edit func(*registry.Parcel) error) (registry.Parcel, error) {
	return changeNoun(ctx, s, who, id, version, edit, parcels)
}

// drawnLand is the group's parcels: those with an outline, and the ids of those
// without, which only a person can have given to a position.
type drawnLand struct {
	drawn   []drawnParcel
	undrawn map[uuid.UUID]bool
}

type drawnParcel struct {
	id      uuid.UUID
	name    string
	outline outline
}

// drawnLand reads the parcels that stand.
func (s *Service) drawnLand(ctx context.Context, who registry.Actor) (drawnLand, error) {
	land := drawnLand{undrawn: make(map[uuid.UUID]bool)}
	list, err := s.parcels(ctx, who, nil)
	for i := range list {
		if !list[i].EndedOn.IsZero() {
			continue
		}
		drawn, err := parseOutline(list[i].Outline)
		if err != nil || list[i].Outline == "" {
			land.undrawn[list[i].ID] = true
			continue
		}
		land.drawn = append(land.drawn, drawnParcel{list[i].ID, list[i].Name, drawn})
	}
	return land, err
}

// parcels reads every parcel of one landowner, or of all.
func (s *Service) parcels(ctx context.Context, who registry.Actor, landowner *uuid.UUID) ([]registry.Parcel, error) {
	return all(func(page registry.Page) ([]registry.Parcel, error) {
		return s.store.Parcels(ctx, who.GroupID, landowner, page)
	}, func(p *registry.Parcel) uuid.UUID { return p.ID })
}

// with returns the land with a parcel as it will stand.
func (l drawnLand) with(n *registry.Parcel, drawn outline) drawnLand {
	out := drawnLand{undrawn: make(map[uuid.UUID]bool, len(l.undrawn))}
	for id := range l.undrawn {
		out.undrawn[id] = id != n.ID
	}
	for _, p := range l.drawn {
		if p.id != n.ID {
			out.drawn = append(out.drawn, p)
		}
	}
	switch {
	case !n.EndedOn.IsZero():
	case n.Outline == "":
		out.undrawn[n.ID] = true
	default:
		out.drawn = append(out.drawn, drawnParcel{n.ID, n.Name, drawn})
	}
	return out
}

// parcelOf returns the parcel on which a position lies: the one whose outline
// holds its coordinates, otherwise the one it has if that is not drawn.
func (l drawnLand) parcelOf(p *registry.Position) *uuid.UUID {
	if p.ParcelID != nil && l.undrawn[*p.ParcelID] {
		return p.ParcelID
	}
	return l.outlineOf(p)
}

// outlineOf returns the parcel whose outline holds a position's coordinates.
func (l drawnLand) outlineOf(p *registry.Position) *uuid.UUID {
	if p.Lat == nil || p.Lon == nil {
		return nil
	}
	for i := range l.drawn {
		if l.drawn[i].outline.holds(*p.Lat, *p.Lon) {
			return &l.drawn[i].id
		}
	}
	return nil
}

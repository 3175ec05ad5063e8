package web

import (
	"context"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// placeLabels name the fields of places, by their names in the API, where no
// other form has them.
var placeLabels = map[string]string{
	"rock": "How hard the rock is", "rock_text": "Rock, in words", "coordinates_text": "A cave's coordinates, as written",
	"first_round_ends": "End of the first round of inspections", "traffic": "How often it is used", "sector_id": "Sector",
	"parcel_id": "On whose land", endedField: "No longer looked after since",
}

func (p *Pages) keptSites() kept[registry.Site] {
	return kept[registry.Site]{
		noun: "site", add: app.AddSite, change: app.ChangeSite,
		key:  func(n *registry.Site) (*uuid.UUID, *int) { return &n.ID, &n.Version },
		read: p.service.Site, enter: p.service.AddSite, keep: p.service.ChangeSite, check: (*registry.Site).Validate,
		fresh: func(context.Context, registry.Actor, uuid.UUID) (registry.Site, error) { return registry.Site{}, nil },
		fields: func(_ context.Context, _ registry.Actor, n *registry.Site) ([]keptField[registry.Site], error) {
			return siteFields(n.ID != uuid.Nil), nil
		},
		place: func(_ context.Context, _ registry.Actor, base string, n *registry.Site) (keptPlace, error) {
			return keptPlace{name: n.Name, href: siteHref(base, n.ID)}, nil
		},
	}
}

func siteFields(there bool) []keptField[registry.Site] {
	fields := []keptField[registry.Site]{
		textOf("name", "", func(n *registry.Site) *string { return &n.Name }),
		wordOf("kind", labelled(registry.SiteKinds(), option{Text: "Choose"}), func(n *registry.Site) *registry.SiteKind { return &n.Kind }),
		wordOf("rock", labelled(registry.RockClasses(), option{Text: "Not known"}), func(n *registry.Site) *registry.RockClass { return &n.Rock }),
		textOf("rock_text", wording.RockWordsHelp, func(n *registry.Site) *string { return &n.RockWords }),
		degreesOf("lat", wording.SitePlaceHelp, func(n *registry.Site) **float64 { return &n.Lat }),
		degreesOf("lon", "", func(n *registry.Site) **float64 { return &n.Lon }),
		textOf("coordinates_text", wording.CaveWordsHelp, func(n *registry.Site) *string { return &n.CoordinateWords }),
		dayOf("first_round_ends", wording.SiteRoundHelp, firstRound),
		proseOf("notes", "", func(n *registry.Site) *string { return &n.Notes }),
	}
	return ending(there, fields, dayOf(endedField, wording.EndedHelp, siteEnd))
}

// ending adds the field for the end of a place to those of one that is there.
func ending[N any](there bool, fields []keptField[N], end keptField[N]) []keptField[N] {
	if there {
		fields = append(fields, end)
	}
	return fields
}

func (p *Pages) keptSectors() kept[registry.Sector] {
	return kept[registry.Sector]{
		noun: "sector", add: app.AddSector, change: app.ChangeSector,
		key:  func(n *registry.Sector) (*uuid.UUID, *int) { return &n.ID, &n.Version },
		read: p.service.Sector, enter: p.service.AddSector, keep: p.service.ChangeSector, check: (*registry.Sector).Validate,
		fresh: func(ctx context.Context, who registry.Actor, site uuid.UUID) (registry.Sector, error) {
			s, err := p.service.Site(ctx, who, site)
			return registry.Sector{SiteID: s.ID}, err
		},
		fields: func(_ context.Context, _ registry.Actor, n *registry.Sector) ([]keptField[registry.Sector], error) {
			name := textOf("name", "", func(n *registry.Sector) *string { return &n.Name })
			return ending(n.ID != uuid.Nil, []keptField[registry.Sector]{name}, dayOf(endedField, wording.EndedHelp, sectorEnd)), nil
		},
		place: func(ctx context.Context, who registry.Actor, base string, n *registry.Sector) (keptPlace, error) {
			above, err := p.above(ctx, who, base, n.SiteID, nil)
			return keptPlace{n.Name, sectorHref(base, n.ID), above}, err
		},
	}
}

// keptRoutes are routes; a new one is on the site in the path or, with
// inSector, in the sector.
func (p *Pages) keptRoutes(inSector bool) kept[registry.Route] {
	return kept[registry.Route]{
		noun: "route", add: app.AddRoute, change: app.ChangeRoute,
		key:  func(n *registry.Route) (*uuid.UUID, *int) { return &n.ID, &n.Version },
		read: p.service.Route, enter: p.service.AddRoute, keep: p.service.ChangeRoute, check: (*registry.Route).Validate,
		fresh: func(ctx context.Context, who registry.Actor, at uuid.UUID) (registry.Route, error) {
			if !inSector {
				site, err := p.service.Site(ctx, who, at)
				return registry.Route{SiteID: site.ID}, err
			}
			sector, err := p.service.Sector(ctx, who, at)
			return registry.Route{SiteID: sector.SiteID, SectorID: &sector.ID}, err
		},
		fields: p.routeFields,
		place: func(ctx context.Context, who registry.Actor, base string, n *registry.Route) (keptPlace, error) {
			above, err := p.above(ctx, who, base, n.SiteID, n.SectorID)
			return keptPlace{n.Name, routeHref(base, n.ID), above}, err
		},
	}
}

func (p *Pages) routeFields(ctx context.Context, who registry.Actor, n *registry.Route) ([]keptField[registry.Route], error) {
	sectors, err := p.sectorOptions(ctx, who, n.SiteID, n.SectorID)
	fields := []keptField[registry.Route]{
		textOf("name", "", func(n *registry.Route) *string { return &n.Name }),
		wordOf("kind", labelled(registry.RouteKinds(), option{Text: "Choose"}), func(n *registry.Route) *registry.RouteKind { return &n.Kind }),
		wordOf("traffic", labelled(registry.Traffics(), option{Text: "Not known"}), func(n *registry.Route) *registry.Traffic { return &n.Traffic }),
		refOf("sector_id", "", sectors, func(n *registry.Route) **uuid.UUID { return &n.SectorID }),
	}
	return ending(n.ID != uuid.Nil, fields, dayOf(endedField, wording.EndedHelp, routeEnd)), err
}

// above leads from the site to the sector, if there is one, that something lies
// in.
func (p *Pages) above(ctx context.Context, who registry.Actor, base string, site uuid.UUID, sector *uuid.UUID) ([]detail, error) {
	at, err := p.service.Site(ctx, who, site)
	if err != nil {
		return nil, err
	}
	steps := []detail{{at.Name, siteHref(base, site)}}
	if sector == nil {
		return steps, nil
	}
	part, err := p.service.Sector(ctx, who, *sector)
	return append(steps, detail{part.Name, sectorHref(base, part.ID)}), err
}

// sectorOptions are the sectors of a site as choices, those that have ended only
// where it is the one chosen.
func (p *Pages) sectorOptions(ctx context.Context, who registry.Actor, site uuid.UUID, chosen *uuid.UUID) ([]option, error) {
	sectors, err := everything(func(page registry.Page) ([]registry.Sector, error) {
		return p.service.Sectors(ctx, who, &site, page)
	}, func(s registry.Sector) uuid.UUID { return s.ID })
	options := []option{{Text: wording.NoSector}}
	for _, s := range sectors {
		if s.EndedOn.IsZero() || chosen != nil && *chosen == s.ID {
			options = append(options, option{Value: s.ID.String(), Text: s.Name})
		}
	}
	return options, err
}

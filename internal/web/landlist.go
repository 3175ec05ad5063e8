package web

import (
	"cmp"
	"context"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// landListPage lists landowners, parcels, agreements and restrictions, with links
// to add and to change them.
type landListPage struct {
	Frame  frame
	Notice string
	Report string
	Parts  []landListPart
}

// landListPart are the things of one kind.
type landListPart struct {
	ID, Heading string
	Add, AddHow string // link and its text; blank: whoever asks may not
	None        string
	Lines       []landLine
}

// landLine is one of them.
type landLine struct {
	Name   string
	Words  []string
	Change string // blank: whoever asks may not
}

// landHeld is all that is on record of land.
type landHeld struct {
	owners       []registry.Landowner
	parcels      []registry.Parcel
	agreements   []registry.Agreement
	restrictions []registry.Restriction
}

func (p *Pages) landList(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	h, err := p.landHeld(c.Request().Context(), who)
	if err != nil {
		return err
	}
	page := landListPage{Frame: p.framed(c, "Landowners, agreements, restrictions"), Notice: notice(c)}
	page.Report = page.Frame.Base + "/reports/land"
	names := h.names()
	restrictions, err := p.restrictionLines(c.Request().Context(), who, h)
	if err != nil {
		return err
	}
	page.Parts = []landListPart{
		landPart(c, landownerForm, wording.NoneLand, h.owners, func(n *registry.Landowner) landLine { return ownerLine(n, h.parcels) }),
		landPart(c, parcelForm, wording.NoneParcels, h.parcels, func(n *registry.Parcel) landLine {
			return landLine{Name: n.Name, Words: wording.Parcel(*n, names[n.LandownerID])}
		}),
		landPart(c, agreementForm, wording.NoneAgreements, h.agreements, func(n *registry.Agreement) landLine {
			line := landLine{Name: wording.Agreement(*n)}
			if n.LandownerID != nil {
				line.Words = []string{wording.AboutLandOf(names[*n.LandownerID])}
			}
			return line
		}),
		landPart(c, restrictionForm, wording.NoneRestrictions, h.restrictions, func(n *registry.Restriction) landLine {
			return landLine{Name: restrictions[restrictedAt(*n)], Words: []string{wording.Restriction(*n)}}
		}),
	}
	return ok(c, landListView(page))
}

// landPart tells the things of one kind.
func landPart[N any](c echo.Context, k landNoun[N], none string, list []N, line func(*N) landLine) landListPart {
	base := "/g/" + c.Param("slug")
	part := landListPart{ID: strings.TrimPrefix(k.path, "/"), Heading: wording.LandHeading(k.kind), None: none}
	if allowed(c, k.add) {
		part.Add, part.AddHow = base+k.path+"/new", wording.LandAdd(k.kind)
	}
	for i := range list {
		l := line(&list[i])
		if id, _ := k.key(&list[i]); allowed(c, k.change) {
			l.Change = base + k.path + "/" + id.String()
		}
		part.Lines = append(part.Lines, l)
	}
	return part
}

// ownerLine is a landowner with contact, if there is any to be seen, and parcels.
func ownerLine(n *registry.Landowner, parcels []registry.Parcel) landLine {
	line := landLine{Name: n.Name}
	if n.Contact != "" {
		line.Words = append(line.Words, n.Contact)
	}
	var own []string
	for _, p := range parcels {
		if p.LandownerID == n.ID && p.EndedOn.IsZero() {
			own = append(own, p.Name)
		}
	}
	line.Words = append(line.Words, wording.ParcelsHeld(own))
	if !n.EndedOn.IsZero() {
		line.Words = append(line.Words, wording.NoLongerSince(n.EndedOn))
	}
	return line
}

// landHeld reads all that is on record of land: landowners and parcels by name,
// agreements and restrictions from the newest on.
func (p *Pages) landHeld(ctx context.Context, who registry.Actor) (h landHeld, err error) {
	h.owners, err = everything(func(page registry.Page) ([]registry.Landowner, error) {
		return p.service.Landowners(ctx, who, page)
	}, func(n registry.Landowner) uuid.UUID { return n.ID })
	if err != nil {
		return h, err
	}
	h.parcels, err = p.allParcels(ctx, who)
	if err != nil {
		return h, err
	}
	h.agreements, err = everything(func(page registry.Page) ([]registry.Agreement, error) {
		return p.service.Agreements(ctx, who, nil, page)
	}, func(n registry.Agreement) uuid.UUID { return n.ID })
	if err != nil {
		return h, err
	}
	h.restrictions, err = everything(func(page registry.Page) ([]registry.Restriction, error) {
		return p.service.Restrictions(ctx, who, page)
	}, func(n registry.Restriction) uuid.UUID { return n.ID })
	slices.SortFunc(h.owners, func(a, b registry.Landowner) int {
		return cmp.Or(strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name)), strings.Compare(a.ID.String(), b.ID.String()))
	})
	slices.Reverse(h.agreements)
	slices.Reverse(h.restrictions)
	return h, err
}

// allParcels lists the parcels by name.
func (p *Pages) allParcels(ctx context.Context, who registry.Actor) ([]registry.Parcel, error) {
	list, err := everything(func(page registry.Page) ([]registry.Parcel, error) {
		return p.service.Parcels(ctx, who, nil, page)
	}, func(n registry.Parcel) uuid.UUID { return n.ID })
	slices.SortFunc(list, func(a, b registry.Parcel) int {
		return cmp.Or(strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name)), strings.Compare(a.ID.String(), b.ID.String()))
	})
	return list, err
}

func (h *landHeld) names() map[uuid.UUID]string {
	names := make(map[uuid.UUID]string, len(h.owners))
	for _, n := range h.owners {
		names[n.ID] = n.Name
	}
	return names
}

// restrictionLines names the places and parcels that restrictions are about.
func (p *Pages) restrictionLines(ctx context.Context, who registry.Actor, h landHeld) (map[uuid.UUID]string, error) {
	names := make(map[uuid.UUID]string)
	for _, n := range h.parcels {
		names[n.ID] = wording.Label(onParcel) + " " + n.Name
	}
	for i := range h.restrictions {
		at := h.restrictions[i].Place
		if at == nil || names[at.ID] != "" {
			continue
		}
		name, err := p.placeName(ctx, who, *at)
		if err != nil {
			return nil, err
		}
		names[at.ID] = name
	}
	return names, nil
}

// placeName names a place with its kind and its site.
func (p *Pages) placeName(ctx context.Context, who registry.Actor, at registry.Place) (string, error) {
	var (
		name string
		site uuid.UUID
		err  error
	)
	switch at.Kind {
	case registry.AtSector:
		var n registry.Sector
		n, err = p.service.Sector(ctx, who, at.ID)
		name, site = n.Name, n.SiteID
	case registry.AtRoute:
		var n registry.Route
		n, err = p.service.Route(ctx, who, at.ID)
		name, site = n.Name, n.SiteID
	case registry.AtPosition:
		var n registry.Position
		n, err = p.service.Position(ctx, who, at.ID)
		name, site = n.Label, n.SiteID
	default:
		site = at.ID
	}
	if err != nil {
		return "", err
	}
	s, err := p.service.Site(ctx, who, site)
	return joinNamed(", ", wording.Label(at.Kind)+" "+cmp.Or(name, s.Name), ifNamed(name, s.Name)), err
}

// ifNamed is text where name is not blank.
func ifNamed(name, text string) string {
	if name == "" {
		return ""
	}
	return text
}

// ownerChoices are the landowners that stand, and the one chosen, as choices.
func (p *Pages) ownerChoices(c echo.Context, chosen string) ([]option, error) {
	who, err := actorOf(c)
	if err != nil {
		return nil, err
	}
	h, err := p.landHeld(c.Request().Context(), who)
	options := []option{{Text: "Choose a landowner"}}
	for _, n := range h.owners {
		if n.EndedOn.IsZero() || n.ID.String() == chosen {
			options = append(options, option{Value: n.ID.String(), Text: n.Name})
		}
	}
	return options, err
}

// placeChoices are the sites, the parcels and the place chosen, as choices.
func (p *Pages) placeChoices(c echo.Context, who registry.Actor, chosen string) ([]option, error) {
	ctx := c.Request().Context()
	options := []option{{Text: "Choose a place or a parcel"}}
	kind, text, _ := strings.Cut(chosen, ":")
	if id, err := uuid.Parse(text); err == nil && kind != onParcel && kind != string(registry.AtSite) {
		name, err := p.placeName(ctx, who, registry.Place{Kind: registry.PlaceKind(kind), ID: id})
		if err != nil {
			return nil, err
		}
		options = append(options, option{Value: chosen, Text: name})
	}
	sites, err := everything(func(page registry.Page) ([]registry.Site, error) {
		return p.service.Sites(ctx, who, page)
	}, func(n registry.Site) uuid.UUID { return n.ID })
	if err != nil {
		return nil, err
	}
	slices.SortFunc(sites, func(a, b registry.Site) int { return strings.Compare(registry.Fold(a.Name), registry.Fold(b.Name)) })
	for _, n := range sites {
		if value := barredAt(string(registry.AtSite), n.ID); n.EndedOn.IsZero() || value == chosen {
			options = append(options, option{Value: value, Text: n.Name})
		}
	}
	parcels, err := p.allParcels(ctx, who)
	for _, n := range parcels {
		if value := barredAt(onParcel, n.ID); n.EndedOn.IsZero() || value == chosen {
			options = append(options, option{Value: value, Text: wording.Label(onParcel) + " " + n.Name})
		}
	}
	return options, err
}

// barredOptions are what can be barred, as choices.
func barredOptions() []option {
	var options []option
	for _, k := range registry.RestrictionKinds() {
		options = append(options, option{Value: string(k), Text: wording.BarredKind(k)})
	}
	return options
}

// weightOptions are what can stand behind a restriction, as choices.
func weightOptions() []option {
	options := []option{{Text: "Choose"}}
	for _, w := range registry.Weights() {
		options = append(options, option{Value: string(w), Text: wording.WeightBehind(w)})
	}
	return options
}

// monthOptions are the months by number, after none.
func monthOptions() []option {
	options := []option{{Text: "No month"}}
	for m := time.January; m <= time.December; m++ {
		options = append(options, option{Value: strconv.Itoa(int(m)), Text: m.String()})
	}
	return options
}

// mayLand offers what of land whoever asks may add and change at a place.
func (s *surroundings) mayLand(c echo.Context, base string, here registry.Place) {
	s.LandHref = base + "/land"
	if allowed(c, app.AddRestriction) {
		s.RestrictHref = base + restrictionForm.path + "/new?barred_at=" + barredAt(string(here.Kind), here.ID)
	}
	for i := range s.Restrictions {
		if allowed(c, app.ChangeRestriction) {
			s.Restrictions[i].Change = base + restrictionForm.path + "/" + s.Restrictions[i].ID.String()
		}
	}
	for i := range s.Agreements {
		if allowed(c, app.ChangeAgreement) {
			s.Agreements[i].Change = base + agreementForm.path + "/" + s.Agreements[i].ID.String()
		}
	}
}

package app_test

import (
	"context"
	"errors"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// add returns what an Add method stored.
func add[N any](t *testing.T, h *house, n N, method func(context.Context, registry.Actor, N) (N, bool, error)) N {
	t.Helper()
	stored, created, err := method(t.Context(), h.who, n)
	if err != nil || !created {
		t.Fatalf("add %+v: created %v, %v", n, created, err)
	}
	return stored
}

// violated wants an error to be Invalid with exactly one violation.
func violated(t *testing.T, name string, err error, field string, code fault.Code) {
	t.Helper()
	e, ok := fault.As(err)
	if !ok || e.Kind != fault.Invalid || len(e.Violations) != 1 || e.Violations[0].Field != field || e.Violations[0].Code != code {
		t.Errorf("%s: %v, want %s %s", name, err, field, code)
	}
}

func place(k registry.PlaceKind, id uuid.UUID) registry.Place { return registry.Place{Kind: k, ID: id} }

func of[T any](v T) *T { return &v }

func TestAddAndChange(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	sent := registry.Site{ID: uuid.Must(uuid.NewV7()), Name: "  Tarn   Edge ", Kind: registry.Crag}
	site := add(t, h, sent, h.AddSite)
	if site.Name != "Tarn Edge" || site.Version != 1 {
		t.Errorf("stored %+v, want tidy and version 1", site)
	}
	again, created, err := h.AddSite(t.Context(), h.who, sent)
	if err != nil || created || !cmp.Equal(again, site) {
		t.Errorf("the same again = %+v, %v, %v; want the stored one", again, created, err)
	}
	other := sent
	other.Notes = "other"
	if _, _, err := h.AddSite(t.Context(), h.who, other); fault.KindOf(err) != fault.Conflict {
		t.Errorf("same id, other content: %v, want conflict", err)
	}
	changed, err := h.ChangeSite(t.Context(), h.who, site.ID, 1, func(n *registry.Site) error { n.Rock = registry.RockSoft; return nil })
	if err != nil || changed.Version != 2 {
		t.Fatalf("change = %+v, %v; want version 2", changed, err)
	}
	if stored, err := h.Site(t.Context(), h.who, site.ID); err != nil || !cmp.Equal(stored, changed) {
		t.Errorf("stored %+v, %v; want %+v", stored, err, changed)
	}
	same, err := h.ChangeSite(t.Context(), h.who, site.ID, 2, func(*registry.Site) error { return nil })
	if err != nil || same.Version != 2 {
		t.Errorf("nothing changed: version %d, %v; want 2", same.Version, err)
	}
	if _, err := h.ChangeSite(t.Context(), h.who, site.ID, 1, func(n *registry.Site) error { return nil }); fault.KindOf(err) != fault.Stale {
		t.Errorf("an old version: %v, want stale", err)
	}
	mine := errors.New("the editor's own")
	if _, err := h.ChangeSite(t.Context(), h.who, site.ID, 2, func(*registry.Site) error { return mine }); !errors.Is(err, mine) {
		t.Errorf("the editor's error: %v", err)
	}
	if _, err := h.ChangeSite(t.Context(), h.who, uuid.New(), 1, func(*registry.Site) error { return nil }); fault.KindOf(err) != fault.NotFound {
		t.Errorf("no such site: %v, want not found", err)
	}
	if _, _, err := h.AddSite(t.Context(), h.as(registry.RoleRecorder), registry.Site{Name: "x", Kind: registry.Crag}); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a recorder adds a site: %v, want forbidden", err)
	}
	if _, created, err := h.AddPerson(t.Context(), h.as(registry.RoleRecorder), registry.Person{Name: "Invented Person"}); err != nil || !created {
		t.Errorf("a recorder adds a person: %v, %v", created, err)
	}
}

// What belongs together must be of one site, and be there.
func TestInventoryRejects(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx, nobody := t.Context(), uuid.New()
	here := add(t, h, registry.Site{Name: "Here", Kind: registry.Crag}, h.AddSite)
	there := add(t, h, registry.Site{Name: "There", Kind: registry.Crag}, h.AddSite)
	cave := add(t, h, registry.Site{Name: "Hole", Kind: registry.Cave}, h.AddSite)
	sector := add(t, h, registry.Sector{SiteID: there.ID, Name: "Wall"}, h.AddSector)
	route := add(t, h, registry.Route{SiteID: there.ID, Name: "Line", Kind: registry.Climb}, h.AddRoute)
	position := func(p registry.Position, stops ...registry.Stop) error {
		_, _, err := h.AddPosition(ctx, h.who, p, stops)
		return err
	}
	err := func(_ any, _ bool, err error) error { return err }

	_, _, e := h.AddSector(ctx, h.who, registry.Sector{SiteID: nobody, Name: "x"})
	violated(t, "a sector of no site", e, "site_id", fault.NoSuchReference)
	_, _, e = h.AddRoute(ctx, h.who, registry.Route{SiteID: here.ID, SectorID: &sector.ID, Name: "x", Kind: registry.Climb})
	violated(t, "a route in another site's sector", e, "sector_id", fault.Mismatch)
	_, e = h.ChangeSector(ctx, h.who, sector.ID, 1, func(n *registry.Sector) error { n.SiteID = here.ID; return nil })
	violated(t, "a sector that moves", e, "site_id", fault.NotAllowed)
	_, e = h.ChangeSector(ctx, h.who, sector.ID, 1, func(n *registry.Sector) error { n.EndedOn = firstDay + 1; return nil })
	violated(t, "a sector ended tomorrow", e, "ended_on", fault.DateAhead)
	violated(t, "a position in another site's sector", position(registry.Position{SiteID: here.ID, SectorID: &sector.ID, Label: "x"}), "sector_id", fault.Mismatch)
	violated(t, "a position on another site's route", position(registry.Position{SiteID: here.ID, Label: "x"}, registry.Stop{RouteID: route.ID, Rank: 1}), "stops.route_id", fault.Mismatch)
	violated(t, "a position on no route", position(registry.Position{SiteID: here.ID, Label: "x"}, registry.Stop{RouteID: nobody, Rank: 1}), "stops.route_id", fault.NoSuchReference)
	violated(t, "a cave position on the map", position(registry.Position{SiteID: cave.ID, Label: "x", Lat: of(54.0), Lon: of(-2.0)}), "lat", fault.NotAllowed)
	violated(t, "a parcel of nobody", err(h.AddParcel(ctx, h.who, registry.Parcel{Name: "x", LandownerID: nobody})), "landowner_id", fault.NoSuchReference)
	violated(t, "a batch of no product", err(h.AddBatch(ctx, h.who, registry.Batch{Text: "L1", ProductID: &nobody})), "product_id", fault.NoSuchReference)
	violated(t, "an agreement about nobody's land", err(h.AddAgreement(ctx, h.who, registry.Agreement{
		Kind: registry.Permission, Issuer: "x", LandownerID: &nobody, From: firstDay,
	})), "landowner_id", fault.NoSuchReference)
	violated(t, "an event tomorrow", err(h.AddEvent(ctx, h.who, registry.Event{SiteID: here.ID, Kind: registry.Flood, HappenedOn: firstDay + 1})), "happened_on", fault.DateAhead)
	window := &calendar.Window{FromMonth: 5, FromDay: 1, ToMonth: 6, ToDay: 1}
	violated(t, "a restriction without a day", err(h.AddRestriction(ctx, h.who, registry.Restriction{
		Place: of(place(registry.AtSite, here.ID)), Kind: registry.NoEntry, Why: "x", Weight: registry.ByLaw,
		Yearly: window, From: calendar.NewDate(2026, 7, 1), Until: calendar.NewDate(2027, 4, 30),
	})), "until", fault.Mismatch)
	violated(t, "a restriction of no place", err(h.AddRestriction(ctx, h.who, registry.Restriction{
		Place: of(place(registry.AtRoute, nobody)), Kind: registry.NoEntry, Why: "x", Weight: registry.ByLaw, Yearly: window,
	})), "place_id", fault.NoSuchReference)
	violated(t, "an environment that says nothing", err(h.AddEnvironment(ctx, h.who, registry.Environment{
		Place: place(registry.AtSite, here.ID), From: firstDay,
	})), "preset", fault.Required)
	violated(t, "no such preset", err(h.AddEnvironment(ctx, h.who, registry.Environment{
		Place: place(registry.AtSite, here.ID), From: firstDay, Preset: "desert", SeaKm: of(10.0),
	})), "preset", fault.Unknown)
	violated(t, "an environment that ends before it begins", err(h.AddEnvironment(ctx, h.who, registry.Environment{
		Place: place(registry.AtSite, here.ID), From: firstDay, Until: firstDay - 1, SeaKm: of(10.0),
	})), "until", fault.Order)
	violated(t, "an anchor nowhere", err(h.AddAnchor(ctx, h.who, registry.Anchor{PositionID: nobody})), "position_id", fault.NoSuchReference)
	if _, _, e := h.AddNotice(ctx, h.who, registry.Notice{
		Title: "x", IssuedOn: firstDay, InspectBy: firstDay + 30, AnchorIDs: []uuid.UUID{nobody},
	}); fault.KindOf(e) != fault.Invalid {
		t.Errorf("a notice about no anchor: %v, want invalid", e)
	}
}

func TestLandownerContact(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx, steward := t.Context(), h.as(registry.RoleSteward)
	l := add(t, h, registry.Landowner{Name: "Invented Estate", Contact: "an invented address"}, h.AddLandowner)
	if l.Contact == "" {
		t.Error("an owner does not see the contact")
	}
	seen, err := h.Landowner(ctx, steward, l.ID)
	if err != nil || seen.Contact != "" {
		t.Errorf("a steward sees %q, %v; want no contact", seen.Contact, err)
	}
	listed, err := h.Landowners(ctx, steward, registry.Page{})
	if err != nil || len(listed) != 1 || listed[0].Contact != "" {
		t.Errorf("a steward lists %+v, %v; want no contact", listed, err)
	}
	if _, _, err := h.AddLandowner(ctx, steward, registry.Landowner{Name: "x", Contact: "y"}); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("a steward gives a contact: %v, want forbidden", err)
	}
	for _, contact := range []string{"elsewhere", ""} {
		write := func(n *registry.Landowner) error { n.Contact = contact; return nil }
		if _, err := h.ChangeLandowner(ctx, steward, l.ID, 1, write); fault.KindOf(err) != fault.Forbidden {
			t.Errorf("a steward changes the contact to %q: %v, want forbidden", contact, err)
		}
	}
	changed, err := h.ChangeLandowner(ctx, steward, l.ID, 1, func(n *registry.Landowner) error { n.Name = "Invented Trust"; return nil })
	if err != nil || changed.Contact != "" || changed.Version != 2 {
		t.Errorf("a steward changes the name: %+v, %v", changed, err)
	}
	if kept, err := h.Landowner(ctx, h.who, l.ID); err != nil || kept.Contact != "an invented address" || kept.Name != "Invented Trust" {
		t.Errorf("kept %+v, %v; want the contact untouched", kept, err)
	}
}

func TestPositionsAndParcels(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	site := add(t, h, registry.Site{Name: "Tarn Edge", Kind: registry.Crag}, h.AddSite)
	one := add(t, h, registry.Route{SiteID: site.ID, Name: "One", Kind: registry.Climb}, h.AddRoute)
	two := add(t, h, registry.Route{SiteID: site.ID, Name: "Two", Kind: registry.Climb}, h.AddRoute)
	owner := add(t, h, registry.Landowner{Name: "Invented Estate"}, h.AddLandowner)
	far := add(t, h, registry.Parcel{LandownerID: owner.ID, Name: "Far Field"}, h.AddParcel)
	spot := registry.Position{SiteID: site.ID, Label: "B1", Lat: of(54.005), Lon: of(-1.995)}
	stops := []registry.Stop{{RouteID: two.ID, Rank: 3}, {RouteID: one.ID, Rank: 1}}
	sharedOnly, created, err := h.AddPosition(ctx, h.who, spot, stops)
	if err != nil || !created || sharedOnly.ParcelID != nil {
		t.Fatalf("add position: %+v, %v, %v", sharedOnly, created, err)
	}
	spot.Label, spot.ParcelID = "B2", &far.ID
	byHand, _, err := h.AddPosition(ctx, h.who, spot, nil)
	if err != nil || !byHand.ParcelByHand {
		t.Fatalf("add position on a parcel named by hand: %+v, %v", byHand, err)
	}
	field := add(t, h, registry.Parcel{LandownerID: owner.ID, Name: "Near Field", Outline: polygon(box(0, 0, 1, 1))}, h.AddParcel)
	if field.AreaM2 == nil || *field.AreaM2 < 700_000 || *field.AreaM2 > 740_000 {
		t.Errorf("area %v, want 0.73 km2", field.AreaM2)
	}
	parcelOf := func(id uuid.UUID) uuid.UUID {
		p, err := h.Position(ctx, h.who, id)
		if err != nil || p.ParcelID == nil {
			return uuid.Nil
		}
		return *p.ParcelID
	}
	if got := parcelOf(sharedOnly.ID); got != field.ID {
		t.Errorf("a position within the new outline is on %v, want %v", got, field.ID)
	}
	if got := parcelOf(byHand.ID); got != far.ID {
		t.Errorf("a position on a parcel named by hand is on %v, want %v", got, far.ID)
	}
	_, _, err = h.AddParcel(ctx, h.who, registry.Parcel{LandownerID: owner.ID, Name: "x", Outline: polygon(box(0.5, 0, 2, 1))})
	violated(t, "a parcel over another", err, "outline", fault.Overlaps)
	_, _, err = h.AddParcel(ctx, h.who, registry.Parcel{LandownerID: owner.ID, Name: "x", Outline: polygon(box(2, 0, 3, 1))[:40]})
	violated(t, "half an outline", err, "outline", fault.Malformed)

	moved, err := h.ChangePosition(ctx, h.who, sharedOnly.ID, 2, func(p *registry.Position, stops *[]registry.Stop) error {
		if len(*stops) != 2 {
			t.Errorf("edit sees stops %+v, want two", *stops)
		}
		*p.Lon = -1.5 // what is written through a pointer counts too
		*stops = []registry.Stop{{RouteID: one.ID, Rank: 2}}
		return nil
	})
	if err != nil || moved.ParcelID != nil || moved.Version != 3 {
		t.Fatalf("move out of the parcel: %+v, %v", moved, err)
	}
	again, err := h.ChangePosition(ctx, h.who, moved.ID, 3, func(p *registry.Position, _ *[]registry.Stop) error { *p.Lat = 54.2; return nil })
	if err != nil || again.Version != 4 || *again.Lat != 54.2 {
		t.Errorf("written through a pointer alone: %+v, %v; want it changed", again, err)
	}
	kept, err := h.Stops(ctx, h.who, moved.ID)
	if diff := cmp.Diff([]registry.Stop{{RouteID: one.ID, PositionID: moved.ID, Rank: 2}}, kept); err != nil || diff != "" {
		t.Errorf("stops (-want +got), %v:\n%s", err, diff)
	}
	freed, err := h.ChangePosition(ctx, h.who, byHand.ID, 1, func(p *registry.Position, _ *[]registry.Stop) error {
		p.ParcelByHand, p.ParcelID = false, nil
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if freed.ParcelByHand || deref(freed.ParcelID) != field.ID {
		t.Errorf("no longer by hand: %+v, want the outline to decide", freed)
	}
	if _, err := h.ChangeParcel(ctx, h.who, field.ID, 1, func(n *registry.Parcel) error { n.EndedOn = firstDay; return nil }); err != nil {
		t.Fatal(err)
	}
	if got := parcelOf(freed.ID); got != uuid.Nil {
		t.Errorf("a position of an ended parcel is on %v, want none", got)
	}
}

func deref(p *uuid.UUID) uuid.UUID {
	if p == nil {
		return uuid.Nil
	}
	return *p
}

func TestEnvironmentAt(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	site := add(t, h, registry.Site{Name: "Gull Cliff", Kind: registry.SeaCliff}, h.AddSite)
	spot, _, err := h.AddPosition(ctx, h.who, registry.Position{SiteID: site.ID, Label: "B1"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	wide := add(t, h, registry.Environment{Place: place(registry.AtSite, site.ID), From: firstDay - 10, Preset: registry.PresetSeaCliff}, h.AddEnvironment)
	if wide.SiteID != site.ID || wide.SeaKm == nil || *wide.SeaKm != 0 || wide.Source == "" {
		t.Errorf("from the preset: %+v, want the sea at 0 km with its source", wide)
	}
	near := add(t, h, registry.Environment{Place: place(registry.AtPosition, spot.ID), From: firstDay, SeaKm: of(0.2), Source: "measured"}, h.AddEnvironment)
	from := func(asOf calendar.Date) (value string, id uuid.UUID) {
		fields, err := h.EnvironmentAt(ctx, h.as(registry.RoleReader), spot.ID, asOf)
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range fields {
			if f.Field == "sea_km" {
				return f.Value, f.EnvironmentID
			}
		}
		return "", uuid.Nil
	}
	if value, id := from(0); value != "0.2" || id != near.ID {
		t.Errorf("today the sea is at %s km by %v, want 0.2 by the nearest place", value, id)
	}
	if value, id := from(firstDay - 1); value != "0" || id != wide.ID {
		t.Errorf("yesterday the sea was at %s km by %v, want 0 by the site", value, id)
	}
	if _, err := h.EnvironmentAt(ctx, h.who, uuid.New(), 0); fault.KindOf(err) != fault.NotFound {
		t.Errorf("no such position: %v, want not found", err)
	}
}

func TestFittingsAndSheets(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, smallList)
	anchor := h.anchor(t, "B2").ID
	ring := registry.Fitting{ID: uuid.Must(uuid.NewV7()), AnchorID: anchor, Kind: registry.Ring, Presence: registry.Present}
	stored := add(t, h, ring, h.AddFitting)
	if again, created, err := h.AddFitting(ctx, h.who, ring); err != nil || created || !cmp.Equal(again, stored) {
		t.Errorf("the same again = %+v, %v, %v; want the stored one", again, created, err)
	}
	changed, err := h.ChangeFitting(ctx, h.who, ring.ID, 1, func(f *registry.Fitting) error { f.EndedOn = firstDay; return nil })
	if err != nil || changed.Version != 2 {
		t.Fatalf("take it off: %+v, %v", changed, err)
	}
	if list, err := h.Fittings(ctx, h.who, anchor, registry.Page{}); err != nil || len(list) != 1 || !cmp.Equal(list[0], changed) {
		t.Errorf("fittings %+v, %v; want %+v", list, err, changed)
	}
	_, err = h.ChangeFitting(ctx, h.who, ring.ID, 2, func(f *registry.Fitting) error { f.EndedOn = firstDay + 1; return nil })
	violated(t, "taken off tomorrow", err, "ended_on", fault.DateAhead)

	product := add(t, h, registry.Product{Kind: registry.Hardware, Name: "Invented Eye"}, h.AddProduct)
	sheet := registry.ProductVersion{ID: uuid.Must(uuid.NewV7()), ProductID: product.ID, From: firstDay, Source: "issue 1"}
	add(t, h, sheet, h.AddProductVersion)
	if _, created, err := h.AddProductVersion(ctx, h.who, sheet); err != nil || created {
		t.Errorf("the same sheet again = %v, %v; want the stored one", created, err)
	}
	sheet.Source = "issue 2"
	if _, _, err := h.AddProductVersion(ctx, h.who, sheet); fault.KindOf(err) != fault.Conflict {
		t.Errorf("same id, other sheet: %v, want conflict", err)
	}
	if _, err := h.ProductVersions(ctx, h.who, uuid.New()); fault.KindOf(err) != fault.NotFound {
		t.Errorf("sheets of no product: %v, want not found", err)
	}
}

func TestAddAnchor(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	site := add(t, h, registry.Site{Name: "Tarn Edge", Kind: registry.Crag}, h.AddSite)
	spot, _, err := h.AddPosition(ctx, h.who, registry.Position{SiteID: site.ID, Label: "B1"}, nil)
	if err != nil {
		t.Fatal(err)
	}
	sent := registry.Anchor{ID: uuid.Must(uuid.NewV7()), PositionID: spot.ID, Form: registry.SingleShank, SetOn: calendar.Exactly(firstDay - 30)}
	stored := add(t, h, sent, h.AddAnchor)
	if stored.SiteID != site.ID || stored.Origin != registry.Recorded || stored.EnteredOn != firstDay {
		t.Errorf("stored %+v, want it placed and entered today", stored)
	}
	if got := h.anchors(t, registry.AnchorFilter{}); len(got) != 1 || got[0].Standing == "" || got[0].DueOn.IsZero() {
		t.Errorf("listed as %+v, want it assessed", got)
	}
	h.turnTo(firstDay + 1)
	if again, created, err := h.AddAnchor(ctx, h.who, sent); err != nil || created || again.EnteredOn != firstDay {
		t.Errorf("the same a day later = %+v, %v, %v; want the stored one", again, created, err)
	}
	second := sent
	second.ID = uuid.Must(uuid.NewV7())
	_, _, err = h.AddAnchor(ctx, h.who, second)
	violated(t, "an anchor where one stands", err, "position_id", fault.InUse)
	out := registry.Removal{Record: registry.Record{ID: uuid.New(), AnchorID: sent.ID, DoneOn: calendar.Exactly(firstDay)}}
	if _, _, err := h.RecordRemoval(ctx, h.who, out); err != nil {
		t.Fatal(err)
	}
	add(t, h, second, h.AddAnchor)
}

package postgres

import (
	"context"
	"time"

	"github.com/google/uuid"
	"github.com/jackc/pgx/v5"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

type agreementRow struct {
	inventoryKey
	LandownerID *uuid.UUID    `json:"landowner_id"`
	Kind        word          `json:"kind"`
	Issuer      string        `json:"issuer"`
	Conditions  string        `json:"conditions"`
	FromOn      calendar.Date `json:"from_on"`
	UntilOn     calendar.Date `json:"until_on"`
}

func newAgreementRow(a registry.Agreement) agreementRow {
	return agreementRow{
		inventoryKey{a.ID, a.Version}, a.LandownerID, word(a.Kind), a.Issuer, a.Conditions, a.From, a.Until,
	}
}

func (r agreementRow) noun() registry.Agreement {
	return registry.Agreement{
		ID: r.ID, Version: r.Version, LandownerID: r.LandownerID, Kind: registry.AgreementKind(r.Kind), Issuer: r.Issuer,
		Conditions: r.Conditions, From: r.FromOn, Until: r.UntilOn,
	}
}

// public leaves the issuer out, who may be a person.
func (r agreementRow) public() any {
	r.Issuer = ""
	return r
}

var agreements = newTable[agreementRow]("agreement")

// Agreements lists agreements, about one landowner's land or all, in the order
// of ids.
func (s *Store) Agreements(ctx context.Context, group uuid.UUID, landowner *uuid.UUID, page registry.Page) ([]registry.Agreement, error) {
	f := pageOf(page)
	f.andID(ofLandowner, "landowner_id", landowner)
	return list(ctx, s, group, f.query("list agreements", agreements.selectSQL), agreementRow.noun)
}

// Agreement returns one agreement, or fault.NotFound.
func (s *Store) Agreement(ctx context.Context, group, id uuid.UUID) (registry.Agreement, error) {
	return single(ctx, s, group, byID("read agreement", agreements.selectSQL, id), agreementRow.noun)
}

type restrictionRow struct {
	inventoryKey
	PlaceKind       word          `json:"place_kind"`
	PlaceID         *uuid.UUID    `json:"place_id"`
	ParcelID        *uuid.UUID    `json:"parcel_id"`
	Kind            word          `json:"kind"`
	Why             string        `json:"why"`
	Weight          word          `json:"weight"`
	YearlyFromMonth *int          `json:"yearly_from_month"`
	YearlyFromDay   *int          `json:"yearly_from_day"`
	YearlyToMonth   *int          `json:"yearly_to_month"`
	YearlyToDay     *int          `json:"yearly_to_day"`
	FromOn          calendar.Date `json:"from_on"`
	UntilOn         calendar.Date `json:"until_on"`
	ConfirmedOn     calendar.Date `json:"confirmed_on"`
}

func newRestrictionRow(r registry.Restriction) restrictionRow {
	row := restrictionRow{
		inventoryKey: inventoryKey{r.ID, r.Version}, ParcelID: r.ParcelID, Kind: word(r.Kind), Why: r.Why,
		Weight: word(r.Weight), FromOn: r.From, UntilOn: r.Until, ConfirmedOn: r.ConfirmedOn,
	}
	if r.Place != nil {
		row.PlaceKind, row.PlaceID = word(r.Place.Kind), &r.Place.ID
	}
	if w := r.Yearly; w != nil {
		from, to := int(w.FromMonth), int(w.ToMonth)
		row.YearlyFromMonth, row.YearlyFromDay, row.YearlyToMonth, row.YearlyToDay = &from, &w.FromDay, &to, &w.ToDay
	}
	return row
}

func (r restrictionRow) noun() registry.Restriction {
	n := registry.Restriction{
		ID: r.ID, Version: r.Version, ParcelID: r.ParcelID, Kind: registry.RestrictionKind(r.Kind), Why: r.Why,
		Weight: registry.Weight(r.Weight), From: r.FromOn, Until: r.UntilOn, ConfirmedOn: r.ConfirmedOn,
	}
	if r.PlaceID != nil {
		n.Place = &registry.Place{Kind: registry.PlaceKind(r.PlaceKind), ID: *r.PlaceID}
	}
	if r.YearlyFromDay != nil {
		n.Yearly = &calendar.Window{
			FromMonth: time.Month(*r.YearlyFromMonth), FromDay: *r.YearlyFromDay,
			ToMonth: time.Month(*r.YearlyToMonth), ToDay: *r.YearlyToDay,
		}
	}
	return n
}

var restrictions = newTable[restrictionRow]("restriction")

// Restrictions lists restrictions in the order of ids; served by the primary
// key.
func (s *Store) Restrictions(ctx context.Context, group uuid.UUID, page registry.Page) ([]registry.Restriction, error) {
	return list(ctx, s, group, pageOf(page).query("list restrictions", restrictions.selectSQL), restrictionRow.noun)
}

// Restriction returns one restriction, or fault.NotFound.
func (s *Store) Restriction(ctx context.Context, group, id uuid.UUID) (registry.Restriction, error) {
	return single(ctx, s, group, byID("read restriction", restrictions.selectSQL, id), restrictionRow.noun)
}

// RestrictionsAt lists the restrictions on a position, its routes, its sector,
// its site and its parcel, whatever their dates, in the order of ids; none for
// a position that is not there.
func (s *Store) RestrictionsAt(ctx context.Context, group, position uuid.UUID) ([]registry.Restriction, error) {
	q := query{
		"list restrictions of position " + position.String(),
		restrictions.of("place_id", placesOfPosition) + "\nUNION ALL" + restrictions.of("parcel_id", parcelOfPosition) + "\nORDER BY id",
		pgx.StrictNamedArgs{"id": position},
	}
	return list(ctx, s, group, q, restrictionRow.noun)
}

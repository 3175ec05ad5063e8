package web

import (
	"encoding/json"
	"mime"
	"strconv"
	"strings"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// landLabels name the fields of the forms for land, where no other form has
// them.
var landLabels = map[string]string{
	"owner_name": "Name of the landowner", "contact": "Contact", "owner_ended_on": "Landowner no longer, since",
	"landowner_id": "Whose land", "parcel_name": "Name of the parcel", "outline": "Outline, as GeoJSON", "outline_file": "Or a GeoJSON file",
	"parcel_ended_on": "Parcel no longer, since",
	"agreement":       "What it is", "issuer": "Who gave it", "conditions": "Conditions", "holds_from": "Holds from", "holds_until": "Last day on which it holds",
	"barred_at": "Where", "barred": "What is barred", "why": "Why", "weight": "What stands behind it",
	"yearly_from_day": "Every year from, day", "yearly_from_month": "Every year from, month",
	"yearly_to_day": "Every year to, day", "yearly_to_month": "Every year to, month", "confirmed_on": "Status confirmed on",
}

// landFields are the fields of all these forms, in their order.
var landFields = []string{
	"owner_name", "contact", "owner_ended_on", "landowner_id", "parcel_name", "outline", "parcel_ended_on", "agreement", "issuer", "conditions",
	"barred_at", "barred", "why", "weight", "yearly_from_day", "yearly_from_month", "yearly_to_day", "yearly_to_month",
	"holds_from", "holds_until", "confirmed_on",
}

func atLand[N any](base string, _ *N) string { return base + "/land" }

var landownerForm = landNoun[registry.Landowner]{
	kind: "landowner", path: "/landowners", add: app.AddLandowner, change: app.ChangeLandowner,
	key:  func(n *registry.Landowner) (*uuid.UUID, int) { return &n.ID, n.Version },
	read: (*app.Service).Landowner, enter: (*app.Service).AddLandowner, edit: (*app.Service).ChangeLandowner,
	names: map[string]string{"name": "owner_name", "ended_on": "owner_ended_on"},
	fill: func(f *form, n *registry.Landowner) {
		f.Values.Set("owner_name", n.Name)
		f.Values.Set("contact", n.Contact)
		f.Values.Set("owner_ended_on", n.EndedOn.String())
	},
	take: func(f *form, n *registry.Landowner) {
		n.Name, n.EndedOn = f.text("owner_name"), f.date("owner_ended_on")
		if f.Values.Has("contact") { // whoever may not see it is not asked
			n.Contact = f.text("contact")
		}
	},
	back: atLand[registry.Landowner],
}

var parcelForm = landNoun[registry.Parcel]{
	kind: "parcel", path: "/parcels", add: app.AddParcel, change: app.ChangeParcel,
	key:  func(n *registry.Parcel) (*uuid.UUID, int) { return &n.ID, n.Version },
	read: (*app.Service).Parcel, enter: (*app.Service).AddParcel, edit: (*app.Service).ChangeParcel,
	fields: []string{"landowner_id"},
	names:  map[string]string{"name": "parcel_name", "ended_on": "parcel_ended_on"},
	fill: func(f *form, n *registry.Parcel) {
		f.Values.Set("landowner_id", n.LandownerID.String())
		f.Values.Set("parcel_name", n.Name)
		f.Values.Set("outline", n.Outline)
		f.Values.Set("parcel_ended_on", n.EndedOn.String())
	},
	take: func(f *form, n *registry.Parcel) {
		n.LandownerID, n.Name, n.EndedOn = f.id("landowner_id"), f.text("parcel_name"), f.date("parcel_ended_on")
		n.Outline = f.text("outline")
	},
	back: atLand[registry.Parcel],
}

var agreementForm = landNoun[registry.Agreement]{
	kind: "agreement", path: "/agreements", add: app.AddAgreement, change: app.ChangeAgreement,
	key:  func(n *registry.Agreement) (*uuid.UUID, int) { return &n.ID, n.Version },
	read: (*app.Service).Agreement, enter: (*app.Service).AddAgreement, edit: (*app.Service).ChangeAgreement,
	fields: []string{"landowner_id"},
	names:  map[string]string{"kind": "agreement", "from": "holds_from", "until": "holds_until"},
	fill: func(f *form, n *registry.Agreement) {
		f.Values.Set("agreement", string(n.Kind))
		if n.LandownerID != nil {
			f.Values.Set("landowner_id", n.LandownerID.String())
		}
		f.Values.Set("issuer", n.Issuer)
		f.Values.Set("conditions", n.Conditions)
		f.Values.Set("holds_from", n.From.String())
		f.Values.Set("holds_until", n.Until.String())
	},
	take: func(f *form, n *registry.Agreement) {
		n.Kind, n.LandownerID, n.Issuer = registry.AgreementKind(f.text("agreement")), f.ref("landowner_id"), f.text("issuer")
		n.Conditions, n.From, n.Until = f.text("conditions"), f.date("holds_from"), f.date("holds_until")
	},
	back: atLand[registry.Agreement],
}

var restrictionForm = landNoun[registry.Restriction]{
	kind: "restriction", path: "/restrictions", add: app.AddRestriction, change: app.ChangeRestriction,
	key:  func(n *registry.Restriction) (*uuid.UUID, int) { return &n.ID, n.Version },
	read: (*app.Service).Restriction, enter: (*app.Service).AddRestriction, edit: (*app.Service).ChangeRestriction,
	fields: []string{"barred_at"},
	names: map[string]string{
		"kind": "barred", "from": "holds_from", "until": "holds_until", "place_id": "barred_at", "place_kind": "barred_at", "parcel_id": "barred_at",
		"yearly.from_day": "yearly_from_day", "yearly.from_month": "yearly_from_month", "yearly.to_day": "yearly_to_day", "yearly.to_month": "yearly_to_month",
	},
	fill: fillRestriction, take: takeRestriction,
	back: func(base string, n *registry.Restriction) string {
		if n.Place == nil {
			return base + "/land"
		}
		return placeHref(base, *n.Place)
	},
}

// onParcel is the kind of a place in the form that is a parcel.
const onParcel = "parcel"

func fillRestriction(f *form, n *registry.Restriction) {
	if n.Place != nil {
		f.Values.Set("barred_at", barredAt(string(n.Place.Kind), n.Place.ID))
	} else if n.ParcelID != nil {
		f.Values.Set("barred_at", barredAt(onParcel, *n.ParcelID))
	}
	f.Values.Set("barred", string(n.Kind))
	f.Values.Set("why", n.Why)
	f.Values.Set("weight", string(n.Weight))
	for _, name := range yearlyFields {
		f.Values.Set(name, "")
	}
	if w := n.Yearly; w != nil {
		for i, v := range []int{w.FromDay, int(w.FromMonth), w.ToDay, int(w.ToMonth)} {
			f.Values.Set(yearlyFields[i], strconv.Itoa(v))
		}
	}
	f.Values.Set("holds_from", n.From.String())
	f.Values.Set("holds_until", n.Until.String())
	f.Values.Set("confirmed_on", n.ConfirmedOn.String())
}

func takeRestriction(f *form, n *registry.Restriction) {
	n.Kind, n.Why, n.Weight = registry.RestrictionKind(f.text("barred")), f.text("why"), registry.Weight(f.text("weight"))
	n.From, n.Until, n.ConfirmedOn = f.date("holds_from"), f.date("holds_until"), f.date("confirmed_on")
	n.Yearly, n.Place, n.ParcelID = yearly(f), nil, nil
	kind, text, _ := strings.Cut(f.text("barred_at"), ":")
	id, err := uuid.Parse(text)
	switch {
	case err != nil:
	case kind == onParcel:
		n.ParcelID = &id
	default:
		n.Place = &registry.Place{Kind: registry.PlaceKind(kind), ID: id}
	}
}

// barredAt is a place or parcel as the form has it.
func barredAt(kind string, id uuid.UUID) string { return kind + ":" + id.String() }

var yearlyFields = []string{"yearly_from_day", "yearly_from_month", "yearly_to_day", "yearly_to_month"}

// yearly reads the yearly window; nil: none was given. One given in part lacks
// what is left out.
func yearly(f *form) *calendar.Window {
	var parts [4]int
	given := 0
	for i, name := range yearlyFields {
		if v := f.whole(name); v != nil {
			parts[i] = *v
		}
		if f.text(name) != "" {
			given++
		}
	}
	if given == 0 {
		return nil
	}
	for _, name := range yearlyFields {
		f.checks.Require(f.text(name) != "", name, fault.Required)
	}
	return &calendar.Window{FromDay: parts[0], FromMonth: time.Month(parts[1]), ToDay: parts[2], ToMonth: time.Month(parts[3])}
}

// maxLandForm holds a form with the longest outline, in its field and as a file.
const maxLandForm = 2 << 20

// landPosted reads the form of a request. An outline that came as a file takes
// the place of the field, so that a refused form shows it again.
func landPosted(c echo.Context) (*form, error) {
	f, err := postedUpTo(c, maxLandForm)
	if err != nil {
		return nil, err
	}
	if media, _, _ := mime.ParseMediaType(c.Request().Header.Get(echo.HeaderContentType)); media != echo.MIMEMultipartForm {
		return f, nil
	}
	name, text, err := formFile(c, "outline_file", maxLandForm)
	if name != "" {
		f.Values.Set("outline", strings.TrimSpace(string(text)))
	}
	f.Values.Set("outline", geometryIn(f.text("outline")))
	return f, err
}

// geometryIn is the geometry of a GeoJSON feature, or of the only one of a
// collection; any other text is returned as it is.
func geometryIn(text string) string {
	var g struct {
		Type     string            `json:"type"`
		Geometry json.RawMessage   `json:"geometry"`
		Features []json.RawMessage `json:"features"`
	}
	if json.Unmarshal([]byte(text), &g) != nil {
		return text
	}
	switch {
	case g.Type == "FeatureCollection" && len(g.Features) == 1:
		return geometryIn(string(g.Features[0]))
	case g.Type == "Feature" && len(g.Geometry) > 0:
		return string(g.Geometry)
	}
	return text
}

package wording

import (
	"strings"

	"rockledger/internal/registry"
)

// CardKind is how a field of the gluing card is filled in.
type CardKind string

// The kinds of field.
const (
	CardText        CardKind = "text"
	CardNote        CardKind = "note" // several lines
	CardDay         CardKind = "day"
	CardTime        CardKind = "time"
	CardNumber      CardKind = "number"
	CardTemperature CardKind = "temperature" // with measured or assumed
	CardYesNo       CardKind = "yes-no"      // or not recorded, which is neither
	CardChoice      CardKind = "choice"
	CardPerson      CardKind = "person"
	CardHardware    CardKind = "hardware"
	CardAdhesive    CardKind = "adhesive"
	CardBatch       CardKind = "batch"
)

// CardField is one field of the gluing card. The printed card, the typed form,
// the session's page and the API carry the same fields in the same order.
type CardField struct {
	Name    string // in the API
	Label   string
	Unit    string // blank: none
	Kind    CardKind
	Choices []string // of a closed list
}

// SessionFields are the fields at the head of the card, after place and day.
func SessionFields() []CardField {
	return []CardField{
		{Name: "adhesive_id", Label: "Adhesive", Kind: CardAdhesive},
		{Name: "batch_id", Label: "Batch, as printed", Kind: CardBatch},
		{Name: "expires_on", Label: "Expires on", Kind: CardDay},
		{Name: "cartridge", Label: "Cartridge", Kind: CardText},
		{Name: "nozzle_new", Label: "New nozzle", Kind: CardYesNo},
		{Name: "opened_at", Label: "Opened at", Kind: CardTime},
		{Name: "first_mix_discarded", Label: "First mix discarded", Kind: CardYesNo},
		{Name: "rock_c", Label: "Rock", Unit: "°C", Kind: CardTemperature},
		{Name: "air_c", Label: "Air", Unit: "°C", Kind: CardTemperature},
		{Name: "cartridge_c", Label: "Resin in the cartridge", Unit: "°C", Kind: CardTemperature},
		{Name: "night_c", Label: "Coldest rock to come", Unit: "°C", Kind: CardTemperature},
		{Name: "set_by_id", Label: "Set by", Kind: CardPerson},
		{Name: "supervised_by_id", Label: "Supervised by", Kind: CardPerson},
		{Name: "checked_by_id", Label: "Checked by", Kind: CardPerson},
		{Name: "method_statement", Label: "Method statement", Kind: CardText},
		{Name: "sample_kept", Label: "Sample kept", Kind: CardYesNo},
		{Name: "sample_where", Label: "Sample lies where", Kind: CardText},
		{Name: "sample_at_rock", Label: "Sample as cold as the rock", Kind: CardYesNo},
		{Name: "words", Label: "Notes", Kind: CardNote},
	}
}

// FoundFields are what is found out after the card was filled in: they stand on
// the session's page and in the API, not on the card.
func FoundFields() []CardField {
	return []CardField{
		{Name: "sample_found", Label: "Sample was found", Kind: CardChoice, Choices: words(registry.SamplesFound())},
		{Name: "sample_found_on", Label: "Sample looked at on", Kind: CardDay},
		{Name: "sample_found_by_id", Label: "Sample looked at by", Kind: CardPerson},
	}
}

// LineFields are the fields of an anchor's short line, after its position.
func LineFields() []CardField {
	return []CardField{
		{Name: "form", Label: "Form", Kind: CardChoice, Choices: words(registry.Forms())},
		{Name: "hardware_id", Label: "Product", Kind: CardHardware},
		{Name: "hole_diameter_mm", Label: "Hole width", Unit: "mm", Kind: CardNumber},
		{Name: "hole_depth_mm", Label: "Hole depth", Unit: "mm", Kind: CardNumber},
		{Name: "cleaning_cycles", Label: "Rounds of cleaning", Kind: CardNumber},
		{Name: "moisture", Label: "Hole was", Kind: CardChoice, Choices: words(registry.Moistures())},
		{Name: "set_at", Label: "Set at", Kind: CardTime},
	}
}

// MoreFields are the fields of an anchor on the back of the card, under "more"
// in the form.
func MoreFields() []CardField {
	return []CardField{
		{Name: "adhesive_id", Label: "Other adhesive", Kind: CardAdhesive},
		{Name: "batch_id", Label: "Other batch", Kind: CardBatch},
		{Name: "rock", Label: "Rock at the hole", Kind: CardChoice, Choices: words(registry.RockClasses())},
		{Name: "rock_words", Label: "Rock in words", Kind: CardText},
		{Name: "rock_sound", Label: "Sound under the hammer", Kind: CardChoice, Choices: words(registry.Sounds())},
		{Name: "cracks_seen", Label: "Cracks seen", Kind: CardYesNo},
		{Name: "edge_distance_mm", Label: "To the nearest edge", Unit: "mm", Kind: CardNumber},
		{Name: "neighbour_distance_mm", Label: "To the nearest anchor", Unit: "mm", Kind: CardNumber},
		{Name: "angle_deg", Label: "Off square to the rock", Unit: "°", Kind: CardNumber},
		{Name: "embedded_length_mm", Label: "Embedded length", Unit: "mm", Kind: CardNumber},
		{Name: "recess_cut", Label: "Recess cut along the pull", Kind: CardYesNo},
		{Name: "dry_fit", Label: "Tried dry first", Kind: CardYesNo},
		{Name: "from_bottom", Label: "Injected from the bottom out", Kind: CardYesNo},
		{Name: "fill_pct", Label: "Hole filled", Unit: "%", Kind: CardNumber},
		{Name: "turned", Label: "Turned while setting", Kind: CardYesNo},
		{Name: "as_drawn", Label: "Set as its drawing shows", Kind: CardYesNo},
		{Name: "surplus_wiped", Label: "Surplus wiped, gaps filled", Kind: CardYesNo},
		{Name: "hole", Label: "Hole is", Kind: CardChoice, Choices: words(registry.HoleStates())},
		{Name: "old_hole_distance_mm", Label: "To the old hole", Unit: "mm", Kind: CardNumber},
		{Name: "torque_nm", Label: "Torque (expansion)", Unit: "N m", Kind: CardNumber},
		{Name: "torque_tool", Label: "Torque tool", Kind: CardText},
		{Name: "words", Label: "Notes", Kind: CardNote},
	}
}

// cardPlaces are the fields that say what a card or a line of it is about.
var cardPlaces = map[string]string{
	"site_id": "Place", "done_on": "Day", "anchor_id": "Anchor", "position_id": "Position",
}

// CardLabel names a field of the gluing card by its name in the API, that of a
// line where the head has one of the same name. It reports false for a name
// that is none.
func CardLabel(name string, line bool) (string, bool) {
	if label, ok := cardPlaces[name]; ok {
		return label, true
	}
	fields := append(SessionFields(), FoundFields()...)
	if line {
		fields = append(LineFields(), MoreFields()...)
	}
	for _, f := range fields {
		if f.Name == name {
			return f.Label, true
		}
	}
	return "", false
}

// words are the values of a closed list as text.
func words[T ~string](list []T) []string {
	texts := make([]string, len(list))
	for i, v := range list {
		texts[i] = string(v)
	}
	return texts
}

// Labels of the boxes that say what a card is about.
const (
	CardPlace    = "Place"
	CardDayLabel = "Day"
)

// CardKey explains on the card what is chosen from: "Form: ...".
func CardKey() string {
	var parts []string
	for _, f := range LineFields() {
		if letters := CardLetters(f); letters != "" {
			parts = append(parts, f.Label+": "+letters)
		}
	}
	return strings.Join(append(parts, "A box left blank is not recorded; that is not the same as no."), ". ")
}

// CardLetters are the choices of a field as a card lists them, blank for a field
// without.
func CardLetters(f CardField) string {
	names := make([]string, len(f.Choices))
	for i, v := range f.Choices {
		names[i] = lower(Label(v))
	}
	if f.Kind == CardYesNo {
		names = []string{"yes", "no"}
	}
	return strings.Join(names, " / ")
}

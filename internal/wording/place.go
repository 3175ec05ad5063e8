package wording

import (
	"fmt"
	"strings"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Sentences about a place for which something is not recorded.
const (
	NoneEnvironment  = "No environment is recorded here. Dates count it as not known."
	NoneRestrictions = "No restriction is recorded here."
	NoneAgreements   = "No permission or consent is recorded here."
	NoneStanding     = "No anchor stands here on what is recorded."
	NonePositions    = "No position is recorded on this route."
	NoneCoordinates  = "Not recorded"
	CaveCoordinates  = "None: there is no satellite fix underground, and none is made up. Go by the description."
	EnvironmentTask  = "Its environment is not recorded. How far is the sea?"
	SeaTask          = "How far is the sea? Until that is recorded, the risk that stainless steel cracks here may be taken too low."
)

// Sentences that explain the parts of a place's page.
const (
	EnvironmentHelp  = "For each value the nearest place that states it counts: the position, its routes, its sector, its site."
	RestrictionsHelp = "What is barred here, and when. Ask locally before you go: this is what the group has recorded."
)

// environmentNames name the fields of an environment.
var environmentNames = map[string]string{
	"temperature_c":                 "Mean air temperature",
	"humidity_pct":                  "Mean relative humidity",
	"sulphur_dioxide_mg_per_m2_day": "Sulphur dioxide deposited",
	"chloride_mg_per_m2_day":        "Chloride deposited",
	"steel_category":                "Corrosivity for carbon steel",
	"zinc_category":                 "Corrosivity for zinc",
	"copper_category":               "Corrosivity for copper",
	"aluminium_category":            "Corrosivity for aluminium",
	"sea_km":                        "Distance to the sea",
	"road_km":                       "Distance to a salted road",
	"coast":                         "Coast",
	"mineral_salts":                 "Mineral salts in the rock or water",
	"wetness":                       "Wetness of the rock",
	"washed":                        "Washed by rain",
	"surface_max_c":                 "Highest surface temperature of a year",
}

// environmentUnits are the units of the fields of an environment that have one.
var environmentUnits = map[string]string{
	"temperature_c":                 "°C",
	"humidity_pct":                  "%",
	"sulphur_dioxide_mg_per_m2_day": "mg/(m² d)",
	"chloride_mg_per_m2_day":        "mg/(m² d)",
	"sea_km":                        "km",
	"road_km":                       "km",
	"surface_max_c":                 "°C",
}

// EnvironmentName names a field of an environment.
func EnvironmentName(field string) string {
	if name, ok := environmentNames[field]; ok {
		return name
	}
	return capital(strings.ReplaceAll(field, "_", " "))
}

// EnvironmentUnit is the unit of a field of an environment, blank for one
// without.
func EnvironmentUnit(field string) string { return environmentUnits[field] }

// EnvironmentValue says the value of a field of an environment, given as
// canonical text: "0.3 km", "yes", "Dripping".
func EnvironmentValue(field, text string) string {
	unit := environmentUnits[field]
	switch {
	case text == "":
		return notKnown
	case unit != "":
		return text + " " + unit
	case strings.HasSuffix(field, "_category"):
		return text
	case text == "true":
		return "yes"
	case text == "false":
		return "no"
	}
	return Label(text)
}

// Event says what befell a site and by when its anchors are to be inspected:
// "Rockfall on 2 May 2026: every anchor here is to be inspected by 1 June 2026."
func Event(e registry.Event) string {
	text := Label(e.Kind) + " on " + e.HappenedOn.Words() + ": every anchor here is to be inspected"
	if !e.InspectBy.IsZero() {
		text += " by " + e.InspectBy.Words()
	}
	s := sentences{text + "."}
	if e.Closed {
		s.add("The group closed the site until that is done.")
	}
	if e.Words != "" {
		s.add("“" + e.Words + "”")
	}
	return strings.Join(s, " ")
}

// Agreement says who agreed to the anchors, for how long and on which terms:
// "Permission of Invented Estate, from 1 May 2020 on. Conditions: no drilling on
// Sundays."
func Agreement(a registry.Agreement) string {
	text := Label(a.Kind) + " of " + a.Issuer + ", from " + a.From.Words()
	if a.Until.IsZero() {
		text += " on."
	} else {
		text += " to " + a.Until.Words() + "."
	}
	if a.Conditions != "" {
		text += " Conditions: " + a.Conditions
	}
	return text
}

// Assembly says how anchors are loaded together: "B2 belay, equalised".
func Assembly(a registry.Assembly) string {
	if a.Kind == "" {
		return a.Name + ", how they share the load is " + notKnown
	}
	return a.Name + ", " + strings.ToLower(Label(a.Kind))
}

// IsEnvironmentField says whether an environment has a field of that name.
func IsEnvironmentField(field string) bool { _, ok := environmentNames[field]; return ok }

// Begins says when a restriction begins: "begins 1 February 2026".
func Begins(on calendar.Date) string { return "begins " + on.Words() }

// Rank says where on a route a position comes, from its foot or entrance:
// "number 3 from the start".
func Rank(n int) string { return fmt.Sprintf("number %d from the start", n) }

// categories name the corrosivity categories as ISO 9223:2012 does.
var categories = map[registry.Category]string{
	"C1": "very low", "C2": "low", "C3": "medium", "C4": "high", "C5": "very high", "CX": "extreme",
}

// Category names a corrosivity category: "C3, medium".
func Category(c registry.Category) string {
	if name, ok := categories[c]; ok {
		return string(c) + ", " + name
	}
	return notKnown
}

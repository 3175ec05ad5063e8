package wording

import (
	"strings"

	"rockledger/internal/calendar"
)

func crossesItself(values map[string]string) string {
	if lon, lat := values["lon"], values["lat"]; lon != "" && lat != "" {
		return "The outline crosses or touches itself near longitude " + lon + ", latitude " + lat +
			". Put its corners in order along the border, each once."
	}
	return "The outline crosses or touches itself. Put its corners in order along the border, each once."
}

func overlaps(values map[string]string) string {
	if name := values["name"]; name != "" {
		return "The outline covers part of the parcel “" + name + "”. Draw the common border the same in both, or correct that parcel first."
	}
	return "The outline covers the same land twice. Draw each piece once."
}

func tooLong(values map[string]string) string {
	if most := values["max"]; most != "" {
		return "This is longer than is kept: at most " + most + " characters. Shorten it."
	}
	return "This is longer than is kept. Shorten it."
}

func tooShort(values map[string]string) string {
	if least := values["min"]; least != "" {
		return "This is too short: at least " + least + " characters are asked for. Make it longer."
	}
	if least := values["least"]; least != "" {
		return "Fewer are given here than are asked for: at least " + least + ". Give the others too."
	}
	return "This is too short. Make it longer."
}

// goneBy says that an anchor was out of the rock when it was entered.
func goneBy(values map[string]string) string {
	words := ""
	if w := values["removed_words"]; w != "" {
		words = ", as “" + w + "”"
	}
	return "This anchor was removed, on a day not known: it was entered so on " + day(values["gone_by"]) + words +
		". Give the day this was done if it was before that; otherwise record it for the anchor that came after it."
}

// day writes a date as people do and leaves any other text as it is.
func day(text string) string {
	d, err := calendar.ParseDate(strings.TrimSpace(text))
	if err != nil {
		return text
	}
	return d.Words()
}

// dayOf says a date of a violation as it was entered: a year stays a year.
func dayOf(values map[string]string, name string) string {
	from, err := calendar.ParseDate(values[name+"_from"])
	to, errTo := calendar.ParseDate(values[name+"_to"])
	if err != nil || errTo != nil {
		return "on " + day(values[name])
	}
	return On(calendar.Span{From: from, To: to, Words: values[name+"_words"]})
}

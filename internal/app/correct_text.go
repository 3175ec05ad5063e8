package app

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// formNow is what the register has. Words from which the list before had a form
// are left over where a person has taken it out, and are not exported.
func (c *correction) formNow() string {
	a := &c.facts.Anchor
	left := c.prev == c.row && c.row.FormWords == "" || c.prev.Form != "" && registry.Fold(a.FormWords) == registry.Fold(c.prev.FormWords)
	if a.Form == "" && left {
		return ""
	}
	return formText(a.Form, a.FormWords)
}

// formText is a form, or the words that none was read from. A hanger is told
// apart from them, and that it is a bolt says nothing.
func formText(form registry.Form, words string) string {
	if form != "" {
		return string(form)
	}
	words = strings.TrimSuffix(tidy(words), " with hanger")
	if registry.Fold(words) == "bolt" {
		return ""
	}
	return words
}

// metalText names the grades, or the words that none was read from. Words that
// name a metal are left over from one that a person has taken out.
func metalText(s metal.Set, words string) string {
	if _, err := metal.Parse(words); !s.Known() && err == nil {
		return ""
	}
	if !s.Known() {
		return tidy(words)
	}
	grades := make([]string, len(s))
	for i, g := range s {
		grades[i] = string(g)
	}
	return strings.Join(grades, " or ")
}

// lengthText writes a length to the nearest nanometre, as a list has it.
func lengthText(l *quantity.Length) string {
	if l == nil {
		return ""
	}
	return strconv.FormatFloat(math.Round(l.Millimetres()*1e6)/1e6, 'f', -1, 64) + " mm"
}

// placeText writes degrees to about a decimetre.
func placeText(lat, lon *float64) string {
	if lat == nil || lon == nil {
		return ""
	}
	return fmt.Sprintf("%.6f, %.6f", *lat, *lon)
}

// sizeCell is a part of the cell of the diameter: 0 the diameter, 1 the length.
func (c *correction) sizeCell(part int) string {
	parts := strings.Split(c.cell("diameter"), " x ")
	if part >= len(parts) {
		return ""
	}
	return parts[part]
}

func (c *correction) lengthCell() string {
	if c.has("length") {
		return c.cell("length")
	}
	return c.sizeCell(1)
}

// placeWritten says whether the degrees in the row's cells are the register's.
func (c *correction) placeWritten() bool {
	lat, lon := c.cell("lat"), c.cell("lon")
	if c.has("coordinates") {
		lat, lon, _ = strings.Cut(c.cell("coordinates"), ", ")
	}
	return sameDegrees(lat, c.facts.Position.Lat) && sameDegrees(lon, c.facts.Position.Lon)
}

func sameDegrees(cell string, degrees *float64) bool {
	read, err := strconv.ParseFloat(cell, 64)
	return err == nil && degrees != nil && read == *degrees
}

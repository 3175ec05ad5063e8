package wording

import (
	"strconv"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// Sentences about products, sheets and batches.
const (
	ShippedProduct   = "Generic entry, not a maker's product: no sheet, no cure time."
	NoSheet          = "No sheet is recorded: no cure time and no limits can be given. Read the label, or add the maker's sheet."
	NoCureRows       = "This sheet has no cure table: no cure time can be given. Read the label."
	NoneProducts     = "No product is recorded yet."
	NoneBatches      = "No batch is recorded here."
	NoneOtherBatches = "No other batch is on the shelf."
	NoneExpiring     = "No batch on the shelf is known to have expired or to expire within 60 days."
	BatchHelp        = "A batch is its product and the letters and digits of what is printed: “L1709-A” and “l 1709 a” are one."
	ExpiryHelp       = "What expires first is used first. What has expired is never used."
	SheetHelp        = "Copy the maker's own sheet, figure by figure. A sheet is never changed: one from a later day takes its place, and an older anchor is judged by the sheet of its day."
	CureRowsHelp     = "One line for each row of the maker's table, coldest first: rock temperatures, then working time, cure time and, where printed, the cure time in a wet hole. For example: 5..9: 25 min, 2 h, wet 4 h (an invented row)."
	NoneSheets       = "No sheet is recorded."
	NoneUsedBy       = "No anchor is recorded as set with it. That it was not written down does not mean that it was not used."
	BatchExpired     = "This batch has expired. Never use it."
	OnHandHelp       = "Left open: as many as were received."
	ChemistryHelp    = "Of an adhesive, such as vinylester or epoxy. Left open: not known."
	HardwareHelp     = "Of hardware; leave it for an adhesive."
	MetalHelp        = "Of hardware, such as 1.4404 or 316L. Left open: not known."
	LengthHelp       = "Lengths in millimetres, or with their unit: 12, 12 mm, 1/2 in."
	SheetSourceHelp  = "Which sheet: its issue or date as printed."
	RecordedProduct  = "The product has been added."
	RecordedSheet    = "The sheet has been added."
	RecordedBatch    = "The batch has been added."
	RecordedCount    = "The count has been kept."
	UsedByHelp       = "Set with this batch, as far as it was recorded."
)

// Sentences about an estimate of mortar.
const (
	MortarHelp = "Mortar by the geometry of the hole and the section of the steel, times the waste. A hole in porous or cracked rock " +
		"drinks more, and none of this says that the hole was filled."
	MortarSource = "Geometry; the waste is checked against a published consumption table, with the real section of the steel."
)

// mortarNotes hold the sentence of every note on an estimate of mortar.
var mortarNotes = map[string]func(registry.Values) string{
	"nominal-diameter": saying("The section of the steel was taken from its diameter, as of a smooth round shank. For a threaded or notched shank that " +
		"asks for too little, by about half for a threaded rod: give the real section."),
	"default-waste": func(v registry.Values) string {
		return "Waste " + v.Text("waste") + ": default of this project. A published consumption table implies 1.25 to 1.71 with the real section of the steel."
	},
	"default-cartridge": func(v registry.Values) string {
		return "Cartridge of " + v.Text("ml") + " mL: default of this project; common practice, no source. Give the size that is printed."
	},
	"default-purge": func(v registry.Values) string {
		return v.Text("ml") + " mL thrown away with each nozzle, as three strokes: default of this project; common practice, no source."
	},
	"cartridge-of-sheet": func(v registry.Values) string { return "Cartridge of " + v.Text("ml") + " mL, by the product's sheet." },
	"mixed-sizes":        saying("For holes of several sizes the number of cartridges is an upper estimate: the biggest are filled first, and no hole is split over two cartridges."),
	"short": func(v registry.Values) string {
		return "Too little is known to be on hand: " + v.Text("short") + " more " + plural(v.Text("short"), "cartridge", "cartridges") + " wanted."
	},
	"count-not-known":  saying("It is not known how many cartridges some batches still have. Count them."),
	"expiry-not-known": saying("The expiry of some batches is not known; they come last. Read it off the cartridge before using one."),
	"expired": func(v registry.Values) string {
		return v.Text("batches") + " expired " + plural(v.Text("batches"), "batch is", "batches are") + " left out: never use what has expired."
	},
}

func saying(sentence string) func(registry.Values) string {
	return func(registry.Values) string { return sentence }
}

func plural(n, one, many string) string {
	if n == "1" {
		return one
	}
	return many
}

// MortarNote says what to know of an estimate of mortar, by code and values.
func MortarNote(code string, v registry.Values) string {
	if say, ok := mortarNotes[code]; ok {
		return say(v)
	}
	return Rule(code) + "."
}

// Expiry says how a batch stands to its last good day: "expired on 1 May 2026".
func Expiry(e registry.Expiry, on calendar.Date) string {
	switch e {
	case registry.Expired:
		return "expired on " + on.Words() + ": never to be used"
	case registry.ExpiresSoon:
		return "expires soon, on " + on.Words()
	case registry.InDate:
		return "expires on " + on.Words()
	}
	return "expiry " + notKnown
}

// OnHand says how much of a batch is left: "7 of 12 on hand".
func OnHand(b registry.Batch) string {
	switch {
	case !b.EndedOn.IsZero():
		return "used up or thrown away on " + b.EndedOn.Words()
	case b.OnHand == nil:
		return "count " + notKnown
	case b.Received == nil:
		return strconv.Itoa(*b.OnHand) + " on hand"
	}
	return strconv.Itoa(*b.OnHand) + " of " + strconv.Itoa(*b.Received) + " on hand"
}

// ProductName names a product with its maker, and says of a generic entry that
// it is one: it stands for a form or a chemistry and is no maker's product.
func ProductName(p registry.Product) string {
	name := p.Name
	if p.Maker != "" {
		name += ", " + p.Maker
	}
	if p.Shipped {
		name += " (generic entry)"
	}
	return name
}

// ReceivedAs says in what words a batch was received: "received: 20 cartridges".
// Blank: nothing was written.
func ReceivedAs(b registry.Batch) string {
	if b.Quantity == "" {
		return ""
	}
	return "received: " + b.Quantity
}

// SheetMinutes says a working or cure time as sheets do: "25 min", "2 h", "1 h 20 min".
func SheetMinutes(m int) string {
	h, rest := m/60, m%60
	switch {
	case h == 0:
		return strconv.Itoa(rest) + " min"
	case rest == 0:
		return strconv.Itoa(h) + " h"
	}
	return strconv.Itoa(h) + " h " + strconv.Itoa(rest) + " min"
}

// Span says two numbers with what lies between, or the one that they are: "5 to
// 9".
func Span(low, high float64) string {
	text := strconv.FormatFloat(low, 'f', -1, 64)
	if low != high {
		text += " to " + strconv.FormatFloat(high, 'f', -1, 64)
	}
	return text
}

// Holes counts holes: "1 hole", "12 holes".
func Holes(n int) string { return count(n, "hole", "holes") }

// Cartridges counts cartridges.
func Cartridges(n int) string { return count(n, "cartridge", "cartridges") }

// NoLongerInCatalogue marks a product that is offered for new work no more.
func NoLongerInCatalogue(name string) string { return name + " (no longer in the catalogue)" }

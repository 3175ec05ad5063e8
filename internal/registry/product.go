package registry

import (
	"strings"
	"unicode"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
)

// ProductKind tells the two catalogues apart.
type ProductKind string

// The kinds of product.
const (
	Hardware ProductKind = "hardware"
	Adhesive ProductKind = "adhesive"
)

// Product is a catalogue entry.
type Product struct {
	ID      uuid.UUID
	Version int
	Kind    ProductKind
	Name    string
	Maker   string
	Form    Form      // hardware
	Metal   metal.Set // hardware
	// Chemistry of an adhesive in words ("vinylester"); empty: not known.
	Chemistry string
	Notes     string
	EndedOn   calendar.Date // zero: in the catalogue
}

// Validate reports every violation, keyed by JSON name.
func (p *Product) Validate() error {
	var c fault.Checks
	checkListed(&c, "kind", p.Kind, []ProductKind{Hardware, Adhesive})
	checkName(&c, "name", p.Name)
	checkListedOrBlank(&c, "form", p.Form, Forms())
	c.Require(p.Kind == Hardware || p.Form == "", "form", fault.Mismatch)
	c.Require(p.Kind == Hardware || !p.Metal.Known(), "metal", fault.Mismatch)
	c.Require(p.Kind == Adhesive || p.Chemistry == "", "chemistry", fault.Mismatch)
	return c.Err()
}

// ProductVersion is a product's sheet from one day on: an old installation is
// judged by the sheet of its day.
type ProductVersion struct {
	ID        uuid.UUID
	ProductID uuid.UUID
	From      calendar.Date
	Source    string // which sheet: issue or date as printed
	Hole      *quantity.Length
	Shank     *quantity.Length
	Length    *quantity.Length // overall
	Embedded  *quantity.Length
	AxialKN   *quantity.Force // rated
	RadialKN  *quantity.Force // rated
	Drawing   string          // orientation as the drawing shows it, in words
	Words     string

	// Of an adhesive.
	CureRows       []CureRow
	WetFactor      *float64   // on the cure time in a damp or saturated hole
	Moistures      []Moisture // of the hole that the sheet names as allowed; none: it names none
	RockLowC       *quantity.Temperature
	RockHighC      *quantity.Temperature
	CartridgeLowC  *quantity.Temperature
	CartridgeHighC *quantity.Temperature
	CleaningCycles *int // of blowing and brushing that the sheet asks for
	ShelfMonths    *int
	CartridgeML    *float64
}

// CureRow is one row of a sheet's table: between two rock temperatures, both
// included as printed, the working and the cure time.
type CureRow struct {
	FromC       quantity.Temperature `json:"from_c"`
	ToC         quantity.Temperature `json:"to_c"`
	WorkMinutes int                  `json:"work_minutes"`
	CureMinutes int                  `json:"cure_minutes"`
	// CureWetMinutes is the cure time in a damp or saturated hole. Nil: the
	// sheet gives none for the row.
	CureWetMinutes *int `json:"cure_wet_minutes,omitempty"`
}

// Validate reports every violation, keyed by JSON name.
func (v *ProductVersion) Validate() error {
	var c fault.Checks
	c.Require(!v.From.IsZero(), "from", fault.Required)
	checkName(&c, "source", v.Source)
	checkLength(&c, "hole_diameter_mm", v.Hole, 100)
	checkLength(&c, "shank_diameter_mm", v.Shank, 100)
	checkLength(&c, "overall_length_mm", v.Length, 1000)
	checkLength(&c, "embedded_length_mm", v.Embedded, 1000)
	checkForce(&c, "rated_axial_kn", v.AxialKN)
	checkForce(&c, "rated_radial_kn", v.RadialKN)
	return c.Err()
}

func checkForce(c *fault.Checks, field string, f *quantity.Force) {
	if f != nil {
		c.Require(*f > 0, field, fault.NotPositive)
		c.Require(*f <= 500, field, fault.OutOfRange, "to", "500")
	}
}

// Batch is a delivery of one product under the maker's batch text.
type Batch struct {
	ID         uuid.UUID
	Version    int
	ProductID  *uuid.UUID // nil: product not known
	Text       string     // as printed
	ExpiresOn  calendar.Date
	ReceivedOn calendar.Date
	Quantity   string
	EndedOn    calendar.Date // used up or thrown away; zero: on hand
}

// Validate reports every violation, keyed by JSON name.
func (b *Batch) Validate() error {
	var c fault.Checks
	c.Require(b.Key() != "", "text", fault.Blank)
	c.Require(len(b.Text) <= MaxName, "text", fault.TooLong)
	return c.Err()
}

// Key is the batch's text with case, spaces and punctuation folded, so that
// "L1709-A" and "l 1709 a" are one batch.
func (b Batch) Key() string { return FoldBatch(b.Text) }

// FoldBatch keeps the letters and digits of a batch text, in upper case.
func FoldBatch(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) || unicode.IsDigit(r) {
			return unicode.ToUpper(r)
		}
		return -1
	}, text)
}

// Fold joins words with single spaces, in lower case: the key under which
// names written with stray spaces or case are the same.
func Fold(text string) string { return strings.ToLower(strings.Join(strings.Fields(text), " ")) }

// Person is who set, inspected, checked or supervised; the only place of
// names.
type Person struct {
	ID      uuid.UUID
	Version int
	Name    string
}

// Validate reports every violation, keyed by JSON name.
func (p *Person) Validate() error {
	var c fault.Checks
	checkName(&c, "name", p.Name)
	return c.Err()
}

package registry

import (
	"strings"

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
	// Shipped says that it came with the register: a generic entry that stands
	// for a form or a chemistry and is no maker's product. It has no sheet and
	// so gives no cure time.
	Shipped bool
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

	// Of hardware.
	SteelAreaMM2 *float64         // real section of the steel in the hole, mm²
	EdgeLeast    *quantity.Length // least distance from an edge
	SpacingLeast *quantity.Length // least distance from the next anchor
	TorqueNM     *float64         // to tighten with, N m

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

func checkForce(c *fault.Checks, field string, f *quantity.Force) {
	if f != nil {
		c.Require(*f > 0, field, fault.NotPositive)
		c.Require(*f <= 500, field, fault.OutOfRange, "to", "500")
	}
}

// Fold joins words with single spaces, in lower case: the key under which
// names written with stray spaces or case are the same.
func Fold(text string) string { return strings.ToLower(Tidy(text)) }

// Tidy joins words with single spaces.
func Tidy(text string) string {
	if tidied(text) {
		return text
	}
	return strings.Join(strings.Fields(text), " ")
}

// tidied says that a text is surely as Tidy leaves it, as most names on a list
// are: letters and signs of ASCII with single spaces between them.
func tidied(text string) bool {
	before := byte(' ')
	for i := range len(text) {
		c := text[i]
		if c < ' ' || c > '~' || c == ' ' && before == ' ' {
			return false
		}
		before = c
	}
	return text == "" || before != ' '
}

// Person is who set, inspected, checked or supervised; the only place of
// names.
type Person struct {
	ID      uuid.UUID
	Version int
	Name    string
	Erased  bool // Name is no name any more
}

// Validate reports every violation, keyed by JSON name.
func (p *Person) Validate() error {
	var c fault.Checks
	checkName(&c, "name", p.Name)
	return c.Err()
}

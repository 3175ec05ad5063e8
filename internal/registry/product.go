package registry

import (
	"strings"
	"unicode"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
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

// Landowner holds land.
type Landowner struct {
	ID      uuid.UUID
	Version int
	Name    string
	Contact string // owners only
}

// Parcel is a landowner's piece of land. Outline is GeoJSON; empty: not drawn.
type Parcel struct {
	ID          uuid.UUID
	Version     int
	LandownerID uuid.UUID
	Name        string
	Outline     string
}

package registry

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
)

// Doubt is something on a list that cannot be right, or that had to be
// guessed: which line and column, the text as written, what is doubted and
// what to do.
type Doubt struct {
	Line   int    `json:"line"`
	Column string `json:"column"` // the list's own heading
	Text   string `json:"text"`   // as written
	Code   string `json:"code"`   // a word of wording's list; its sentence holds the remedy
	Values Values `json:"values,omitempty"`
}

// ListState is what a list says of an anchor's state.
type ListState string

// The states a list can give; the empty state is none given.
const (
	StateOK          ListState = "ok"
	StateSpins       ListState = "spins"
	StateLooseNut    ListState = "loose-nut"
	StateRusty       ListState = "rusty"
	StateSurfaceRust ListState = "surface-rust"
	StateCrackedGlue ListState = "cracked-glue"
	StateHangerBent  ListState = "hanger-bent"
	StateRemoved     ListState = "removed"
	StateReplaced    ListState = "replaced"
	StateNotFound    ListState = "not-found"
	StateUnsafe      ListState = "called-unsafe" // grave words that fit none of the above
	StateOther       ListState = "other"         // not understood; the words are kept
)

// ListRow is one row of an anchor list: typed values where they could be read,
// and the text as written.
type ListRow struct {
	Line  int  // in the file, from 1
	Blank bool // nothing in it
	// AnchorID is the id of an exported list. Nil: not on the list.
	AnchorID *uuid.UUID

	Site, Sector, Route, Label string
	SiteKind                   SiteKind // never empty
	RouteKind                  RouteKind
	Role                       PositionRole

	Form      Form
	FormWords string
	HasHanger bool // the type names a hanger

	Metal      metal.Set
	MetalWords string

	Shank, Length, Hole *quantity.Length

	Glue, Batch string

	SetOn calendar.Span
	SetBy string

	CheckedOn  calendar.Span
	State      ListState
	StateWords string
	ReplacedOn calendar.Span // with StateReplaced
	// NextState is, with StateReplaced, what the words say after that: it is of
	// the anchor that came instead. Empty: nothing.
	NextState ListState

	Lat, Lon        *float64 // never set for a cave
	CoordinateWords string   // as written

	Landowner string
	Notes     string
	// Noted is what the notes would become if a steward accepts it.
	Noted []Noted `json:"-"`

	Cells []string `json:"-"` // as written, in the order of the headings
}

// Key names the spot that the row is about: site, sector, route and label with
// case and spaces folded.
func (r *ListRow) Key() string {
	return strings.Join([]string{Fold(r.Site), Fold(r.Sector), Fold(r.Route), Fold(r.Label)}, "\x1f")
}

// Print is a hash over the row's cells as written, stray spaces aside: rows
// with the same print say the same.
func (r *ListRow) Print() string {
	h := sha256.New()
	for _, c := range r.Cells {
		h.Write([]byte(Tidy(c)))
		h.Write([]byte{0x1f})
	}
	return hex.EncodeToString(h.Sum(nil))
}

// List is an anchor list as read: all its data rows in order, blank ones too.
type List struct {
	FileName  string
	FileHash  string // SHA-256 of the bytes, hex
	Encoding  string // "UTF-8", "windows-1252"
	Delimiter string // ",", ";" or "tab"
	Headings  []string
	Columns   map[string]string // field -> heading that was taken for it
	Rows      []ListRow
	Doubts    []Doubt
}

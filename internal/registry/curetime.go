package registry

import (
	"time"

	"github.com/google/uuid"

	"rockledger/internal/quantity"
)

// CureBasis says where a cure time comes from.
type CureBasis string

// The bases.
const (
	CureBySheet CureBasis = "sheet" // the product's own, of that day
	CureByLabel CureBasis = "label" // what a person read off the label
	CureNone    CureBasis = "none"  // no time can be given: read the label
)

// CureBases lists the bases.
func CureBases() []CureBasis { return []CureBasis{CureBySheet, CureByLabel, CureNone} }

// LowestBy says which rock temperature decided a cure time.
type LowestBy string

// What decided.
const (
	LowestSetting LowestBy = "setting"
	LowestNight   LowestBy = "night"        // the night to come, or the coldest until release
	LowestCave    LowestBy = "cave-default" // of the house rules
	LowestRow     LowestBy = "coldest-row"  // no night known: the row of the coldest that the house rules reckon with
)

// LowestBys lists what may decide.
func LowestBys() []LowestBy {
	return []LowestBy{LowestSetting, LowestNight, LowestCave, LowestRow}
}

// CureTime is what is worked out about the cure of one bonded anchor. It is
// advice from the data given; time alone never allows use.
type CureTime struct {
	InstallationID uuid.UUID
	Basis          CureBasis
	// Missing is a word of wording's list: why there is no time, or no instant.
	Missing string
	// SheetID is the sheet that was read; nil: none.
	SheetID        *uuid.UUID
	Source         string // of the sheet
	WorkingMinutes *int
	CureMinutes    *int
	LowestC        *quantity.Temperature
	LowestBy       LowestBy
	Assumed        bool // the temperature was not measured
	Wet            bool // lengthened for a damp or saturated hole
	// UsualDoubling says that it was lengthened by the usual doubling (common
	// practice), since the sheet or label gave no time for a wet hole.
	UsualDoubling bool
	// MoistureUnknown says that it was lengthened because nobody recorded how wet
	// the hole was.
	MoistureUnknown bool
	NotBefore       time.Time // UTC; zero: no instant can be given
}

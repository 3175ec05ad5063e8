package report

import (
	"github.com/google/uuid"

	"rockledger/internal/registry"
)

// MortarHole asks for the mortar of holes that are alike. Lengths in
// millimetres.
type MortarHole struct {
	DiameterMM   float64
	DepthMM      float64
	EmbeddedMM   float64
	ShankMM      float64  // of a smooth round shank; 0: not given
	SteelAreaMM2 *float64 // real section of the steel; nil: that of a smooth shank
	Count        int      // of anchors
	HolesEach    int      // of one anchor: two for a staple
}

// MortarQuery asks how much mortar a list of holes takes; nil stands for the
// default.
type MortarQuery struct {
	Holes       []MortarHole
	Waste       *float64
	CartridgeML *float64
	PurgeML     *float64 // thrown away with each nozzle
	Nozzles     *int     // of one cartridge
	// ProductID names the adhesive, whose sheet gives the size of the cartridge
	// and whose batches are put in order; nil: none is named.
	ProductID *uuid.UUID
}

// Mortar is how much mortar holes take, and where it comes from.
type Mortar struct {
	VolumeML    float64 // of all holes, waste included
	Cartridges  int     // that suffice for them
	Waste       float64
	CartridgeML float64
	PurgeML     float64
	Nozzles     int
	Holes       []MortarLine
	Batches     []MortarBatch    // what expires first comes first; none is expired
	Expired     []registry.Batch // never to be used
	Short       int              // cartridges wanted beyond those known to be on hand
	Notes       []MortarNote
}

// MortarLine is what holes that are alike take.
type MortarLine struct {
	NetML        float64 // what one hole keeps
	VolumeML     float64 // what is injected into one, waste included
	Holes        int
	PerCartridge int // whole holes
}

// MortarBatch is a batch with how many cartridges to take of it; 0 where it is
// not known how many there are, or nothing more is needed.
type MortarBatch struct {
	Batch  registry.Batch
	Take   int
	Expiry registry.Expiry
}

// MortarNote is something to know of an estimate; its sentence is wording's.
type MortarNote struct {
	Code   string
	Values registry.Values
}

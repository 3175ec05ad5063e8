package app

import (
	"context"
	"strconv"

	"github.com/google/uuid"

	"rockledger/internal/adhesive"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// What one estimate takes at most.
const (
	maxMortarLines   = 100
	maxMortarAnchors = 1000 // that are alike
	maxHolesEach     = 10   // of one anchor
	maxWaste         = 10
)

// EstimateMortar returns how much mortar a list of holes takes, by package
// adhesive, and for a named adhesive from which of its batches to take it
// today. What no hole can be is fault.Invalid naming every field.
func (s *Service) EstimateMortar(ctx context.Context, who registry.Actor, q report.MortarQuery) (report.Mortar, error) {
	if err := may(who, EstimateMortar); err != nil {
		return report.Mortar{}, err
	}
	if q.ProductID == nil {
		return MortarOf(q)
	}
	asOf, fromSheet := s.AsOf(who), false
	if err := s.checkAdhesive(ctx, who, *q.ProductID); err != nil {
		return report.Mortar{}, err
	}
	if q.CartridgeML == nil {
		sheets, err := s.store.ProductVersions(ctx, who.GroupID, *q.ProductID)
		if err != nil {
			return report.Mortar{}, err
		}
		q.CartridgeML = cartridgeOf(sheets, asOf)
		fromSheet = q.CartridgeML != nil
	}
	out, err := MortarOf(q)
	if err != nil {
		return out, err
	}
	if fromSheet {
		out.Notes = append(out.Notes, mortarNote("cartridge-of-sheet", "ml", figure(out.CartridgeML)))
	}
	return out, s.drawBatches(ctx, who, *q.ProductID, asOf, &out)
}

// checkAdhesive wants a product of the group that is an adhesive.
func (s *Service) checkAdhesive(ctx context.Context, who registry.Actor, product uuid.UUID) error {
	d := s.newDesk(ctx, who)
	p, ok := has(d, "product_id", product, Store.Product)
	d.Require(!ok || p.Kind == registry.Adhesive, "product_id", fault.Mismatch, "with", "adhesive")
	return d.Err()
}

// cartridgeOf is the size that the sheet in force on a day gives; nil: none.
// Sheets come from the earliest on.
func cartridgeOf(sheets []registry.ProductVersion, asOf calendar.Date) *float64 {
	var ml *float64
	for _, v := range sheets {
		if v.From <= asOf {
			ml = v.CartridgeML
		}
	}
	return ml
}

// MortarOf is EstimateMortar for whoever needs no register to ask: the command
// line. It knows no batches.
func MortarOf(q report.MortarQuery) (report.Mortar, error) {
	out := report.Mortar{Waste: adhesive.DefaultWaste}
	c := adhesive.DefaultCartridge()
	given(&out.Waste, q.Waste)
	given(&c.ML, q.CartridgeML)
	given(&c.PurgeML, q.PurgeML)
	given(&c.Nozzles, q.Nozzles)
	out.CartridgeML, out.PurgeML, out.Nozzles = c.ML, c.PurgeML, c.Nozzles

	var k fault.Checks
	k.Require(out.Waste >= 1 && out.Waste <= maxWaste, "waste", fault.OutOfRange, "from", "1", "to", strconv.Itoa(maxWaste))
	k.Nest("", c.Validate())
	k.Require(len(q.Holes) > 0, "holes", fault.Required)
	k.Require(len(q.Holes) <= maxMortarLines, "holes", fault.OutOfRange, "to", strconv.Itoa(maxMortarLines))
	var lots []adhesive.Lot
	nominal, mixed := false, false
	for i, h := range q.Holes {
		line, err := mortarLine(h, out.Waste, c)
		k.Nest("holes["+strconv.Itoa(i)+"]", err)
		out.Holes = append(out.Holes, line)
		out.VolumeML += line.VolumeML * float64(line.Holes)
		lots = append(lots, adhesive.Lot{ML: line.VolumeML, Holes: line.Holes})
		nominal = nominal || h.SteelAreaMM2 == nil
		mixed = mixed || line.VolumeML != out.Holes[0].VolumeML
	}
	if err := k.Err(); err != nil {
		return report.Mortar{}, err
	}
	var err error
	if out.Cartridges, err = c.Pack(lots); err != nil {
		return report.Mortar{}, err
	}
	out.Notes = mortarNotes(q, nominal, mixed)
	return out, nil
}

// given takes a value in place of the default where there is one.
func given[T any](to, v *T) {
	if v != nil {
		*to = *v
	}
}

func mortarLine(h report.MortarHole, waste float64, c adhesive.Cartridge) (report.MortarLine, error) {
	var k fault.Checks
	k.Require(h.Count >= 1 && h.Count <= maxMortarAnchors, "count", fault.OutOfRange, "from", "1", "to", strconv.Itoa(maxMortarAnchors))
	k.Require(h.HolesEach >= 1 && h.HolesEach <= maxHolesEach, "holes_each", fault.OutOfRange, "from", "1", "to", strconv.Itoa(maxHolesEach))
	steel := h.ShankMM != 0 || h.SteelAreaMM2 != nil
	k.Require(steel, "shank_diameter_mm", fault.Required, "what", "steel")
	if !steel {
		return report.MortarLine{}, k.Err()
	}
	net, err := adhesive.Hole{
		Diameter: quantity.Length(h.DiameterMM), Depth: quantity.Length(h.DepthMM), Embedded: quantity.Length(h.EmbeddedMM),
		Shank: quantity.Length(h.ShankMM), SteelAreaMM2: h.SteelAreaMM2,
	}.Volume()
	k.Nest("", err)
	if err := k.Err(); err != nil {
		return report.MortarLine{}, err
	}
	line := report.MortarLine{NetML: net, VolumeML: net * waste, Holes: h.Count * h.HolesEach}
	if c.Validate() == nil {
		line.PerCartridge = c.Holes(line.VolumeML)
	}
	return line, nil
}

func mortarNotes(q report.MortarQuery, nominal, mixed bool) []report.MortarNote {
	var notes []report.MortarNote
	if nominal {
		notes = append(notes, mortarNote("nominal-diameter"))
	}
	if q.Waste == nil {
		notes = append(notes, mortarNote("default-waste", "waste", figure(adhesive.DefaultWaste)))
	}
	if q.CartridgeML == nil {
		notes = append(notes, mortarNote("default-cartridge", "ml", strconv.Itoa(adhesive.DefaultCartridgeML)))
	}
	if q.PurgeML == nil {
		notes = append(notes, mortarNote("default-purge", "ml", strconv.Itoa(adhesive.DefaultPurgeML)))
	}
	if mixed {
		notes = append(notes, mortarNote("mixed-sizes"))
	}
	return notes
}

// drawBatches puts the product's batches in the order of their use.
func (s *Service) drawBatches(ctx context.Context, who registry.Actor, product uuid.UUID, asOf calendar.Date, out *report.Mortar) error {
	shelf, err := s.shelf(ctx, who, product)
	if err != nil {
		return err
	}
	stock := make([]adhesive.Stock, len(shelf))
	for i, b := range shelf {
		stock[i] = adhesive.Stock{ExpiresOn: b.ExpiresOn, ReceivedOn: b.ReceivedOn, OnHand: b.OnHand}
	}
	drawn := adhesive.DrawFrom(stock, out.Cartridges, asOf)
	var undated, uncounted bool
	for _, d := range drawn.Order {
		b := shelf[d.Index]
		out.Batches = append(out.Batches, report.MortarBatch{Batch: b, Take: d.Take, Expiry: b.Expiry(asOf)})
		undated, uncounted = undated || b.ExpiresOn.IsZero(), uncounted || b.OnHand == nil
	}
	for _, i := range drawn.Expired {
		out.Expired = append(out.Expired, shelf[i])
	}
	out.Short = drawn.Short
	out.Notes = append(out.Notes, drawNotes(drawn, undated, uncounted)...)
	return nil
}

func drawNotes(d adhesive.Drawing, undated, uncounted bool) []report.MortarNote {
	var notes []report.MortarNote
	if d.Short > 0 {
		notes = append(notes, mortarNote("short", "short", strconv.Itoa(d.Short)))
	}
	if uncounted {
		notes = append(notes, mortarNote("count-not-known"))
	}
	if undated {
		notes = append(notes, mortarNote("expiry-not-known"))
	}
	if len(d.Expired) > 0 {
		notes = append(notes, mortarNote("expired", "batches", strconv.Itoa(len(d.Expired))))
	}
	return notes
}

// shelf lists the batches of a product that may still lie on the shelf.
func (s *Service) shelf(ctx context.Context, who registry.Actor, product uuid.UUID) ([]registry.Batch, error) {
	var shelf []registry.Batch
	page := registry.Page{Limit: maxPage}
	for {
		found, err := s.store.Batches(ctx, who.GroupID, &product, page)
		if err != nil {
			return nil, err
		}
		for _, b := range found {
			if b.Shelved() {
				shelf = append(shelf, b)
			}
		}
		if len(found) < page.Limit {
			return shelf, nil
		}
		page.After = found[len(found)-1].ID
	}
}

// mortarNote is a note with alternating names and values.
func mortarNote(code string, kv ...string) report.MortarNote {
	n := report.MortarNote{Code: code}
	for i := 0; i+1 < len(kv); i += 2 {
		n.Values = append(n.Values, registry.Value{Name: kv[i], Text: kv[i+1]})
	}
	return n
}

package web

import (
	"context"
	"slices"
	"strconv"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// productPage is one product with its sheets, the newest first, and batches.
type productPage struct {
	Frame    frame
	Notice   string
	Name     string
	Shipped  bool
	Details  []detail
	Sheets   []sheetPart
	Batches  []batchLine
	AddSheet string // link; empty: not allowed, or a generic entry
	Adhesive bool
}

// sheetPart is one sheet as a page shows it.
type sheetPart struct {
	ID, Heading string
	Details     []detail
	Rows        []cureRowLine
	Notes       []string
}

// cureRowLine is one row of a cure table.
type cureRowLine struct{ Rock, Work, Cure, Wet string }

func (p *Pages) product(c echo.Context) error {
	who, err := actorOf(c)
	if err != nil {
		return err
	}
	id, err := idOf(c)
	if err != nil {
		return err
	}
	ctx := c.Request().Context()
	x, err := p.service.Product(ctx, who, id)
	if err != nil {
		return err
	}
	page := productPage{
		Frame: p.framed(c, x.Name), Notice: notice(c), Name: x.Name, Shipped: x.Shipped,
		Details: productDetails(x), Adhesive: x.Kind == registry.Adhesive,
	}
	if err := p.fillProduct(ctx, who, x, &page); err != nil {
		return err
	}
	if allowed(c, app.AddProductVersion) && !x.Shipped {
		page.AddSheet = productHref(page.Frame.Base, id) + "/sheet"
	}
	return ok(c, productView(page))
}

// fillProduct reads a product's sheets and batches.
func (p *Pages) fillProduct(ctx context.Context, who registry.Actor, x registry.Product, page *productPage) error {
	sheets, err := p.service.ProductVersions(ctx, who, x.ID)
	if err != nil {
		return err
	}
	for _, v := range slices.Backward(sheets) {
		page.Sheets = append(page.Sheets, newSheetPart(x, v))
	}
	batches, err := p.batches(ctx, who, &x.ID)
	names := map[uuid.UUID]string{x.ID: x.Name}
	for _, b := range batches {
		page.Batches = append(page.Batches, newBatchLine(page.Frame.Base, b, names, p.service.AsOf(who)))
	}
	return err
}

func productDetails(x registry.Product) []detail {
	var d details
	d.add("Kind", wording.Label(x.Kind))
	d.add("Maker", x.Maker)
	if x.Kind == registry.Hardware {
		d.add("Form", wording.Label(x.Form))
		d.add("Metal", wording.Metal(x.Metal, ""))
	} else {
		d.add("Chemistry", x.Chemistry)
	}
	d.add("Notes", x.Notes)
	if !x.EndedOn.IsZero() {
		d.add("Out of the catalogue since", x.EndedOn.Words())
	}
	return d
}

func newSheetPart(x registry.Product, v registry.ProductVersion) sheetPart {
	part := sheetPart{ID: v.ID.String(), Heading: "Sheet from " + v.From.Words() + " on: " + v.Source, Details: sheetDetails(v)}
	for _, r := range v.CureRows {
		part.Rows = append(part.Rows, newCureRowLine(r))
	}
	for _, n := range app.SheetNotes(x, v) {
		part.Notes = append(part.Notes, wording.SheetNote(n.Code, n.Values, n.Source))
	}
	return part
}

func newCureRowLine(r registry.CureRow) cureRowLine {
	line := cureRowLine{
		Rock: wording.Span(r.FromC.Celsius(), r.ToC.Celsius()) + " °C",
		Work: wording.SheetMinutes(r.WorkMinutes), Cure: wording.SheetMinutes(r.CureMinutes), Wet: "not given",
	}
	if r.CureWetMinutes != nil {
		line.Wet = wording.SheetMinutes(*r.CureWetMinutes)
	}
	return line
}

// sheetDetails are the figures that a sheet gives, cure rows apart.
func sheetDetails(v registry.ProductVersion) []detail {
	var d details
	measure(&d, "hole_diameter_mm", v.Hole, "mm")
	measure(&d, "shank_diameter_mm", v.Shank, "mm")
	measure(&d, "overall_length_mm", v.Length, "mm")
	measure(&d, "embedded_length_mm", v.Embedded, "mm")
	measure(&d, "steel_area_mm2", v.SteelAreaMM2, "mm²")
	measure(&d, "edge_least_mm", v.EdgeLeast, "mm")
	measure(&d, "spacing_least_mm", v.SpacingLeast, "mm")
	measure(&d, "torque_nm", v.TorqueNM, "N m")
	measure(&d, "rated_axial_kn", v.AxialKN, "kN")
	measure(&d, "rated_radial_kn", v.RadialKN, "kN")
	d.add(fieldLabel("drawing"), v.Drawing)
	d.add("Rock", between(v.RockLowC, v.RockHighC))
	d.add("Cartridge", between(v.CartridgeLowC, v.CartridgeHighC))
	moistures := make([]string, len(v.Moistures))
	for i, m := range v.Moistures {
		moistures[i] = strings.ToLower(wording.Label(m))
	}
	d.add("Hole may be", strings.Join(moistures, ", "))
	measure(&d, "wet_factor", v.WetFactor, "times")
	countOf(&d, "cleaning_cycles", v.CleaningCycles, "")
	measure(&d, "cartridge_ml", v.CartridgeML, "mL")
	countOf(&d, "shelf_months", v.ShelfMonths, " months")
	d.add(fieldLabel("words"), v.Words)
	return d
}

func measure[T ~float64](d *details, field string, v *T, unit string) {
	if v != nil {
		d.add(fieldLabel(field), decimal(float64(*v))+" "+unit)
	}
}

func countOf(d *details, field string, n *int, unit string) {
	if n != nil {
		d.add(fieldLabel(field), strconv.Itoa(*n)+unit)
	}
}

// between says two temperatures, either of which may be left open.
func between(low, high *quantity.Temperature) string {
	switch {
	case low != nil && high != nil:
		return wording.Span(low.Celsius(), high.Celsius()) + " °C"
	case low != nil:
		return "from " + decimal(low.Celsius()) + " °C on"
	case high != nil:
		return "up to " + decimal(high.Celsius()) + " °C"
	}
	return ""
}

func decimal(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

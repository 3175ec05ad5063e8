package web

import (
	"net/http"
	"strings"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/exchange"
	"rockledger/internal/fault"
	"rockledger/internal/metal"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// stockFormPage is a form for a product, a sheet or a batch.
type stockFormPage struct {
	*form
	Frame    frame
	Trail    []detail
	Action   string
	Adhesive bool     // a sheet is of an adhesive
	Products []option // for a batch
}

// mayAdd returns who asks, or fault.Forbidden.
func mayAdd(c echo.Context, op app.Operation) (registry.Actor, error) {
	who, err := actorOf(c)
	if err == nil && !allowed(c, op) {
		err = notAllowed(c, op)
	}
	return who, err
}

// blankForm is a form under a new id, with some fields filled in.
func blankForm(filled ...string) (*form, error) {
	id, err := newID()
	return newForm(append(filled, "id", id)...), err
}

func (p *Pages) productForm(c echo.Context) error {
	if _, err := mayAdd(c, app.AddProduct); err != nil {
		return err
	}
	f, err := blankForm("kind", string(registry.Adhesive))
	if err != nil {
		return err
	}
	return ok(c, productFormView(p.stockForm(c, f, "Add a product", "/stock/products")))
}

func (p *Pages) stockForm(c echo.Context, f *form, title, path string) stockFormPage {
	page := stockFormPage{form: f, Frame: p.framed(c, title), Action: p.base(c) + path}
	page.Trail = []detail{{title, ""}}
	return page
}

func (p *Pages) enterProduct(c echo.Context) error {
	who, err := mayAdd(c, app.AddProduct)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	x := registry.Product{
		ID: f.id("id"), Kind: registry.ProductKind(f.text("kind")), Name: f.text("name"), Maker: f.text("maker"),
		Form: registry.Form(f.text("form")), Metal: f.metal("metal"), Chemistry: f.text("chemistry"), Notes: f.text("notes"),
	}
	f.checks.Nest("", x.Validate())
	if err = f.checks.Err(); err == nil {
		x, _, err = p.service.AddProduct(c.Request().Context(), who, x)
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return render(c, f.status(), productFormView(p.stockForm(c, f, "Add a product", "/stock/products")))
	}
	return c.Redirect(http.StatusSeeOther, productHref(p.base(c), x.ID)+"?done=product")
}

// metal reads grades as people write them; none typed is not known.
func (f *form) metal(name string) metal.Set {
	if f.text(name) == "" {
		return nil
	}
	set, err := metal.Parse(f.text(name))
	f.checks.Nest(name, err)
	return set
}

// sheetProduct returns who asks and the product in the path.
func (p *Pages) sheetProduct(c echo.Context) (registry.Actor, registry.Product, error) {
	who, id, err := p.recording(c, app.AddProductVersion)
	if err != nil {
		return who, registry.Product{}, err
	}
	x, err := p.service.Product(c.Request().Context(), who, id)
	return who, x, err
}

func (p *Pages) sheetFormPage(c echo.Context, f *form, x registry.Product) stockFormPage {
	page := p.stockForm(c, f, "Add a sheet of "+x.Name, "/products/"+x.ID.String()+"/sheet")
	page.Trail = []detail{{x.Name, productHref(page.Frame.Base, x.ID)}, {"Sheet", ""}}
	page.Adhesive = x.Kind == registry.Adhesive
	return page
}

func (p *Pages) sheetForm(c echo.Context) error {
	who, x, err := p.sheetProduct(c)
	if err != nil {
		return err
	}
	f, err := blankForm("from", p.service.AsOf(who).String())
	if err != nil {
		return err
	}
	return ok(c, sheetFormView(p.sheetFormPage(c, f, x)))
}

func (p *Pages) enterSheet(c echo.Context) error {
	who, x, err := p.sheetProduct(c)
	if err != nil {
		return err
	}
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	v := readSheet(f, x)
	f.checks.Nest("", underCureRows(v.Validate()))
	if err = f.checks.Err(); err == nil {
		_, _, err = p.service.AddProductVersion(c.Request().Context(), who, v)
	}
	switch bad, err := f.reject(underCureRows(err)); {
	case err != nil:
		return err
	case bad:
		return render(c, f.status(), sheetFormView(p.sheetFormPage(c, f, x)))
	}
	return c.Redirect(http.StatusSeeOther, productHref(p.base(c), x.ID)+"?done=sheet")
}

// readSheet reads the form for a sheet of a product.
func readSheet(f *form, x registry.Product) registry.ProductVersion {
	v := registry.ProductVersion{
		ID: f.id("id"), ProductID: x.ID, From: f.date("from"), Source: f.text("source"), Words: f.text("words"),
	}
	if x.Kind == registry.Hardware {
		v.Hole, v.Shank, v.Length, v.Embedded = f.length("hole_diameter_mm"), f.length("shank_diameter_mm"), f.length("overall_length_mm"), f.length("embedded_length_mm")
		v.EdgeLeast, v.SpacingLeast = f.length("edge_least_mm"), f.length("spacing_least_mm")
		v.AxialKN, v.RadialKN = figureOf[quantity.Force](f, "rated_axial_kn"), figureOf[quantity.Force](f, "rated_radial_kn")
		v.SteelAreaMM2, v.TorqueNM, v.Drawing = f.number("steel_area_mm2"), f.number("torque_nm"), f.text("drawing")
		return v
	}
	rows, err := exchange.ParseCureRows(f.Values.Get("cure_rows"))
	f.checks.Nest("", err)
	v.CureRows, v.WetFactor, v.CartridgeML = rows, f.number("wet_factor"), f.number("cartridge_ml")
	v.RockLowC, v.RockHighC = figureOf[quantity.Temperature](f, "rock_low_c"), figureOf[quantity.Temperature](f, "rock_high_c")
	v.CartridgeLowC, v.CartridgeHighC = figureOf[quantity.Temperature](f, "cartridge_low_c"), figureOf[quantity.Temperature](f, "cartridge_high_c")
	v.CleaningCycles, v.ShelfMonths = f.whole("cleaning_cycles"), f.whole("shelf_months")
	for _, m := range f.Values["moistures"] {
		v.Moistures = append(v.Moistures, registry.Moisture(m))
	}
	return v
}

// figureOf reads a number as a quantity in the unit of its field.
func figureOf[T ~float64](f *form, name string) *T {
	v := f.number(name)
	if v == nil {
		return nil
	}
	q := T(*v)
	return &q
}

// underCureRows moves what is wrong with one row of a cure table to the field
// in which all are typed.
func underCureRows(err error) error {
	e, known := fault.As(err)
	if !known || e.Kind != fault.Invalid {
		return err
	}
	var c fault.Checks
	for _, v := range e.Violations {
		if strings.HasPrefix(v.Field, "cure_rows[") {
			v.Field = "cure_rows"
		}
		c.Add(v)
	}
	return c.Err()
}

func productOptions(list []registry.Product) []option {
	options := []option{{Text: "Not known"}}
	for _, x := range list {
		if x.EndedOn.IsZero() {
			options = append(options, option{Value: x.ID.String(), Text: x.Name})
		}
	}
	return options
}

// orNil is nil for no id.
func orNil(id uuid.UUID) *uuid.UUID {
	if id == uuid.Nil {
		return nil
	}
	return &id
}

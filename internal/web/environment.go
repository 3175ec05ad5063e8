package web

import (
	"cmp"
	"context"
	"net/http"
	"slices"
	"strconv"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// environmentPage is the form for the environment of a place.
type environmentPage struct {
	*form
	Frame      frame
	Trail      []detail
	Action     string
	Preset     string // link that fills the form in; empty: no preset
	PresetName string
	Notice     string
}

// spot is a place as the form for its environment needs it.
type spot struct {
	place registry.Place
	name  string
	site  registry.Site
}

// environmentOf answers the form for the environment of a place of one kind.
func (p *Pages) environmentOf(kind registry.PlaceKind) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, at, err := p.environmentSpot(c, kind)
		if err != nil {
			return err
		}
		before, err := p.statedAt(c.Request().Context(), who, at)
		if err != nil {
			return err
		}
		id, err := newID()
		if err != nil {
			return err
		}
		f := environmentFilled(before, p.service.AsOf(who))
		f.Values.Set("id", id)
		page := p.newEnvironmentPage(c, f, at)
		if c.QueryParam("preset") != "" {
			fillPreset(f, registry.Preset(at.site.Kind))
			page.Notice = wording.PresetFilled
		}
		return ok(c, environmentView(page))
	}
}

// enterEnvironment enters the environment of a place of one kind.
func (p *Pages) enterEnvironment(kind registry.PlaceKind) echo.HandlerFunc {
	return func(c echo.Context) error {
		who, at, err := p.environmentSpot(c, kind)
		if err != nil {
			return err
		}
		f, err := postedForm(c)
		if err != nil {
			return err
		}
		switch bad, err := f.reject(p.keepEnvironment(c.Request().Context(), who, f, at)); {
		case err != nil:
			return err
		case bad:
			return render(c, f.status(), environmentView(p.newEnvironmentPage(c, f, at)))
		}
		return c.Redirect(http.StatusSeeOther, placeHref(p.base(c), at.place)+"?done=environment")
	}
}

// environmentSpot returns who asks and the place in the path.
func (p *Pages) environmentSpot(c echo.Context, kind registry.PlaceKind) (registry.Actor, spot, error) {
	who, id, err := p.recording(c, app.AddEnvironment)
	if err != nil {
		return who, spot{}, err
	}
	ctx, at := c.Request().Context(), spot{place: registry.Place{Kind: kind, ID: id}}
	site := id
	switch kind {
	case registry.AtSector:
		s, err := p.service.Sector(ctx, who, id)
		if err != nil {
			return who, at, err
		}
		at.name, site = s.Name, s.SiteID
	case registry.AtRoute:
		r, err := p.service.Route(ctx, who, id)
		if err != nil {
			return who, at, err
		}
		at.name, site = r.Name, r.SiteID
	case registry.AtPosition:
		pos, err := p.service.Position(ctx, who, id)
		if err != nil {
			return who, at, err
		}
		at.name, site = pos.Label, pos.SiteID
	}
	at.site, err = p.service.Site(ctx, who, site)
	at.name = cmp.Or(at.name, at.site.Name)
	return who, at, err
}

// statedAt is the statement about a place that began last, the zero value if
// there is none.
func (p *Pages) statedAt(ctx context.Context, who registry.Actor, at spot) (registry.Environment, error) {
	all, err := everything(func(page registry.Page) ([]registry.Environment, error) {
		return p.service.Environments(ctx, who, &at.site.ID, page)
	}, func(e registry.Environment) uuid.UUID { return e.ID })
	var last registry.Environment
	for _, e := range all {
		if e.Place == at.place && e.From >= last.From {
			last = e
		}
	}
	return last, err
}

func (p *Pages) newEnvironmentPage(c echo.Context, f *form, at spot) environmentPage {
	page := environmentPage{
		form: f, Frame: p.framed(c, "Environment of "+at.name), Action: placeHref(p.base(c), at.place) + "/environment",
	}
	page.Trail = []detail{{at.site.Name, siteHref(page.Frame.Base, at.site.ID)}}
	if at.place.Kind != registry.AtSite {
		page.Trail = append(page.Trail, detail{at.name, placeHref(page.Frame.Base, at.place)})
	}
	page.Trail = append(page.Trail, detail{"Environment", ""})
	if preset := registry.Preset(at.site.Kind); preset.Preset != "" {
		page.Preset, page.PresetName = page.Action+"?preset="+preset.Preset, wording.Label(preset.Preset)
	}
	return page
}

// keepEnvironment enters what was typed. A statement that begins no later than
// the one before corrects it; a later one ends that on the day before.
func (p *Pages) keepEnvironment(ctx context.Context, who registry.Actor, f *form, at spot) error {
	e := readEnvironment(f, at)
	f.checks.Nest("", e.Validate())
	f.checks.Require(len(registry.ExplainEnvironment([]registry.Environment{e}, e.From)) > 0, "", fault.Blank)
	if err := f.checks.Err(); err != nil {
		return err
	}
	before := f.id("before_id")
	if before == uuid.Nil {
		_, _, err := p.service.AddEnvironment(ctx, who, e)
		return err
	}
	version, err := strconv.Atoi(f.text("before_version"))
	if err != nil {
		return fault.New(fault.Stale, "no version of environment %v", before)
	}
	later := false
	_, err = p.service.ChangeEnvironment(ctx, who, before, version, func(stored *registry.Environment) error {
		if later = e.From > stored.From; !later {
			correct(stored, e)
		} else if stored.Until.IsZero() || stored.Until >= e.From {
			stored.Until = e.From.AddDays(-1)
		}
		return nil
	})
	if err != nil || !later {
		return err
	}
	_, _, err = p.service.AddEnvironment(ctx, who, e)
	return err
}

// correct puts what e says in place of what is stored, which keeps its id,
// version and place.
func correct(stored *registry.Environment, e registry.Environment) {
	e.ID, e.Version, e.SiteID, e.Place = stored.ID, stored.Version, stored.SiteID, stored.Place
	*stored = e
}

// readEnvironment reads the form.
func readEnvironment(f *form, at spot) registry.Environment {
	return registry.Environment{
		ID: f.id("id"), SiteID: at.site.ID, Place: at.place,
		From: f.date("from"), Until: f.date("until"), Preset: f.text("preset"), Source: f.text("source"),
		TemperatureC: f.number("temperature_c"), HumidityPct: f.number("humidity_pct"),
		SulphurDioxide: f.number("sulphur_dioxide_mg_per_m2_day"), Chloride: f.number("chloride_mg_per_m2_day"),
		SteelCategory: category(f, "steel_category"), ZincCategory: category(f, "zinc_category"),
		CopperCategory: category(f, "copper_category"), AluminiumCategory: category(f, "aluminium_category"),
		SeaKm: f.number("sea_km"), RoadKm: f.number("road_km"), Coast: registry.Coast(f.text("coast")),
		MineralSalts: f.flag("mineral_salts"), Wetness: registry.Wetness(f.text("wetness")),
		Washed: f.flag("washed"), SurfaceMaxC: f.number("surface_max_c"),
	}
}

func category(f *form, name string) registry.Category { return registry.Category(f.text(name)) }

// environmentFilled is a form filled with a statement, or for a first one from
// today on.
func environmentFilled(e registry.Environment, today calendar.Date) *form {
	f := newForm()
	fillEnvironment(f, e)
	if e.ID == uuid.Nil {
		f.Values.Set("from", today.String())
		return f
	}
	f.Values.Set("before_id", e.ID.String())
	f.Values.Set("before_version", strconv.Itoa(e.Version))
	f.Values.Set("from", e.From.String())
	f.Values.Set("until", e.Until.String())
	f.Values.Set("source", e.Source)
	f.Values.Set("preset", e.Preset)
	return f
}

// fillEnvironment fills in every value that a statement gives.
func fillEnvironment(f *form, e registry.Environment) {
	e.From, e.Until = 1, 0
	for _, v := range registry.ExplainEnvironment([]registry.Environment{e}, 1) {
		text := v.Value
		if slices.Contains([]string{"true", "false"}, text) {
			text = map[string]string{"true": "yes", "false": "no"}[text]
		}
		f.Values.Set(v.Field, text)
	}
}

// fillPreset fills in the values of a preset and where they come from.
func fillPreset(f *form, e registry.Environment) {
	fillEnvironment(f, e)
	f.Values.Set("preset", e.Preset)
	f.Values.Set("source", e.Source)
}

// categoryOptions are the corrosivity categories as choices.
func categoryOptions() []option {
	options := []option{{Text: "Not known"}}
	for _, cat := range registry.Categories() {
		options = append(options, option{Value: string(cat), Text: wording.Category(cat)})
	}
	return options
}

package web

import (
	"net/http"
	"strconv"
	"time"

	"github.com/google/uuid"
	"github.com/labstack/echo/v4"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// settingField is the name that a field of one installation has in its form.
func settingField(name string) string { return "setting." + name }

// settingPage is the form with which the record of how an anchor was set is
// corrected: its fields as they were recorded.
type settingPage struct {
	*form
	Frame   frame
	Trail   []detail
	Action  string
	Listed  bool   // it came from a list
	Of      string // the record that is corrected, in words
	Persons []option
	Choices cardChoices
}

// settingForm answers how an anchor was set, as it was recorded.
func (p *Pages) settingForm(c echo.Context) error {
	f, err := blankForm()
	if err != nil {
		return err
	}
	who, story, was, err := p.settingStory(c, f)
	if err != nil {
		return err
	}
	f.Values.Set("replaces", was.ID.String())
	fillSetting(f, was, p.service.AsOf(who), zoneOf(who))
	return p.showSetting(c, who, f, story, was)
}

// correctSetting records an installation that replaces another.
func (p *Pages) correctSetting(c echo.Context) error {
	f, err := postedForm(c)
	if err != nil {
		return err
	}
	who, story, was, err := p.settingStory(c, f)
	if err != nil {
		return err
	}
	i := readSetting(f, was, p.service.AsOf(who), zoneOf(who))
	if err = f.checks.Err(); err == nil {
		_, _, err = p.service.RecordInstallation(c.Request().Context(), who, i)
		err = inSettingForm(err)
	}
	here := anchorHref(p.base(c), story.Facts.Anchor.ID)
	if fault.KindOf(err) == fault.Conflict {
		return c.Redirect(http.StatusSeeOther, here+"?done=setting-before")
	}
	switch bad, err := f.reject(err); {
	case err != nil:
		return err
	case bad:
		return p.showSetting(c, who, f, story, was)
	}
	return c.Redirect(http.StatusSeeOther, here+"?done=setting-corrected")
}

// settingStory returns who asks, the anchor in the path and the installation
// that the form corrects, or that a new form would: the one that says how the
// anchor was set. It is fault.NotFound if there is none.
func (p *Pages) settingStory(c echo.Context, f *form) (registry.Actor, registry.AnchorStory, *registry.Installation, error) {
	var story registry.AnchorStory
	who, id, err := p.recording(c, app.RecordInstallation)
	if err != nil {
		return who, story, nil, err
	}
	if story, err = p.service.AnchorStory(c.Request().Context(), who, id); err != nil {
		return who, story, nil, err
	}
	was := story.Facts.Setting()
	for k := range story.Facts.Installations {
		if i := &story.Facts.Installations[k]; i.ID == f.id("replaces") {
			was = i
		}
	}
	if was == nil {
		err = fault.New(fault.NotFound, "anchor %v has no installation on record", id)
	}
	return who, story, was, err
}

func (p *Pages) showSetting(c echo.Context, who registry.Actor, f *form, story registry.AnchorStory, was *registry.Installation) error {
	choices, err := p.cardChoices(c, who)
	if err != nil {
		return err
	}
	persons, err := p.persons(c, who)
	if err != nil {
		return err
	}
	choices.keep(f, story)
	choices.AsAnchor = asAnchor(story)
	page := settingPage{form: f, Frame: p.framed(c, "Correct how it was set"), Choices: choices}
	page.Of, page.Listed = wording.SettingOf(was), was.Origin == registry.Imported
	page.Persons = append([]option{{Text: "Not recorded here"}}, personOptions(persons)[1:]...)
	base := page.Frame.Base
	here := anchorHref(base, story.Facts.Anchor.ID)
	page.Action = here + "/setting"
	page.Trail = append(anchorTrail(base, story), detail{story.Facts.Position.Label, here}, detail{"Correct how it was set", ""})
	return render(c, f.status(), settingCorrectView(page))
}

// settingBox is a field of the form.
func (ch cardChoices) settingBox(field wording.CardField) cardBox {
	none := "Not recorded"
	switch field.Name {
	case "adhesive_id":
		field.Label, none = wording.SettingAdhesive, wording.AsItsSession
	case "batch_id":
		field.Label, none = wording.SettingBatch, wording.AsItsSession
	}
	if has := ch.AsAnchor[field.Name]; has != "" {
		none = wording.AsTheAnchor(has)
	}
	return cardBox{CardField: field, At: settingField(field.Name), Options: ch.options(field, option{Text: none})}
}

// keep offers what stands in the form but is offered for new work no more: a
// correction of one field must not lose another.
func (ch *cardChoices) keep(f *form, story registry.AnchorStory) {
	for field, list := range map[string]*[]option{"hardware_id": &ch.Hardware, "adhesive_id": &ch.Adhesives, "batch_id": &ch.Batches} {
		id := f.id(settingField(field))
		if id == uuid.Nil || offers(*list, id.String()) {
			continue
		}
		name := wording.ProductName(story.Products[id])
		if field == "batch_id" {
			name = story.Batches[id].Text
		}
		*list = append(*list, option{Value: id.String(), Text: name})
	}
}

// asAnchor is what stands on an anchor's page and not in the record of its
// setting, unless that says otherwise.
func asAnchor(story registry.AnchorStory) map[string]string {
	a, has := &story.Facts.Anchor, make(map[string]string)
	if a.Form != "" {
		has["form"] = wording.Label(a.Form)
	}
	if a.ProductID != nil {
		has["hardware_id"] = wording.ProductName(story.Products[*a.ProductID])
	}
	return has
}

func offers(list []option, value string) bool {
	for _, o := range list {
		if o.Value == value {
			return true
		}
	}
	return false
}

// fillSetting fills a form with an installation as it was recorded.
func fillSetting(f *form, i *registry.Installation, asOf calendar.Date, zone *time.Location) {
	set := func(name, text string) { f.Values.Set(settingField(name), text) }
	set("done_on", i.DoneOn.Text(asOf))
	for name, v := range map[string]*uuid.UUID{"person_id": i.PersonID, "hardware_id": i.HardwareID, "adhesive_id": i.AdhesiveID, "batch_id": i.BatchID} {
		if v != nil {
			set(name, v.String())
		}
	}
	for name, text := range map[string]string{
		"form": string(i.Form), "moisture": string(i.Moisture), "set_at": clockText(i.SetAt, zone), "rock": string(i.Rock),
		"rock_words": i.RockWords, "rock_sound": string(i.RockSound), "hole": string(i.Hole), "torque_tool": i.TorqueTool, "words": i.Words,
	} {
		set(name, text)
	}
	for name, v := range map[string]*quantity.Length{
		"hole_diameter_mm": i.HoleDiameter, "hole_depth_mm": i.HoleDepth, "edge_distance_mm": i.EdgeDistance,
		"neighbour_distance_mm": i.NeighbourDistance, "embedded_length_mm": i.Embedded, "old_hole_distance_mm": i.OldHoleDistance,
	} {
		if v != nil {
			set(name, plainNumber(v.Millimetres()))
		}
	}
	for name, v := range map[string]*float64{"angle_deg": i.AngleDeg, "fill_pct": i.FillPct, "torque_nm": i.TorqueNM} {
		if v != nil {
			set(name, plainNumber(*v))
		}
	}
	for name, v := range map[string]*bool{
		"cracks_seen": i.CracksSeen, "recess_cut": i.RecessCut, "dry_fit": i.DryFit, "from_bottom": i.FromBottom, "turned": i.Turned,
		"as_drawn": i.AsDrawn, "surplus_wiped": i.SurplusWiped,
	} {
		if v != nil {
			set(name, yesNo(v))
		}
	}
	if i.CleaningCycles != nil {
		set("cleaning_cycles", strconv.Itoa(*i.CleaningCycles))
	}
}

// readSetting reads the form into a record that replaces another. A day and a
// time that were left as they stood are what they were.
func readSetting(f *form, was *registry.Installation, asOf calendar.Date, zone *time.Location) registry.Installation {
	stood := newForm()
	fillSetting(stood, was, asOf, zone)
	left := func(name string) bool { return f.text(settingField(name)) == stood.text(settingField(name)) }
	day := was.DoneOn
	if !left("done_on") {
		day = f.span(settingField("done_on"), asOf)
	}
	r := &gluingReader{form: f, zone: zone}
	asItStood := left("set_at") && left("done_on")
	if day.Exact() {
		r.day = day.From
	}
	timed := f.text(settingField("set_at")) != "" && !asItStood
	f.checks.Require(!timed || day.Exact() || !day.Known(), settingField("done_on"), fault.Required)
	i := r.setting(settingField)
	if asItStood {
		i.SetAt = was.SetAt
	}
	i.Record = registry.Record{
		ID: f.id("id"), AnchorID: was.AnchorID, DoneOn: day, PersonID: f.ref(settingField("person_id")),
		Words: f.text(settingField("words")), Replaces: &was.ID,
	}
	i.SessionID = was.SessionID
	return i
}

// inSettingForm gives the violations of an installation the names that their
// fields have in the form.
func inSettingForm(err error) error {
	e, known := fault.As(err)
	if !known || e.Kind != fault.Invalid || len(e.Violations) == 0 {
		return err
	}
	var c fault.Checks
	for _, v := range e.Violations {
		switch v.Field {
		case "replaces", "session_id", "anchor_id", "id":
			v.Field = ""
		default:
			v.Field = settingField(v.Field)
		}
		c.Add(v)
	}
	return c.Err()
}

func plainNumber(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

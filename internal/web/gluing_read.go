package web

import (
	"fmt"
	"strings"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/wording"
)

// lineField is the name that a field of the nth line, from 0, has in the form.
func lineField(n int, name string) string { return fmt.Sprintf("installations[%d].%s", n, name) }

// allField is the name of a field of the row that goes for all lines.
func allField(name string) string { return "all." + name }

// forAll says whether a field of the short line can be given for all lines at
// once. The time cannot: each anchor has its own.
func forAll(name string) bool {
	for _, f := range wording.LineFields() {
		if f.Name == name {
			return f.Kind != wording.CardTime
		}
	}
	return false
}

// gluingReader turns what was typed into a gluing session. Lines with nothing
// of their own are left out.
type gluingReader struct {
	*form
	zone  *time.Location
	day   calendar.Date
	lines []int // the line of each installation
	news  []int // the line of each new anchor
}

// read reads the whole form, of so many lines.
func (r *gluingReader) read(lines int) registry.Gluing {
	r.day = r.date("done_on")
	g := registry.Gluing{Session: r.session(), BatchText: r.text("batch_id")}
	taken := make(map[string]bool)
	for n := range lines {
		if !r.filled(n) {
			continue
		}
		where := r.text(lineField(n, "position_id"))
		r.checks.Require(where != "", lineField(n, "position_id"), fault.Required)
		r.checks.Require(where == "" || !taken[where], lineField(n, "position_id"), fault.Duplicate)
		taken[where] = true
		i := r.installation(n)
		if a, isNew := r.newAnchor(n, &i); isNew {
			g.Anchors = append(g.Anchors, a)
			r.news = append(r.news, n)
		}
		g.Installations = append(g.Installations, i)
		r.lines = append(r.lines, n)
	}
	r.checks.Require(len(g.Installations) > 0, "", fault.Required, "what", "installations")
	return g
}

func (r *gluingReader) session() registry.GluingSession {
	return registry.GluingSession{
		ID: r.id("id"), SiteID: r.id("site_id"), DoneOn: calendar.Exactly(r.day), Origin: registry.Recorded,
		AdhesiveID: r.ref("adhesive_id"), ExpiresOn: r.date("expires_on"), Cartridge: r.text("cartridge"),
		NozzleNew: r.flag("nozzle_new"), OpenedAt: r.moment("opened_at"), FirstMixDiscarded: r.flag("first_mix_discarded"),
		RockC: r.reading("rock_c"), AirC: r.reading("air_c"), CartridgeC: r.reading("cartridge_c"), NightC: r.reading("night_c"),
		SetByID: r.ref("set_by_id"), SupervisedByID: r.ref("supervised_by_id"), CheckedByID: r.ref("checked_by_id"),
		MethodStatement: r.text("method_statement"), SampleKept: r.flag("sample_kept"), SampleWhere: r.text("sample_where"),
		SampleAtRock: r.flag("sample_at_rock"), Words: r.text("words"),
	}
}

// filled says whether a line says anything of its own beside its position.
func (r *gluingReader) filled(n int) bool {
	if r.text(lineField(n, "set")) != "" {
		return true
	}
	for _, f := range append(wording.LineFields(), wording.MoreFields()...) {
		if r.text(lineField(n, f.Name)) != "" {
			return true
		}
	}
	return false
}

// installation reads the nth line, with what is given for all lines where it
// says nothing itself.
func (r *gluingReader) installation(n int) registry.Installation {
	session := r.id("id")
	l := &gluingReader{form: &form{Values: r.effective(n)}, zone: r.zone, day: r.day}
	f := func(name string) string { return lineField(n, name) }
	i := l.setting(f)
	i.Record = registry.Record{
		ID: l.id(f("id")), DoneOn: calendar.Exactly(r.day), Origin: registry.Recorded, Words: l.text(f("words")),
	}
	i.SessionID = &session
	r.checks.Nest("", r.inForm(l.checks.Err()))
	return i
}

// setting reads the fields of an anchor on the card, each under the name that f
// gives it in the form.
func (l *gluingReader) setting(f func(string) string) registry.Installation {
	return registry.Installation{
		Form: registry.Form(l.text(f("form"))), HardwareID: l.ref(f("hardware_id")),
		HoleDiameter: l.length(f("hole_diameter_mm")), HoleDepth: l.length(f("hole_depth_mm")),
		CleaningCycles: l.whole(f("cleaning_cycles")), Moisture: registry.Moisture(l.text(f("moisture"))), SetAt: l.moment(f("set_at")),
		AdhesiveID: l.ref(f("adhesive_id")), BatchID: l.ref(f("batch_id")),
		Rock: registry.RockClass(l.text(f("rock"))), RockWords: l.text(f("rock_words")), RockSound: registry.Sound(l.text(f("rock_sound"))),
		CracksSeen: l.flag(f("cracks_seen")), EdgeDistance: l.length(f("edge_distance_mm")),
		NeighbourDistance: l.length(f("neighbour_distance_mm")), AngleDeg: l.number(f("angle_deg")),
		Embedded: l.length(f("embedded_length_mm")), RecessCut: l.flag(f("recess_cut")), DryFit: l.flag(f("dry_fit")),
		FromBottom: l.flag(f("from_bottom")), FillPct: l.number(f("fill_pct")), Turned: l.flag(f("turned")),
		AsDrawn: l.flag(f("as_drawn")), SurplusWiped: l.flag(f("surplus_wiped")), Hole: registry.HoleState(l.text(f("hole"))),
		OldHoleDistance: l.length(f("old_hole_distance_mm")), TorqueNM: l.number(f("torque_nm")), TorqueTool: l.text(f("torque_tool")),
	}
}

// effective are the values of the form with the nth line's blanks filled from
// the row for all, and its dashes, which say "not recorded", taken out.
func (r *gluingReader) effective(n int) map[string][]string {
	values := make(map[string][]string, len(r.Values))
	for name, v := range r.Values {
		values[name] = v
	}
	for _, f := range wording.LineFields() {
		name := lineField(n, f.Name)
		switch text := r.text(name); {
		case text == "-" || text == "–":
			values[name] = nil
		case text == "" && forAll(f.Name):
			values[name] = r.Values[allField(f.Name)]
		}
	}
	return values
}

// newAnchor returns the anchor that is new where a line names a position; where
// it names the anchor that stands there, that anchor's id goes into i.
func (r *gluingReader) newAnchor(n int, i *registry.Installation) (registry.Anchor, bool) {
	where := r.text(lineField(n, "position_id"))
	if standing, ok := strings.CutPrefix(where, standingAnchor); ok {
		i.AnchorID, _ = uuid.Parse(standing)
		return registry.Anchor{}, false
	}
	i.AnchorID = r.id(lineField(n, "anchor_id"))
	return registry.Anchor{
		ID: i.AnchorID, SiteID: r.id("site_id"), PositionID: r.id(lineField(n, "position_id")),
		Form: i.Form, ProductID: i.HardwareID, SetOn: calendar.Exactly(r.day), Origin: registry.Recorded,
	}, true
}

// moment reads a time on the day of the form.
func (r *gluingReader) moment(name string) calendar.Moment { return r.momentOn(name, r.day, r.zone) }

package app_test

import (
	"encoding/json"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
	"rockledger/internal/report"
)

// replaceNumber returns house rules with another value of one number.
func replaceNumber(t *testing.T, text []byte, name string, value int) []byte {
	t.Helper()
	var tree map[string]any
	if err := json.Unmarshal(text, &tree); err != nil {
		t.Fatal(err)
	}
	tree[name].(map[string]any)["value"] = value
	out, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// estateList is invented; all of it stands on one landowner's land.
const estateList = `Crag,Route,Bolt,Type,Metal,Fitted,State,Landowner
Tarn Edge,Plum Line,B1,wedge anchor,1.4404,12/05/2016,ok,Invented Estate
Tarn Edge,Plum Line,B2,wedge anchor,1.4404,12/05/2016,spins,Invented Estate
Tarn Edge,Plum Line,B3,glue-in eye,1.4404,12/05/2016,ok,
`

func TestWork(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	h.enter(t, estateList)
	cracked := inspected(h.anchor(t, "B1").ID, firstDay, func(i *registry.Inspection) {
		i.Observations = []registry.Observation{registry.CrackedMetal}
	})
	if _, _, err := h.RecordInspection(t.Context(), h.who, cracked); err != nil {
		t.Fatal(err)
	}
	w, err := h.Work(t.Context(), h.as(registry.RoleReader), 0)
	if err != nil {
		t.Fatal(err)
	}
	if len(w.Items) != 2 || w.Items[0].Line.Place.Label != "B1" || w.Items[0].Do != registry.WorkReplace || w.Replace != 1 {
		t.Fatalf("work %+v, want B1 replaced first, then B2", w.Items)
	}
	if kit := w.Items[0].Bring; len(kit) == 0 || kit[0].Kind != registry.KitAnchor || !kit[0].MetalOpen {
		t.Errorf("bring %+v, want an anchor of a metal that is open while the sea's distance is not known", kit)
	}
	site := h.anchor(t, "B1").SiteID
	add(t, h, registry.Environment{Place: place(registry.AtSite, site), From: firstDay, SeaKm: of(80.0), RoadKm: of(5.0), Washed: of(true), SurfaceMaxC: of(30.0)}, h.AddEnvironment)
	w, err = h.Work(t.Context(), h.who, 0)
	if err != nil || !w.Items[0].Bring[0].Metal.Contains("1.4404") {
		t.Errorf("inland: bring %+v, %v; want 1.4404", w.Items[0].Bring, err)
	}
	past, err := h.Work(t.Context(), h.who, firstDay-1)
	if err != nil || len(past.Items) != 1 || past.Items[0].Line.Place.Label != "B2" {
		t.Errorf("yesterday: %+v, %v; want what the list said alone", past.Items, err)
	}
}

func TestLand(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, estateList)
	owners, err := h.Landowners(ctx, h.who, registry.Page{})
	if err != nil || len(owners) != 1 {
		t.Fatalf("landowners %+v, %v; want one", owners, err)
	}
	loose := inspected(h.anchor(t, "B2").ID, firstDay-2, func(i *registry.Inspection) { i.Observations = []registry.Observation{registry.LooseNut} })
	if _, _, err := h.RecordInspection(ctx, h.who, loose); err != nil {
		t.Fatal(err)
	}
	add(t, h, registry.Agreement{Kind: registry.Permission, Issuer: "Invented Estate", LandownerID: &owners[0].ID, From: firstDay - 400}, h.AddAgreement)
	add(t, h, registry.Agreement{Kind: registry.Permission, Issuer: "long ago", LandownerID: &owners[0].ID, From: firstDay - 900, Until: firstDay - 800}, h.AddAgreement)
	bar := add(t, h, registry.Restriction{
		Place: of(place(registry.AtSite, h.anchor(t, "B1").SiteID)), Kind: registry.NoClimbing, Why: "nesting", Weight: registry.ByAgreement,
		Yearly: &calendar.Window{FromMonth: 2, FromDay: 1, ToMonth: 6, ToDay: 30},
	}, h.AddRestriction)

	l, err := h.Land(ctx, h.as(registry.RoleReader), nil, 0, 0, false)
	if err != nil {
		t.Fatal(err)
	}
	if l.From != firstDay.AddYears(-1)+1 || l.To != firstDay || len(l.Owners) != 2 || l.Owners[1].ID != nil {
		t.Fatalf("land %+v, want a year, one landowner and land of nobody known", l)
	}
	estate := l.Owners[0]
	if estate.Name != "Invented Estate" || estate.Anchors != 2 || len(estate.Lines) != 0 {
		t.Errorf("estate %+v, want two anchors and no lines", estate)
	}
	if diff := cmp.Diff([]report.LandWork{{Kind: "inspection", Count: 1}}, estate.Work); diff != "" {
		t.Errorf("work (-want +got):\n%s", diff)
	}
	if len(estate.Agreements) != 1 || len(estate.Restrictions) != 1 || estate.Restrictions[0].ID != bar.ID {
		t.Errorf("agreements %+v, restrictions %+v; want one of each", estate.Agreements, estate.Restrictions)
	}
	var found *report.LandProblem
	for i := range estate.Problems {
		if p := &estate.Problems[i]; p.Rule == "loose-nut" {
			found = p
		}
		if p := estate.Problems[i]; p.Anchors != p.Removed+p.Cleared+p.Settled+p.OutOfUse+p.Inspected+p.Open {
			t.Errorf("problem %+v does not add up", p)
		}
	}
	if found == nil || found.Anchors != 1 || found.Inspected != 1 {
		t.Errorf("problems %+v, want the loose nut, inspected", estate.Problems)
	}

	one, err := h.Land(ctx, h.who, &owners[0].ID, firstDay-1, firstDay, true)
	if err != nil || len(one.Owners) != 1 || len(one.Owners[0].Work) != 0 || len(one.Owners[0].Lines) == 0 {
		t.Errorf("one landowner, two days, in detail: %+v, %v", one, err)
	}
	_, err = h.Land(ctx, h.who, nil, firstDay, firstDay-1, false)
	violated(t, "ends before it begins", err, "to", fault.Order)
}

// A due date within a restriction is told with the last open day before it,
// over new year too.
func TestRestrictionsBesideDueDates(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	h.enter(t, estateList)
	site := h.anchor(t, "B1").SiteID
	before, err := h.Overdue(ctx, h.who, 0)
	if err != nil || before.FirstRound != 2 {
		t.Fatalf("overdue %+v, %v; want two awaiting their first round, due on 20 November 2027", before, err)
	}
	winter := add(t, h, registry.Restriction{
		Place: of(place(registry.AtSite, site)), Kind: registry.NoEntry, Why: "bats", Weight: registry.ByLaw,
		Yearly: &calendar.Window{FromMonth: 11, FromDay: 1, ToMonth: 2, ToDay: 28},
	}, h.AddRestriction)
	add(t, h, registry.Restriction{
		Place: of(place(registry.AtSite, site)), Kind: registry.NoNoise, Why: "lambs", Weight: registry.ByRequest,
		From: firstDay, Until: firstDay.AddYears(9),
	}, h.AddRestriction)
	after, err := h.Overdue(ctx, h.who, 0)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range after.Lines {
		if len(line.Restrictions) != 1 || line.Restrictions[0].ID != winter.ID || line.LastOpenDay != calendar.NewDate(2027, 10, 31) {
			t.Errorf("%s, due on %v: restrictions %+v, last open day %v; want 31 October 2027",
				line.Place.Label, line.Assessment.DueOn, line.Restrictions, line.LastOpenDay)
		}
	}
}

func TestTodayTasks(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	ctx := t.Context()
	edge := add(t, h, registry.Site{Name: "Tarn Edge", Kind: registry.Crag}, h.AddSite)
	add(t, h, registry.Site{Name: "Moor Quarry", Kind: registry.Quarry}, h.AddSite)
	add(t, h, registry.Environment{Place: place(registry.AtSite, edge.ID), From: firstDay, Washed: of(true)}, h.AddEnvironment)
	add(t, h, registry.Restriction{
		Place: of(place(registry.AtSite, edge.ID)), Kind: registry.NoEntry, Why: "bats", Weight: registry.ByLaw,
		Yearly: &calendar.Window{FromMonth: 12, FromDay: 1, ToMonth: 2, ToDay: 28},
	}, h.AddRestriction)
	add(t, h, registry.Restriction{
		Place: of(place(registry.AtSite, edge.ID)), Kind: registry.NoClimbing, Why: "nesting", Weight: registry.ByLaw,
		Yearly: &calendar.Window{FromMonth: 2, FromDay: 1, ToMonth: 6, ToDay: 30},
	}, h.AddRestriction)
	today, err := h.Today(ctx, h.as(registry.RoleReader), 10)
	if err != nil {
		t.Fatal(err)
	}
	var tasks []string
	for _, k := range today.Tasks {
		tasks = append(tasks, k.Site.Name+": "+string(k.Kind))
	}
	if diff := cmp.Diff([]string{"Moor Quarry: no-environment", "Tarn Edge: sea-distance"}, tasks); diff != "" {
		t.Errorf("tasks (-want +got):\n%s", diff)
	}
	if len(today.Upcoming) != 1 || today.Upcoming[0].BeginsOn != calendar.NewDate(2026, 12, 1) || today.Upcoming[0].Where != "Tarn Edge" {
		t.Errorf("upcoming %+v, want the one that begins on 1 December", today.Upcoming)
	}
}

// Rates: issue of this project, item "corrosion": 10 degrees, 75 %, 5 and 3
// mg/(m2 day) give 21.8909 um of carbon steel, category C2.
func TestEstimateCorrosion(t *testing.T) {
	t.Parallel()
	h := newHouse(t)
	climate := report.Climate{TemperatureC: 10, HumidityPct: 75, SulphurDioxide: 5, Chloride: 3}
	e, err := h.EstimateCorrosion(h.as(registry.RoleReader), climate, of(20.0))
	if err != nil || len(e.Metals) != 4 {
		t.Fatalf("estimate %+v, %v", e, err)
	}
	steel := e.Metals[0]
	if steel.Name != "carbon_steel" || steel.RateUM < 21.89085 || steel.RateUM > 21.89095 || steel.Category != "C2" || steel.LossUM == nil {
		t.Errorf("steel %+v, want 21.8909 um in C2 with its loss", steel)
	}
	climate.HumidityPct = 101
	_, err = h.EstimateCorrosion(h.who, climate, nil)
	violated(t, "more than all the water", err, "humidity_pct", fault.OutOfRange)
	climate.HumidityPct, climate.TemperatureC = 75, 40
	if e, err = h.EstimateCorrosion(h.who, climate, nil); err != nil || len(e.Warnings) != 1 || e.Warnings[0].Values.Text("field") != "temperature_c" {
		t.Errorf("hot: %+v, %v; want one warning of the temperature", e.Warnings, err)
	}
}

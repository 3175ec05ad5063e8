package demo_test

import (
	"encoding/json"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/demo"
	"rockledger/internal/registry"
)

var (
	today = calendar.NewDate(2026, 11, 25)
	noon  = time.Date(2026, 11, 25, 12, 0, 0, 0, time.UTC)
)

func TestScenarioIsTheSameEachTime(t *testing.T) {
	t.Parallel()
	if diff := cmp.Diff(demo.Scenario(today, noon), demo.Scenario(today, noon)); diff != "" {
		t.Errorf("two scenarios of one day differ:\n%s", diff)
	}
}

// Every noun and record would be taken if a person entered it, on whatever day
// the scenario is invented.
func TestScenarioIsValid(t *testing.T) {
	t.Parallel()
	for _, asOf := range []calendar.Date{today, calendar.NewDate(2028, 2, 29), calendar.NewDate(2027, 1, 1), calendar.NewDate(2031, 7, 14)} {
		c := demo.Scenario(asOf, noon)
		eachNoun(c, func(kind string, noun any) {
			if err := validate(noun, asOf); err != nil {
				t.Errorf("as of %v: %s %+v: %v", asOf, kind, noun, err)
			}
		})
	}
}

// validate calls the Validate of a noun, with the day for those that take one.
func validate(noun any, asOf calendar.Date) error {
	switch v := noun.(type) {
	case interface{ Validate() error }:
		return v.Validate()
	case interface{ Validate(calendar.Date) error }:
		return v.Validate(asOf)
	}
	return nil // a stop has none
}

// eachNoun calls fn with a pointer to each noun and record of a change.
func eachNoun(c registry.Change, fn func(kind string, noun any)) {
	v := reflect.ValueOf(&c).Elem()
	for i := range v.NumField() {
		list := v.Field(i)
		if list.Kind() != reflect.Slice || list.Type().Elem().Kind() != reflect.Struct {
			continue
		}
		for k := range list.Len() {
			fn(v.Type().Field(i).Name, list.Index(k).Addr().Interface())
		}
	}
}

// An id stands for one thing, and each id that is pointed to is there.
func TestScenarioResolves(t *testing.T) {
	t.Parallel()
	c := demo.Scenario(today, noon)
	known := map[uuid.UUID]string{}
	eachNoun(c, func(kind string, noun any) {
		id := reflect.ValueOf(noun).Elem().FieldByName("ID")
		if !id.IsValid() {
			return
		}
		if other, double := known[id.Interface().(uuid.UUID)]; double {
			t.Errorf("id %v of %s is one of %s too", id, kind, other)
		}
		known[id.Interface().(uuid.UUID)] = kind
	})
	eachNoun(c, func(kind string, noun any) {
		for field, id := range pointedTo(reflect.ValueOf(noun).Elem()) {
			if known[id] == "" {
				t.Errorf("%s: %s = %v is not in the scenario", kind, field, id)
			}
		}
	})
}

// pointedTo gathers the ids in a noun and what it holds.
func pointedTo(v reflect.Value) map[string]uuid.UUID {
	out := map[string]uuid.UUID{}
	var walk func(name string, v reflect.Value)
	walk = func(name string, v reflect.Value) {
		if id, ok := v.Interface().(uuid.UUID); ok {
			out[name] = id
			return
		}
		switch v.Kind() {
		case reflect.Pointer:
			if !v.IsNil() {
				walk(name, v.Elem())
			}
		case reflect.Slice:
			for i := range v.Len() {
				walk(name, v.Index(i))
			}
		case reflect.Struct:
			for i := range v.NumField() {
				if v.Type().Field(i).IsExported() {
					walk(name+"."+v.Type().Field(i).Name, v.Field(i))
				}
			}
		}
	}
	walk("", v)
	return out
}

// What the demonstration is to show is there.
func TestScenarioHolds(t *testing.T) {
	t.Parallel()
	c := demo.Scenario(today, noon)
	places := map[registry.PlaceKind]int{}
	with := map[uuid.UUID]bool{}
	for _, e := range c.Environments {
		places[e.Place.Kind]++
		with[e.SiteID] = true
	}
	if len(c.Sites) != 4 || len(with) != 3 || places[registry.AtSite] != 3 || places[registry.AtPosition] != 1 {
		t.Errorf("%d sites, %d with an environment, statements about %v; want four, three and one about a position", len(c.Sites), len(with), places)
	}
	if n := len(c.Notices[0].AnchorIDs); n != 3 {
		t.Errorf("the notice names %d anchors, want 3", n)
	}
	hits := map[registry.NoticeHit]int{}
	for _, a := range c.Anchors {
		f := registry.Facts{Anchor: a, Site: registry.Site{ID: a.SiteID}, Batches: c.Batches, Sessions: c.Sessions}
		for _, i := range c.Installations {
			if i.AnchorID == a.ID {
				f.Installations = append(f.Installations, i)
			}
		}
		recall := c.Notices[1].Criterion
		recall.Products, recall.Batches = c.Products, c.Batches
		hits[recall.Hit(&f)]++
	}
	if hits[registry.HitSure] < 2 || hits[registry.HitPossible] < 2 || len(c.Notices) != 2 {
		t.Errorf("the recall hits %v, want sure and possible ones", hits)
	}
	newYear := slices.ContainsFunc(c.Restrictions, func(r registry.Restriction) bool {
		return r.Bars(calendar.NewDate(2026, 12, 31)) && r.Bars(calendar.NewDate(2027, 1, 1)) && !r.Bars(calendar.NewDate(2027, 6, 1))
	})
	if !newYear {
		t.Error("no restriction runs over new year, want one")
	}
	wear := 0
	for _, i := range c.Inspections {
		wear += len(i.Measured)
	}
	if living := livingIn(c); len(c.Events) != 1 || len(c.Agreements) != 3 || wear < 20 || living < 350 || living > 500 {
		t.Errorf("%d events, %d agreements, %d measurements, %d living anchors", len(c.Events), len(c.Agreements), wear, living)
	}
}

func livingIn(c registry.Change) int {
	n := 0
	for _, a := range c.Anchors {
		if !a.Removed {
			n++
		}
	}
	return n
}

// Nobody is taken for a real person, landowner or product.
func TestScenarioSaysItIsInvented(t *testing.T) {
	t.Parallel()
	c := demo.Scenario(today, noon)
	var names []string
	for _, p := range c.Persons {
		names = append(names, p.Name)
	}
	for _, l := range c.Landowners {
		names = append(names, l.Name)
	}
	for _, p := range c.Products {
		names = append(names, p.Name)
	}
	for _, a := range c.Agreements {
		names = append(names, a.Issuer)
	}
	for _, n := range c.Notices {
		names = append(names, n.Title)
	}
	for _, s := range c.Sites {
		names = append(names, s.Notes)
	}
	for _, name := range names {
		if !strings.Contains(strings.ToLower(name), "invented") {
			t.Errorf("%q does not say that it is invented", name)
		}
	}
}

// Coordinates lie on the land of their parcel, none lies in a cave.
func TestScenarioPositionsLieOnTheirParcel(t *testing.T) {
	t.Parallel()
	c := demo.Scenario(today, noon)
	rings := map[uuid.UUID][][2]float64{}
	for _, p := range c.Parcels {
		if p.Outline != "" {
			rings[p.ID] = ringOf(t, p.Outline)
		}
	}
	if len(rings) != 3 {
		t.Errorf("%d parcels are drawn, want 3", len(rings))
	}
	for _, p := range c.Positions {
		ring, drawn := rings[*p.ParcelID]
		if p.ParcelByHand == drawn || p.ParcelByHand != (p.Lat == nil) {
			t.Errorf("position %v: parcel by hand %v, outline %v, latitude %v", p.ID, p.ParcelByHand, drawn, p.Lat)
		}
		if drawn && !inside(ring, *p.Lon, *p.Lat) {
			t.Errorf("position %v at %v, %v lies off its parcel", p.ID, *p.Lat, *p.Lon)
		}
	}
}

func ringOf(t *testing.T, outline string) [][2]float64 {
	t.Helper()
	var doc struct {
		Type        string         `json:"type"`
		Coordinates [][][2]float64 `json:"coordinates"`
	}
	if err := json.Unmarshal([]byte(outline), &doc); err != nil || doc.Type != "Polygon" || len(doc.Coordinates) != 1 {
		t.Fatalf("outline %s: %v, want a polygon with one ring", outline, err)
	}
	ring := doc.Coordinates[0]
	if ring[0] != ring[len(ring)-1] {
		t.Errorf("outline %s is not closed", outline)
	}
	return ring
}

// inside counts the edges to the east of a point.
func inside(ring [][2]float64, x, y float64) bool {
	in := false
	for i := range len(ring) - 1 {
		a, b := ring[i], ring[i+1]
		if (a[1] > y) != (b[1] > y) && x < a[0]+(b[0]-a[0])*(y-a[1])/(b[1]-a[1]) {
			in = !in
		}
	}
	return in
}

// Three sessions: of last week's nothing may be used yet, of the one before all,
// of the cartridge of two days ago all but the last.
func TestScenarioGlues(t *testing.T) {
	t.Parallel()
	for _, asOf := range []calendar.Date{today, calendar.NewDate(2028, 2, 29), calendar.NewDate(2031, 7, 14)} {
		c := demo.Scenario(asOf, noon)
		if len(c.Sessions) != 3 {
			t.Fatalf("as of %v: %d sessions, want 3", asOf, len(c.Sessions))
		}
		for k, allowed := range []bool{false, true} {
			set := 0
			for _, i := range c.Installations {
				if i.SessionID == nil || *i.SessionID != c.Sessions[k].ID {
					continue
				}
				set++
				used := slices.ContainsFunc(c.FirstUses, func(u registry.FirstUse) bool { return u.AnchorID == i.AnchorID })
				if used != allowed {
					t.Errorf("as of %v: session %d, anchor %v: first use %v, want %v", asOf, k+1, i.AnchorID, used, allowed)
				}
			}
			if set < 2 {
				t.Errorf("as of %v: %d anchors set in session %d, want some", asOf, set, k+1)
			}
		}
	}
}

package app_test

import (
	"context"
	"os"
	"sync/atomic"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/exchange"
	"rockledger/internal/houserules"
	"rockledger/internal/pgtest"
	"rockledger/internal/postgres"
	"rockledger/internal/registry"
)

// house is a register of one invented group with a clock that tests turn.
type house struct {
	*app.Service
	store *postgres.Store
	admin *postgres.Admin
	db    *pgtest.DB
	who   registry.Actor
	clock atomic.Pointer[time.Time]
}

// firstDay is the day on which a house's clock starts.
var firstDay = calendar.NewDate(2026, time.November, 20)

func newHouse(t testing.TB) *house {
	t.Helper()
	h := &house{db: pgtest.New(t)}
	h.turnTo(firstDay)
	h.store, h.admin = postgres.New(h.db.App), postgres.NewAdmin(h.db.Owner())
	h.Service = app.New(h.store, h.now)
	h.who = h.addGroup(t, "moor-anchors")
	return h
}

func (h *house) now() time.Time { return *h.clock.Load() }

// turnTo sets the clock to noon of a day.
func (h *house) turnTo(day calendar.Date) {
	at := day.Time().Add(12 * time.Hour)
	h.clock.Store(&at)
}

// addGroup adds a group and returns its owner.
func (h *house) addGroup(t testing.TB, slug string) registry.Actor {
	t.Helper()
	g := registry.Group{ID: uuid.Must(uuid.NewV7()), Slug: slug, Name: slug, TimeZone: "Europe/London"}
	rules, err := houserules.Default().JSON()
	if err == nil {
		err = h.admin.AddGroup(t.Context(), g, rules)
	}
	if err != nil {
		t.Fatalf("add group: %v", err)
	}
	return registry.Actor{GroupID: g.ID, Group: slug, TimeZone: g.TimeZone, Role: registry.RoleOwner, Who: "test"}
}

// as returns the house's actor with another role.
func (h *house) as(role registry.Role) registry.Actor {
	who := h.who
	who.Role = role
	return who
}

// read reads a list from testdata.
func (h *house) read(t testing.TB, name string) registry.List {
	t.Helper()
	data, err := os.ReadFile("../../testdata/" + name)
	if err != nil {
		t.Fatal(err)
	}
	return parse(t, name, data)
}

func parse(t testing.TB, name string, data []byte) registry.List {
	t.Helper()
	list, err := exchange.ReadAnchorList(name, data, exchange.Mapping{}, firstDay)
	if err != nil {
		t.Fatalf("read %s: %v", name, err)
	}
	return list
}

// enter imports a small list written in the test.
func (h *house) enter(t *testing.T, csv string) {
	t.Helper()
	r, err := h.Import(t.Context(), h.who, parse(t, "small.csv", []byte(csv)), false)
	if err != nil || r.Refused > 0 {
		t.Fatalf("import: %v, refusals %+v", err, r.Refusals)
	}
}

// anchors lists all anchors of the group.
func (h *house) anchors(t testing.TB, filter registry.AnchorFilter) []registry.AnchorLine {
	t.Helper()
	var out []registry.AnchorLine
	for page := (registry.Page{Limit: 100}); ; page.After = out[len(out)-1].Anchor.ID {
		lines, err := h.Anchors(context.Background(), h.who, filter, page)
		if err != nil {
			t.Fatalf("list anchors: %v", err)
		}
		if out = append(out, lines...); len(lines) < page.Limit {
			return out
		}
	}
}

// anchor returns the anchor at the position of a label.
func (h *house) anchor(t *testing.T, label string) registry.Anchor {
	t.Helper()
	for _, l := range h.anchors(t, registry.AnchorFilter{}) {
		if l.Label == label {
			return l.Anchor
		}
	}
	t.Fatalf("no anchor at %q", label)
	return registry.Anchor{}
}

// inspected returns an inspection of an anchor by nobody in particular.
func inspected(anchor uuid.UUID, on calendar.Date, edit func(*registry.Inspection)) registry.Inspection {
	i := registry.Inspection{
		Record: registry.Record{ID: uuid.Must(uuid.NewV7()), AnchorID: anchor, DoneOn: calendar.Exactly(on)},
		Level:  registry.HandsOn, Verdict: registry.Keep, Ticked: true,
	}
	if edit != nil {
		edit(&i)
	}
	return i
}

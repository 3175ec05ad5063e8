package app_test

import (
	"regexp"
	"testing"
	"time"

	"github.com/google/uuid"

	"rockledger/internal/app"
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

func TestMayRole(t *testing.T) {
	t.Parallel()
	for _, op := range app.Operations() {
		if role, ok := app.MayRole(op); !ok || role.Rank() == 0 {
			t.Errorf("MayRole(%q) = %q, %v; want a role", op, role, ok)
		}
	}
	for op, want := range map[app.Operation]registry.Role{
		app.ViewToday:        registry.RoleReader,
		app.RecordInspection: registry.RoleRecorder,
		app.ChangeAnchor:     registry.RoleSteward,
		app.ImportList:       registry.RoleSteward,
	} {
		if got, _ := app.MayRole(op); got != want {
			t.Errorf("MayRole(%q) = %q, want %q", op, got, want)
		}
	}
	if role, ok := app.MayRole("flyToTheMoon"); ok {
		t.Errorf("MayRole of no operation = %q, want none", role)
	}
}

// "Today" is the date in the group's zone: on 1 July at half past eleven in
// the evening UTC it is 2 July in London already, and still 1 July in Denver.
func TestAsOf(t *testing.T) {
	t.Parallel()
	s := app.New(nil, func() time.Time { return time.Date(2026, time.July, 1, 23, 30, 0, 0, time.UTC) })
	for zone, day := range map[string]int{"Europe/London": 2, "America/Denver": 1, "UTC": 1, "No/Such": 1} {
		if got, want := s.AsOf(registry.Actor{TimeZone: zone}), calendar.NewDate(2026, time.July, day); got != want {
			t.Errorf("AsOf in %s = %v, want %v", zone, got, want)
		}
	}
}

// Who only looks changes nothing, whatever the role. There is no store: a change
// that got so far would be a panic.
func TestWhoOnlyLooksChangesNothing(t *testing.T) {
	t.Parallel()
	s := app.New(nil, time.Now)
	who := registry.Actor{TimeZone: "UTC", Role: registry.RoleOwner, ReadOnly: true}
	_, _, err := s.AddPerson(t.Context(), who, registry.Person{ID: uuid.New(), Name: "C. Example"})
	if e, _ := fault.As(err); e == nil || e.Kind != fault.Invalid || e.Values["not_sent"] == "" {
		t.Errorf("AddPerson by who only looks: %v, want that it was not sent", err)
	}
	who.Role = registry.RoleReader
	if _, _, err := s.AddPerson(t.Context(), who, registry.Person{}); fault.KindOf(err) != fault.Forbidden {
		t.Errorf("AddPerson by a reader who only looks: %v, want forbidden", err)
	}
}

// A new word for what changes something belongs here; one for what does not, into
// Looks.
func TestEveryOperationLooksOrChanges(t *testing.T) {
	t.Parallel()
	changes := regexp.MustCompile("^(add|change|record|set|import|decide|undo|erase|lift)[A-Z]")
	for _, op := range app.Operations() {
		if op.Looks() == changes.MatchString(string(op)) {
			t.Errorf("%s: looks %v", op, op.Looks())
		}
	}
}

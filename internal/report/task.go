package report

import (
	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// TaskKind is what somebody should find out.
type TaskKind string

// The kinds of task.
const (
	// TaskEnvironment: nothing is recorded of the site's climate.
	TaskEnvironment TaskKind = "no-environment"
	// TaskSeaDistance: how far is the sea?
	TaskSeaDistance TaskKind = "sea-distance"
)

// Task is something to find out about a site.
type Task struct {
	Kind TaskKind
	Site registry.Site
}

// Upcoming is a restriction that begins soon.
type Upcoming struct {
	Restriction registry.Restriction
	Where       string // the place's or parcel's name, with its site's
	BeginsOn    calendar.Date
}

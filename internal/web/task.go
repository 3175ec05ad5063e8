package web

import (
	"rockledger/internal/registry"
	"rockledger/internal/report"
	"rockledger/internal/wording"
)

// taskLine is something to find out, with where to enter it.
type taskLine struct {
	Site, SiteHref string // blank on the site's own page
	Text           string
	EnterHref      string // blank: whoever asks may not
}

// newTaskLine says what is to be found out about a site.
func newTaskLine(base string, site registry.Site, kind report.TaskKind, mayEnter bool) taskLine {
	t := taskLine{Site: site.Name, SiteHref: siteHref(base, site.ID), Text: wording.EnvironmentTask}
	if kind == report.TaskSeaDistance {
		t.Text = wording.SeaTask
	}
	if mayEnter {
		t.EnterHref = t.SiteHref + "/environment"
	}
	return t
}

// siteTasks are what is to be found out about a site, on its own page.
func siteTasks(base string, site registry.Site, around surroundings, mayEnter bool) []taskLine {
	var kind report.TaskKind
	switch {
	case len(around.Environment) == 0:
		kind = report.TaskEnvironment
	case !around.states("sea_km") && site.Kind != registry.SeaCliff:
		kind = report.TaskSeaDistance
	default:
		return nil
	}
	t := newTaskLine(base, site, kind, mayEnter)
	t.Site, t.SiteHref = "", ""
	return []taskLine{t}
}

// states says whether the environment of a place has a field.
func (s surroundings) states(field string) bool {
	for _, e := range s.Environment {
		if e.Name == wording.EnvironmentName(field) {
			return true
		}
	}
	return false
}

package exchange

import (
	"rockledger/internal/registry"
)

// kinds settles what kind of place each site is, for all its rows: by the
// mapping, a column, the heading of the sites' column, the site's name or words
// that only caves have. A sea cliff is never guessed.
func (r *reader) kinds() {
	stated, caves := map[string]registry.SiteKind{}, map[string]bool{}
	for i := range r.list.Rows {
		row := &r.list.Rows[i]
		if row.Blank {
			continue
		}
		site := registry.Fold(row.Site)
		if kind := r.statedKind(i); kind != "" && stated[site] != registry.Cave {
			if stated[site] == "" || kind == registry.Cave { // a cave's coordinates are never shown
				stated[site] = kind
			}
		}
		caves[site] = caves[site] || r.speaksOfCave(i)
	}
	pitches := r.headedAsCave()
	for i := range r.list.Rows {
		row := &r.list.Rows[i]
		if row.Blank {
			continue
		}
		site := registry.Fold(row.Site)
		row.SiteKind = r.kindOf(row.Site, stated[site], caves[site] || pitches)
		row.RouteKind = routeKind(row.Route, row.SiteKind)
		r.role(i)
	}
}

func (r *reader) kindOf(site string, stated registry.SiteKind, cave bool) registry.SiteKind {
	if kind := r.mapping.kind(site); kind != "" {
		return kind
	}
	switch {
	case stated != "":
		return stated
	case cave:
		return registry.Cave
	}
	return registry.Crag
}

// statedKind reads the column for the kind of site.
func (r *reader) statedKind(i int) registry.SiteKind {
	text := r.text(i, FieldSiteKind)
	if isUnknown(text) {
		return ""
	}
	kind, ok := readSiteKind(text)
	if !ok {
		r.doubt(i, FieldSiteKind, registry.DoubtSiteKindNotRead)
	}
	return kind
}

func readSiteKind(text string) (registry.SiteKind, bool) {
	switch w := words(text); {
	case hasWord(w, "cave", "cavern", "pot", "pothole", "cave system"):
		return registry.Cave, true
	case hasWord(w, "sea cliff", "seacliff", "sea cliffs", "sea crag", "zawn"):
		return registry.SeaCliff, true
	case hasWord(w, "quarry", "quarries", "quarried"):
		return registry.Quarry, true
	case hasWord(w, "crag", "cliff", "edge", "buttress", "outcrop", "tor", "inland crag"):
		return registry.Crag, true
	}
	return "", false
}

// speaksOfCave looks for "cave" in the site's name, and for words of rope work
// underground in route, label, role and type.
func (r *reader) speaksOfCave(i int) bool {
	row := &r.list.Rows[i]
	if hasWord(words(row.Site), "cave", "caves", "cavern") {
		return true
	}
	for _, text := range []string{row.Route, row.Label, r.text(i, FieldRole), r.text(i, FieldType)} {
		if hasWord(words(text), "pitch", "pitches", "rebelay", "re belay", "rebelays", "deviation", "deviations") {
			return true
		}
	}
	return false
}

// headedAsCave says whether the headings are those of a cave list: sites under
// "cave", or routes under "pitch" and sites not under "crag".
func (r *reader) headedAsCave() bool {
	site, route := r.headingWords(FieldSite), r.headingWords(FieldRoute)
	above := hasWord(site, "crag", "cliff", "edge", "venue")
	return hasWord(site, "cave", "cavern", "pothole") && !above || hasWord(route, "pitch") && !above
}

func (r *reader) headingWords(f Field) string {
	at, ok := r.sheet.columns[f]
	if !ok {
		return "  "
	}
	return words(r.sheet.headings[at])
}

// routeKind reads the kind of a route from its name; in a cave it is a pitch
// unless the name says otherwise, elsewhere a climb. Empty for no route.
func routeKind(route string, site registry.SiteKind) registry.RouteKind {
	w := words(route)
	switch {
	case route == "":
		return ""
	case hasWord(w, "traverse", "trav", "crossing"):
		return registry.Crossing
	case hasWord(w, "abseil", "rappel", "descent"):
		return registry.Abseil
	case hasWord(w, "pitch"), site == registry.Cave:
		return registry.Pitch
	}
	return registry.Climb
}

package exchange

import (
	"rockledger/internal/registry"
)

// kinds settles what kind of place each site is, for all its rows: by the
// mapping, a column, the heading of the sites' column, the site's name or words
// that only caves have. A sea cliff is never guessed.
func (r *reader) kinds() {
	kinds := r.siteKinds()
	r.each(func(hand *reader, i int) {
		row := &hand.list.Rows[i]
		row.SiteKind = kinds[r.sites[i]]
		row.RouteKind = hand.recall.routes.of(routeSaid{row.Route, row.SiteKind}, routeKind)
		hand.role(i)
	})
}

// siteKinds returns the kind of each site.
func (r *reader) siteKinds() []registry.SiteKind {
	names := r.numberSites()
	stated, caves := make([]registry.SiteKind, len(names)), make([]bool, len(names))
	for i := range r.list.Rows {
		if r.list.Rows[i].Blank {
			continue
		}
		site := r.sites[i]
		if kind := r.statedKind(i); kind != "" && stated[site] != registry.Cave {
			if stated[site] == "" || kind == registry.Cave { // a cave's coordinates are never shown
				stated[site] = kind
			}
		}
		caves[site] = caves[site] || r.speaksOfCave(i)
	}
	pitches := r.headedAsCave()
	kinds := make([]registry.SiteKind, len(names))
	for site, name := range names {
		kinds[site] = r.kindOf(name, stated[site], caves[site] || pitches)
	}
	return kinds
}

// numberSites numbers the sites by their folded names, in the order in which
// the list names them first, and returns the names.
func (r *reader) numberSites() (names []string) {
	r.sites = make([]int32, len(r.list.Rows))
	known := make(map[string]int32)
	for i := range r.list.Rows {
		name := r.list.Rows[i].Site
		if i > 0 && name == r.list.Rows[i-1].Site {
			r.sites[i] = r.sites[i-1]
			continue
		}
		site, ok := known[registry.Fold(name)]
		if !ok {
			site = int32(len(names)) //nolint:gosec // far fewer: maxRecords
			names = append(names, registry.Fold(name))
			known[names[site]] = site
		}
		r.sites[i] = site
	}
	return names
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
	if r.recall.caves.of(row.Site, namesCave) {
		return true
	}
	for _, text := range [...]string{row.Route, row.Label, r.text(i, FieldRole), r.text(i, FieldType)} {
		if text != "" && r.recall.ropes.of(text, namesRopeWork) {
			return true
		}
	}
	return false
}

func namesCave(site string) bool { return hasWord(words(site), "cave", "caves", "cavern") }

func namesRopeWork(text string) bool {
	return hasWord(words(text), "pitch", "pitches", "rebelay", "re belay", "rebelays", "deviation", "deviations")
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
func routeKind(said routeSaid) registry.RouteKind {
	w := words(said.route)
	switch {
	case said.route == "":
		return ""
	case hasWord(w, "traverse", "trav", "crossing"):
		return registry.Crossing
	case hasWord(w, "abseil", "rappel", "descent"):
		return registry.Abseil
	case hasWord(w, "pitch"), said.site == registry.Cave:
		return registry.Pitch
	}
	return registry.Climb
}

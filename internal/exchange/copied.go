package exchange

import (
	"strconv"

	"rockledger/internal/registry"
)

// copiedSites is over how many sites in a row one value must run to look copied
// down; copiedRows is how many rows a list must have for one value in all of
// them to look so, if it has several sites.
//
// Source: judgement of this project.
const (
	copiedSites = 4
	copiedRows  = 10
)

// copiedFields are what differs from anchor to anchor, or from visit to visit:
// names, landowners, kinds, types, metals and sizes may well be the same all
// over.
var copiedFields = []Field{FieldSetOn, FieldSetBy, FieldBatch, FieldLastInspected, FieldNotes}

// run is a stretch of rows with the same value in one column.
type run struct {
	from, to int // rows
	rows     int // blank ones aside
	sites    map[string]bool
	value    string // folded; empty: not known
}

// copied doubts columns that look as if one value was copied down, once a run.
func (r *reader) copied() {
	for _, f := range copiedFields {
		if _, ok := r.sheet.columns[f]; ok {
			r.copiedIn(f)
		}
	}
}

func (r *reader) copiedIn(f Field) {
	var now run
	total := 0
	for i := range r.list.Rows {
		row := &r.list.Rows[i]
		if row.Blank {
			continue
		}
		total++
		site, value := registry.Fold(row.Site), plain(r.text(i, f))
		if isUnknown(value) {
			value = ""
		}
		if value != now.value || now.rows == 0 {
			r.doubtRun(f, &now, false)
			now = run{from: i, value: value, sites: make(map[string]bool)}
		}
		now.sites[site], now.to, now.rows = true, i, now.rows+1
	}
	all := now.rows == total && total >= copiedRows && len(now.sites) > 1
	r.doubtRun(f, &now, all)
}

// doubtRun doubts a run that is over if it takes in the whole list or enough
// sites.
func (r *reader) doubtRun(f Field, now *run, all bool) {
	if now.value == "" || !all && len(now.sites) < copiedSites {
		return
	}
	r.doubt(now.from, f, registry.DoubtColumnCopied,
		"from_line", strconv.Itoa(r.sheet.data[now.from].line), "to_line", strconv.Itoa(r.sheet.data[now.to].line),
		"rows", strconv.Itoa(now.rows), "sites", strconv.Itoa(len(now.sites)))
}

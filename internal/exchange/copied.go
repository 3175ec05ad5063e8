package exchange

import (
	"slices"
	"strconv"

	"rockledger/internal/calendar"
	"rockledger/internal/registry"
)

// copiedSites is over how many sites one value must run without a break, or one
// day stand anywhere on the list, to look copied down; copiedRows is in how many
// rows the day must stand, and how many a list must have, at several sites, for
// one value in all of them to look so.
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

// run is rows with the same value in one column.
type run struct {
	from, to int // rows
	rows     int // blank ones and those between aside
	sites    map[string]bool
}

func (n *run) add(i int, site string) {
	if n.rows == 0 {
		n.from, n.sites = i, make(map[string]bool)
	}
	n.to, n.rows = i, n.rows+1
	n.sites[site] = true
}

// copied doubts columns that look as if one value was copied down, once a run,
// and days that stand at too many sites to be true, once a day.
func (r *reader) copied() {
	for _, f := range copiedFields {
		if _, ok := r.sheet.columns[f]; ok {
			r.runs(f)
		}
	}
	r.days(FieldSetOn, func(row *registry.ListRow) calendar.Span { return row.SetOn })
	r.days(FieldLastInspected, func(row *registry.ListRow) calendar.Span { return row.CheckedOn })
}

// runs doubts the runs of a column.
func (r *reader) runs(f Field) {
	var now run
	last, total := "", 0
	for i := range r.list.Rows {
		if r.list.Rows[i].Blank {
			continue
		}
		total++
		value := plain(r.text(i, f))
		if isUnknown(value) {
			value = ""
		}
		if value != last {
			r.doubtRun(f, last, &now, false)
			last, now = value, run{}
		}
		now.add(i, registry.Fold(r.list.Rows[i].Site))
	}
	r.doubtRun(f, last, &now, now.rows == total && total >= copiedRows && len(now.sites) > 1)
}

// doubtRun doubts a run that is over if it takes in the whole list or enough
// sites.
func (r *reader) doubtRun(f Field, value string, now *run, whole bool) {
	if value != "" && (whole || len(now.sites) >= copiedSites) {
		r.doubtCopied(f, registry.DoubtColumnCopied, now)
	}
}

// days doubts the days on which anchors of too many sites are said to have been
// seen to, however written and wherever they stand, unless a run says so.
func (r *reader) days(f Field, of func(*registry.ListRow) calendar.Span) {
	on := make(map[calendar.Date]*run)
	var order []calendar.Date
	for i := range r.list.Rows {
		day := of(&r.list.Rows[i])
		if !day.Exact() {
			continue
		}
		if on[day.From] == nil {
			on[day.From] = new(run)
			order = append(order, day.From)
		}
		on[day.From].add(i, registry.Fold(r.list.Rows[i].Site))
	}
	for _, day := range order {
		n := on[day]
		said := slices.ContainsFunc(r.list.Doubts, func(d registry.Doubt) bool {
			return d.Code == registry.DoubtColumnCopied && d.Line == r.sheet.data[n.from].line && d.Text == r.text(n.from, f)
		})
		if len(n.sites) >= copiedSites && n.rows >= copiedRows && !said {
			r.doubtCopied(f, registry.DoubtDayEverywhere, n)
		}
	}
}

func (r *reader) doubtCopied(f Field, code string, n *run) {
	r.doubt(n.from, f, code,
		"from_line", strconv.Itoa(r.sheet.data[n.from].line), "to_line", strconv.Itoa(r.sheet.data[n.to].line),
		"rows", strconv.Itoa(n.rows), "sites", strconv.Itoa(len(n.sites)))
}

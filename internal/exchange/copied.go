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

// rowsPerGap is how many cells of a run must have the value for each that is
// blank. A value here and there in a column that is mostly blank was not copied
// down. Judgement of this project.
const rowsPerGap = 4

// run is rows with the same value in one column.
type run struct {
	from, to int // rows
	rows     int // blank ones and those between aside
	gaps     int // rows between with a blank cell
	at       int32
	more     map[int32]bool // sites besides the first, by number
}

// sites is over how many sites a run goes.
func (n *run) sites() int { return min(n.rows, 1) + len(n.more) }

// reaches says whether a run goes on behind some more blank cells: behind the
// first one in any case, since it is not known yet how long the run becomes.
func (n *run) reaches(blank int) bool {
	gaps := n.gaps + blank
	return blank == 0 || gaps == 1 || gaps*rowsPerGap <= n.rows+1
}

func (n *run) add(i int, site int32) {
	switch {
	case n.rows == 0:
		n.from, n.at = i, site
	case site == n.at:
	case n.more == nil: // most runs are of one site
		n.more = map[int32]bool{site: true}
	default:
		n.more[site] = true
	}
	n.to, n.rows = i, n.rows+1
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
	last, total, blank := saidTwice{}, 0, 0
	for i := range r.list.Rows {
		if r.list.Rows[i].Blank {
			continue
		}
		total++
		value := r.copyable(i, f)
		if value == (saidTwice{}) {
			blank++
			continue
		}
		if value != last || !now.reaches(blank) {
			r.doubtRun(f, last, &now, false)
			last, now, blank = value, run{}, 0
		}
		now.gaps += blank
		now.add(i, r.sites[i])
		blank = 0
	}
	r.doubtRun(f, last, &now, now.rows == total && total >= copiedRows && now.sites() > 1)
}

// saidTwice is the value of a cell that may have been copied down: a date as it
// was read, however written, or a text. The zero value: nothing, or not known.
type saidTwice struct {
	from, to calendar.Date
	text     string
}

func (r *reader) copyable(i int, f Field) saidTwice {
	var date calendar.Span
	switch f {
	case FieldSetOn:
		date = r.list.Rows[i].SetOn
	case FieldLastInspected:
		date = r.list.Rows[i].CheckedOn
	}
	if date.Known() {
		return saidTwice{from: date.From, to: date.To}
	}
	return saidTwice{text: r.recall.plains.of(r.text(i, f), knownPlain)}
}

func knownPlain(text string) string { return known(plain(text)) }

// doubtRun doubts a run that is over if it takes in the whole list or enough
// sites.
func (r *reader) doubtRun(f Field, value saidTwice, now *run, whole bool) {
	if value != (saidTwice{}) && (whole || now.sites() >= copiedSites && now.gaps*rowsPerGap <= now.rows) {
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
		on[day.From].add(i, r.sites[i])
	}
	for _, day := range order {
		n := on[day]
		if n.sites() >= copiedSites && n.rows >= copiedRows && !r.saidCopied(n.from, f) {
			r.doubtCopied(f, registry.DoubtDayEverywhere, n)
		}
	}
}

// saidCopied says whether a run that begins with the row's cell is doubted.
func (r *reader) saidCopied(i int, f Field) bool {
	return slices.ContainsFunc(r.list.Doubts, func(d registry.Doubt) bool {
		return d.Code == registry.DoubtColumnCopied && d.Line == r.sheet.data[i].line && d.Text == r.text(i, f)
	})
}

func (r *reader) doubtCopied(f Field, code string, n *run) {
	r.doubt(n.from, f, code,
		"from_line", strconv.Itoa(r.sheet.data[n.from].line), "to_line", strconv.Itoa(r.sheet.data[n.to].line),
		"rows", strconv.Itoa(n.rows), "sites", strconv.Itoa(n.sites()))
}

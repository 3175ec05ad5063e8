package exchange

import (
	"rockledger/internal/calendar"
	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// dates reads when the anchor was set and last checked. Both stay when the
// check lies surely before.
func (r *reader) dates(i int) {
	row := &r.list.Rows[i]
	row.SetOn = r.date(i, FieldSetOn)
	row.CheckedOn = r.date(i, FieldLastInspected)
	if row.SetOn.Known() && row.CheckedOn.Known() && row.CheckedOn.To < row.SetOn.From {
		r.doubt(i, FieldLastInspected, registry.DoubtCheckedFirst, "set_on", asListed(row.SetOn))
	}
}

// asListed is a date as a doubt quotes it: a day, or what the list says of one that
// it does not know to the day.
func asListed(s calendar.Span) string {
	if s.Exact() || s.Words == "" {
		return s.From.String()
	}
	return s.Words
}

// date reads one date; of one that cannot be right only the words are kept.
func (r *reader) date(i int, f Field) calendar.Span {
	read := r.recall.dates.of(dateSaid{r.text(i, f), r.orders[f], r.asOf}, readDate)
	if read.doubt != "" {
		r.doubt(i, f, read.doubt)
	}
	return read.span
}

func readDate(said dateSaid) (read dateRead) {
	s, err := calendar.ParseSpan(said.text, said.order, said.asOf)
	if err != nil {
		read.doubt = dateDoubt(err)
	}
	if !s.Known() {
		s = calendar.Span{Words: s.Words}
	}
	read.span = s
	return read
}

func dateDoubt(err error) string {
	switch fault.CodeOf(err) {
	case fault.DateAhead:
		return registry.DoubtDateAhead
	case fault.NoSuchDay:
		return registry.DoubtNoSuchDay
	case fault.DayMonthMisfit:
		return registry.DoubtDayMonthMisfit
	}
	return registry.DoubtDateNotRead
}

package registry

import (
	"bytes"

	"rockledger/internal/calendar"
)

// Setting returns the installation that says how the anchor was set: the latest
// of those that are neither replaced nor retracted, see LatestSet. Nil: there is
// none.
func (f Facts) Setting() *Installation {
	current := f.Current()
	return current.LatestSet(func(*Installation) bool { return true })
}

// LatestSet returns the latest of the installations that ok takes, nil for none.
// Records that others replace must have been left out (Facts.Current). What a
// person recorded here counts before what a list says; then the later of the
// earliest days they can be of, one of unknown date as the earliest; then the
// one recorded later; then the greater id.
func (f *Facts) LatestSet(ok func(*Installation) bool) *Installation {
	var last *Installation
	for k := range f.Installations {
		if i := &f.Installations[k]; ok(i) && i.setAfter(last) {
			last = i
		}
	}
	return last
}

// SetDay returns the day on which the anchor was set: its own where that is
// known, else that of its setting or of the setting's session. Records that
// others replace must have been left out (Facts.Current).
func (f *Facts) SetDay() calendar.Span {
	if f.Anchor.SetOn.Known() {
		return f.Anchor.SetOn
	}
	last := f.LatestSet(func(*Installation) bool { return true })
	if last == nil {
		return f.Anchor.SetOn
	}
	if i := f.AsSet(last); i.DoneOn.Known() {
		return i.DoneOn
	}
	return f.Anchor.SetOn
}

func (i *Installation) setAfter(other *Installation) bool {
	switch {
	case other == nil:
		return true
	case (i.Origin == Recorded) != (other.Origin == Recorded):
		return i.Origin == Recorded
	case i.DoneOn.From != other.DoneOn.From:
		return i.DoneOn.From > other.DoneOn.From
	case !i.RecordedAt.Equal(other.RecordedAt):
		return i.RecordedAt.After(other.RecordedAt)
	}
	return bytes.Compare(i.ID[:], other.ID[:]) > 0
}

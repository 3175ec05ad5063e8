package sheetcheck

import (
	"slices"
	"time"

	"rockledger/internal/adhesive"
	"rockledger/internal/calendar"
	"rockledger/internal/houserules"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Why there is no cure time, or no instant, beside the reasons of package
// adhesive: words of wording's list.
const (
	NoAdhesive    = "no-adhesive" // which adhesive it was is not recorded
	Contradicted  = "adhesive-not-of-batch"
	NoSheet       = "no-sheet" // no sheet of that day, and no label was read
	LabelTooWarm  = "label-for-warmer-rock"
	SetNotKnown   = "set-time-not-known" // neither the time nor the day
	labelAsSource = "the label, as read"
)

// Missings lists the words that say why there is no cure time, or no instant.
func Missings() []string {
	out := []string{NoAdhesive, Contradicted, NoSheet, LabelTooWarm, SetNotKnown}
	for _, r := range adhesive.Reasons() {
		out = append(out, string(r))
	}
	return out
}

// Cure works out the cure of the anchor's latest setting, and false if there is
// none on record or surely nothing was bonded. Records that others replace must
// have been left out (Facts.Current).
//
// The product's sheet of the day it was set decides (of an uncertain day, the
// earlier end), at the lowest rock temperature on record: at the setting, in the
// night to come, or as found until release. In a cave where nobody read the
// latter two the house rules' temperature stands in for them; elsewhere the
// setting then decides alone, and is marked as assumed. Where none is known the
// sheet's coldest row is read. A hole whose moisture is not known
// counts as wet. See adhesive.Cure.
//
// Without a sheet, the longest cure that a person read off the label counts,
// doubled unless the hole is known to have been dry; but not in a flooded hole,
// nor where the rock was colder than the row that was read. Without a label
// either there is no time.
//
// NotBefore is the last instant at which it can have been set, and the cure. Of
// a setting without a time that is the end of its day twelve hours behind UTC,
// where the day ends last.
func Cure(f *registry.Facts, r *houserules.Rules) (registry.CureTime, bool) {
	s, ok := settingOf(f)
	if !ok || !s.perhapsBonded() {
		return registry.CureTime{}, false
	}
	return s.cure(f, r), true
}

func (s *asSet) cure(f *registry.Facts, r *houserules.Rules) registry.CureTime {
	t := registry.CureTime{InstallationID: s.ID, Basis: registry.CureNone, Assumed: true}
	if lowest, by := s.lowest(f, r); lowest != nil {
		c := lowest.C
		open := by == registry.LowestSetting && f.Site.Kind != registry.Cave && !s.nightRead()
		t.LowestC, t.LowestBy, t.Assumed = &c, by, open || lowest.How != registry.Measured
	}
	label := longestLabel(s.cures)
	switch {
	case s.sheet != nil && len(s.sheet.CureRows) > 0:
		s.bySheet(&t)
	case label != nil:
		s.byLabel(&t, label)
	case s.contradicted:
		t.Missing = Contradicted
	case s.adhesive == nil:
		t.Missing = NoAdhesive
	default:
		t.Missing = NoSheet
	}
	if t.CureMinutes == nil {
		return t
	}
	at := s.setBy()
	if at.IsZero() {
		t.Missing = SetNotKnown
		return t
	}
	t.NotBefore = at.Add(time.Duration(*t.CureMinutes) * time.Minute)
	return t
}

// lowest returns the lowest rock temperature until release and what it is, nil
// if none is known.
func (s *asSet) lowest(f *registry.Facts, r *houserules.Rules) (*registry.Reading, registry.LowestBy) {
	low, by := s.lowestRead()
	if f.Site.Kind != registry.Cave || s.nightRead() {
		return low, by
	}
	cave := &registry.Reading{C: quantity.Temperature(r.CaveRock.Value), How: registry.Assumed}
	if low == nil || cave.C < low.C {
		return cave, registry.LowestCave
	}
	return low, by
}

// lowestRead is the lowest that anybody read or assumed, nil for none. Of two as
// low the measured one counts.
func (s *asSet) lowestRead() (*registry.Reading, registry.LowestBy) {
	var low *registry.Reading
	var by registry.LowestBy
	offer := func(v *registry.Reading, as registry.LowestBy) {
		if v != nil && (low == nil || v.C < low.C || v.C == low.C && low.How != registry.Measured) {
			low, by = v, as
		}
	}
	offer(s.session.NightC, registry.LowestNight)
	for _, u := range s.cures {
		offer(u.LowestC, registry.LowestNight)
	}
	offer(s.session.RockC, registry.LowestSetting)
	return low, by
}

// nightRead says whether anything is on record of the rock after the setting.
func (s *asSet) nightRead() bool {
	return s.session.NightC != nil || slices.ContainsFunc(s.cures, func(u *registry.Cure) bool { return u.LowestC != nil })
}

// bySheet reads the sheet.
func (s *asSet) bySheet(t *registry.CureTime) {
	sheet := tableOf(s.sheet)
	id := s.sheet.ID
	t.SheetID, t.Source = &id, s.sheet.Source
	times, why := adhesive.Cure(&sheet, t.LowestC, hole(s))
	if why != "" {
		t.Missing = string(why)
		return
	}
	t.Basis, t.CureMinutes, t.Wet, t.UsualDoubling = registry.CureBySheet, &times.Minutes, times.Wet, times.Usual
	if times.Assumed {
		t.LowestBy = registry.LowestRow
	}
	var warmest *quantity.Temperature
	if s.session.RockC != nil {
		warmest = &s.session.RockC.C
	}
	if working, ok := adhesive.Working(&sheet, warmest); ok {
		t.WorkingMinutes = &working
	}
}

// tableOf takes over what package adhesive asks of a sheet.
func tableOf(v *registry.ProductVersion) adhesive.Sheet {
	out := adhesive.Sheet{WetFactor: v.WetFactor, Low: v.RockLowC, High: v.RockHighC}
	for _, r := range v.CureRows {
		out.Rows = append(out.Rows, adhesive.Row{
			From: r.FromC, To: r.ToC, Working: r.WorkMinutes, Cure: r.CureMinutes, CureWet: r.CureWetMinutes,
		})
	}
	for _, m := range v.Moistures {
		out.Allowed = append(out.Allowed, adhesive.Moisture(m))
	}
	return out
}

// byLabel takes what was read off the label.
func (s *asSet) byLabel(t *registry.CureTime, label *registry.Cure) {
	t.Source = labelAsSource
	wet := hole(s)
	switch {
	case wet.Flooded():
		t.Missing = string(adhesive.Flooded)
		return
	case label.LabelC != nil && t.LowestC != nil && *t.LowestC < *label.LabelC:
		t.Missing = LabelTooWarm
		return
	}
	minutes := *label.LabelCureMinutes
	if wet != adhesive.Dry {
		minutes = adhesive.Lengthened(minutes, adhesive.UsualDoubling)
		t.Wet, t.UsualDoubling = true, true
	}
	t.Basis, t.CureMinutes = registry.CureByLabel, &minutes
	for _, u := range s.cures {
		if w := u.LabelWorkingMinutes; w != nil && (t.WorkingMinutes == nil || *w < *t.WorkingMinutes) {
			working := *w
			t.WorkingMinutes = &working
		}
	}
}

// longestLabel finds the label reading with the longest cure, of two as long the
// one for the warmer rock; nil if no label was read.
func longestLabel(cures []*registry.Cure) *registry.Cure {
	var longest *registry.Cure
	for _, u := range cures {
		if u.LabelCureMinutes == nil {
			continue
		}
		if longest == nil || *u.LabelCureMinutes > *longest.LabelCureMinutes ||
			*u.LabelCureMinutes == *longest.LabelCureMinutes && warmer(u.LabelC, longest.LabelC) {
			longest = u
		}
	}
	return longest
}

func warmer(a, b *quantity.Temperature) bool { return a != nil && (b == nil || *a > *b) }

// setBy returns the last instant at which the anchor can have been set; zero if
// nothing is known.
func (s *asSet) setBy() time.Time {
	if s.SetAt.Known() {
		return s.SetAt.To.UTC()
	}
	return endOf(s.on.To)
}

// endOf returns the instant at which a day has ended everywhere: at noon UTC of
// the next day, when it ends twelve hours behind UTC. Zero for no date.
func endOf(d calendar.Date) time.Time {
	if d.IsZero() {
		return time.Time{}
	}
	return d.Time().AddDate(0, 0, 1).Add(12 * time.Hour)
}

// loadedAt returns the earliest instant at which the setting is on record as
// loaded or allowed to be, zero if there is none. Of a first use without a time
// it is the end of its day, so that only one surely too early counts.
func (s *asSet) loadedAt(f *registry.Facts) time.Time {
	var first time.Time
	offer := func(at time.Time) {
		if !at.IsZero() && (first.IsZero() || at.Before(first)) {
			first = at
		}
	}
	for _, u := range s.cures {
		offer(u.LoadedAt.From)
	}
	for k := range f.FirstUses {
		u := &f.FirstUses[k]
		switch {
		case u.DoneOn.Known() && u.DoneOn.To < s.on.From:
		case u.At.Known():
			offer(u.At.From)
		default:
			offer(endOf(u.DoneOn.To))
		}
	}
	return first
}

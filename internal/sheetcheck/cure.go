package sheetcheck

import (
	"slices"
	"sync"
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
	LabelNoRow    = "label-row-not-recorded"     // which row was read
	RockNotKnown  = "rock-temperature-not-known" // until release
	SetNotKnown   = "set-time-not-known"         // neither the time nor the day
	labelAsSource = "the label, as read"
)

// Missings lists the words that say why there is no cure time, or no instant.
func Missings() []string {
	out := []string{NoAdhesive, Contradicted, NoSheet, LabelTooWarm, LabelNoRow, RockNotKnown, SetNotKnown}
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
// earlier end), at the lowest rock temperature until release: as assumed of the
// night to come (which lies ahead when the session is recorded, whatever it says
// of how it was read), as found later, or of rock and air at the setting if that
// is colder. In a cave the house rules' temperature counts too, until a cure
// record measures the lowest. Elsewhere, where neither night nor lowest is on
// record, the row is read that holds the coldest rock the house rules reckon with,
// or that of the setting if it was colder; a sheet that begins above that gives no
// time. A hole whose moisture is not known counts as wet. See adhesive.Cure.
//
// Where a person read the label too, the longer of the two counts. Without a
// sheet, the longest cure that was read off the label counts, if one of its rows
// that was read is no warmer than the rock was: without the row, or without the
// rock's temperature, there is no time. A label's cure is doubled unless the hole
// is known to have been dry; in a flooded hole it gives none. Without a label
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
		t.LowestC, t.LowestBy, t.Assumed = &c, by, lowest.How != registry.Measured
	}
	switch {
	case s.sheet != nil && len(s.sheet.CureRows) > 0:
		s.bySheet(&t, r)
	case longestLabel(s.cures) != nil:
		s.byLabel(&t)
	case s.contradicted:
		t.Missing = Contradicted
	case s.adhesive == nil:
		t.Missing = NoAdhesive
	default:
		t.Missing = NoSheet
	}
	t.MoistureUnknown = t.Wet && s.Moisture == ""
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
// if that is not known.
func (s *asSet) lowest(f *registry.Facts, r *houserules.Rules) (*registry.Reading, registry.LowestBy) {
	if f.Site.Kind != registry.Cave && !s.nightRead() {
		return nil, ""
	}
	low, by := s.lowestRead()
	if c := s.coldestAtSetting(); c != nil && (low == nil || *c < low.C) {
		low, by = &registry.Reading{C: *c, How: registry.Assumed}, registry.LowestSetting
	}
	if f.Site.Kind != registry.Cave || s.lowestMeasured() {
		return low, by
	}
	cave := &registry.Reading{C: quantity.Temperature(r.CaveRock.Value), How: registry.Assumed}
	if low == nil || cave.C < low.C {
		return cave, registry.LowestCave
	}
	return low, by
}

// coldestAtSetting is the colder of rock and air at the setting, nil if neither
// is known. Air is not rock: it may only say that it was colder.
func (s *asSet) coldestAtSetting() *quantity.Temperature {
	var cold *quantity.Temperature
	for _, v := range []*registry.Reading{s.session.RockC, s.session.AirC} {
		if v != nil && (cold == nil || v.C < *cold) {
			cold = &v.C
		}
	}
	return cold
}

// lowestRead is the lowest that anybody read or assumed of the rock, nil for
// none. Of two as low the measured one counts.
func (s *asSet) lowestRead() (*registry.Reading, registry.LowestBy) {
	var low *registry.Reading
	var by registry.LowestBy
	offer := func(v *registry.Reading, as registry.LowestBy) {
		if v != nil && (low == nil || v.C < low.C || v.C == low.C && low.How != registry.Measured) {
			low, by = v, as
		}
	}
	for _, v := range s.nights() {
		offer(v, registry.LowestNight)
	}
	offer(s.session.RockC, registry.LowestSetting)
	return low, by
}

// nights are what is on record of the rock after the setting, none of them nil. A
// session's own is assumed whatever it says: it was recorded before the night.
func (s *asSet) nights() []*registry.Reading {
	var out []*registry.Reading
	if s.session.NightC != nil {
		out = append(out, &registry.Reading{C: s.session.NightC.C, How: registry.Assumed})
	}
	for _, u := range s.cures {
		if u.LowestC != nil {
			out = append(out, u.LowestC)
		}
	}
	return out
}

// nightRead says whether anything is on record of the rock after the setting.
func (s *asSet) nightRead() bool { return len(s.nights()) > 0 }

// lowestMeasured says whether a cure record measured how cold the rock became.
func (s *asSet) lowestMeasured() bool {
	return slices.ContainsFunc(s.cures, func(u *registry.Cure) bool { return u.LowestC != nil && u.LowestC.How == registry.Measured })
}

// bySheet reads the sheet, and the label beside it.
func (s *asSet) bySheet(t *registry.CureTime, r *houserules.Rules) {
	sheet := tableOf(s.sheet)
	id := s.sheet.ID
	t.SheetID, t.Source = &id, s.sheet.Source
	times, missing := s.read(&sheet, t, r)
	if missing != "" {
		t.Missing = missing
		return
	}
	t.Basis, t.CureMinutes, t.Wet, t.UsualDoubling = registry.CureBySheet, &times.Minutes, times.Wet, times.Usual
	var warmest *quantity.Temperature
	if s.session.RockC != nil {
		warmest = &s.session.RockC.C
	}
	if working, ok := adhesive.Working(&sheet, warmest); ok {
		t.WorkingMinutes = &working
	}
	if label := longestLabel(s.cures); label != nil {
		if minutes, _ := s.labelled(label); minutes > times.Minutes {
			s.takeLabel(t, label)
		}
	}
}

// read reads the sheet at the lowest temperature, and where that is not known at
// the coldest that the house rules reckon with, which it then puts down. It
// returns the word for why there is no time.
func (s *asSet) read(sheet *adhesive.Sheet, t *registry.CureTime, r *houserules.Rules) (adhesive.Times, string) {
	if t.LowestC != nil {
		times, why := adhesive.Cure(sheet, t.LowestC, hole(s))
		return times, string(why)
	}
	low := quantity.Temperature(r.ColdestRock.Value)
	if c := s.coldestAtSetting(); c != nil {
		if _, why := adhesive.Cure(sheet, c, hole(s)); why == adhesive.TooCold {
			return adhesive.Times{}, string(why)
		}
		low = min(low, *c)
	}
	times, why := adhesive.Cure(sheet, &low, hole(s))
	switch why {
	case "":
		t.LowestC, t.LowestBy = &low, registry.LowestRow
	case adhesive.TooCold, adhesive.TooWarm:
		return times, RockNotKnown
	}
	return times, string(why)
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

// byLabel takes what was read off the label, where there is no sheet.
func (s *asSet) byLabel(t *registry.CureTime) {
	t.Source = labelAsSource
	switch {
	case hole(s).Flooded():
		t.Missing = string(adhesive.Flooded)
	case !slices.ContainsFunc(s.cures, func(u *registry.Cure) bool { return u.LabelCureMinutes != nil && u.LabelC != nil }):
		t.Missing = LabelNoRow
	case t.LowestC == nil:
		t.Missing = RockNotKnown
	case !slices.ContainsFunc(s.cures, func(u *registry.Cure) bool {
		return u.LabelCureMinutes != nil && u.LabelC != nil && *u.LabelC <= *t.LowestC
	}):
		t.Missing = LabelTooWarm
	default:
		s.takeLabel(t, longestLabel(s.cures))
	}
}

// takeLabel has a label's reading decide.
func (s *asSet) takeLabel(t *registry.CureTime, label *registry.Cure) {
	minutes, wet := s.labelled(label)
	t.Basis, t.Source, t.SheetID = registry.CureByLabel, labelAsSource, nil
	t.CureMinutes, t.Wet, t.UsualDoubling = &minutes, wet, wet
	for _, u := range s.cures {
		if w := u.LabelWorkingMinutes; w != nil && (t.WorkingMinutes == nil || *w < *t.WorkingMinutes) {
			working := *w
			t.WorkingMinutes = &working
		}
	}
}

// labelled is the cure by a label's reading in minutes, and whether it was
// doubled for a hole that was wet or may have been.
func (s *asSet) labelled(label *registry.Cure) (minutes int, wet bool) {
	if hole(s) == adhesive.Dry {
		return *label.LabelCureMinutes, false
	}
	return adhesive.Lengthened(*label.LabelCureMinutes, adhesive.UsualDoubling), true
}

// longestLabel finds the label reading with the longest cure; nil if no label
// was read.
func longestLabel(cures []*registry.Cure) *registry.Cure {
	var longest *registry.Cure
	for _, u := range cures {
		if u.LabelCureMinutes != nil && (longest == nil || *u.LabelCureMinutes > *longest.LabelCureMinutes) {
			longest = u
		}
	}
	return longest
}

// setBy returns the last instant at which the anchor can have been set; zero if
// nothing is known. A time that lies before the day on record, wherever that
// begins, contradicts it: then the day counts.
func (s *asSet) setBy() time.Time {
	if s.SetAt.Known() && (!s.on.Known() || !s.SetAt.To.Before(s.on.From.Time().Add(-14*time.Hour))) {
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
// loaded or allowed to be, zero if there is none: surely, and perhaps. The two
// differ for a first use without a time, which can have been at the beginning of
// its day in the group's zone and surely was by its end.
func (s *asSet) loadedAt(f *registry.Facts) (surely, perhaps time.Time) {
	surely = s.loadRecorded()
	perhaps = surely
	for k := range f.FirstUses {
		u := &f.FirstUses[k]
		if !s.since(*u) {
			continue
		}
		from, to := within(u, f.TimeZone)
		perhaps = earlier(perhaps, from)
		surely = earlier(surely, to)
	}
	return surely, perhaps
}

// loadRecorded returns the earliest instant at which a cure record says that the
// setting was loaded; zero if none does.
func (s *asSet) loadRecorded() time.Time {
	var first time.Time
	for _, u := range s.cures {
		first = earlier(first, u.LoadedAt.From)
	}
	return first
}

// since says whether a first use is not surely of an earlier setting.
func (s *asSet) since(u registry.FirstUse) bool { return !u.DoneOn.Known() || u.DoneOn.To >= s.on.From }

// earlier returns the earlier of two instants, of which either may be zero: not
// known.
func earlier(a, b time.Time) time.Time {
	if a.IsZero() || !b.IsZero() && b.Before(a) {
		return b
	}
	return a
}

// within returns the first instant at which use was perhaps allowed, and that by
// which it surely was; zero if neither time nor day is known. In a zone that is
// not known a day begins fourteen hours ahead of UTC and ends twelve behind it.
func within(u *registry.FirstUse, zone string) (from, to time.Time) {
	switch {
	case u.At.Known():
		return u.At.From, u.At.From
	case !u.DoneOn.Known():
		return from, to
	}
	if loc := zoneOf(zone); loc != nil {
		return beginning(u.DoneOn.From, loc), beginning(u.DoneOn.To.AddDays(1), loc).Add(-time.Second)
	}
	return u.DoneOn.From.Time().Add(-14 * time.Hour), endOf(u.DoneOn.To).Add(-time.Second)
}

func beginning(d calendar.Date, zone *time.Location) time.Time {
	y, m, day := d.Civil()
	return time.Date(y, m, day, 0, 0, 0, 0, zone).UTC()
}

// zones keeps those that were looked up, by name.
var zones sync.Map

// zoneOf finds a zone by name; nil for one that is not known.
func zoneOf(name string) *time.Location {
	if name == "" {
		return nil
	}
	if known, ok := zones.Load(name); ok {
		return known.(*time.Location)
	}
	loc, err := time.LoadLocation(name)
	if err != nil {
		return nil
	}
	zones.Store(name, loc)
	return loc
}

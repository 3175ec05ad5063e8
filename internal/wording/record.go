package wording

import (
	"math"
	"strconv"
	"strings"

	"github.com/google/uuid"

	"rockledger/internal/calendar"
	"rockledger/internal/quantity"
	"rockledger/internal/registry"
)

// Names are what the references of records stand for.
type Names struct {
	Persons  map[uuid.UUID]string
	Products map[uuid.UUID]registry.Product
	Batches  map[uuid.UUID]registry.Batch
}

// Installation says how an anchor was set: "Set on 2 May 2015 by A. Example.
// Hole 12 mm wide, 80 mm deep. ..."
func Installation(i registry.Installation, n Names) string {
	s := sentences{"Set " + On(i.DoneOn) + n.by(i.PersonID) + "."}
	var hole []string
	if i.HoleDiameter != nil {
		hole = append(hole, Length(i.HoleDiameter)+" wide")
	}
	if i.HoleDepth != nil {
		hole = append(hole, Length(i.HoleDepth)+" deep")
	}
	if len(hole) > 0 {
		s.add("Hole " + strings.Join(hole, ", ") + ".")
	}
	if glue := n.glue(i); glue != "" {
		s.add("Bonded with " + glue + ".")
	}
	if i.CleaningCycles != nil {
		s.add("Blown and brushed: " + count(*i.CleaningCycles, "round", "rounds") + ".")
	}
	if i.Moisture != "" {
		s.add("Hole when set: " + lower(Label(i.Moisture)) + ".")
	}
	if i.RockSound != "" {
		s.add("Rock under the hammer: " + strings.ToLower(Label(i.RockSound)) + ".")
	}
	return s.with(i.Record)
}

// glue names adhesive and batch, as far as they are known.
func (n Names) glue(i registry.Installation) string {
	product, batch := "", ""
	if i.AdhesiveID != nil {
		product = ProductName(n.Products[*i.AdhesiveID])
	}
	if i.BatchID != nil {
		batch = n.Batches[*i.BatchID].Text
	}
	switch {
	case product == "" && batch == "":
		return ""
	case batch == "":
		return product + ", batch not recorded"
	case product == "":
		return "an adhesive not known, batch " + batch
	}
	return product + ", batch " + batch
}

// FirstUse says who allowed an anchor to be used, when, and what became of the
// kept sample.
func FirstUse(f registry.FirstUse, n Names) string {
	s := sentences{"First use allowed " + On(f.DoneOn) + clock(f.At) + n.by(f.PersonID) + "."}
	if f.Sample != "" {
		s.add("The kept sample: " + lower(SampleMeaning(f.Sample)) + ".")
	}
	return s.with(f.Record)
}

// Cure says what a person found out about how a bonded anchor cured.
func Cure(c registry.Cure, n Names) string {
	s := sentences{"Cure looked at " + On(c.DoneOn) + n.by(c.PersonID) + "."}
	if c.LowestC != nil {
		s.add("Coldest rock until release: " + Reading(c.LowestC) + ".")
	}
	var label []string
	if c.LabelWorkingMinutes != nil {
		label = append(label, "working time "+Minutes(*c.LabelWorkingMinutes))
	}
	if c.LabelCureMinutes != nil {
		label = append(label, "cure time "+Minutes(*c.LabelCureMinutes))
	}
	if c.LabelC != nil {
		label = append(label, "for rock at "+Celsius(*c.LabelC))
	}
	if len(label) > 0 {
		s.add("Read off the label: " + strings.Join(label, ", ") + ".")
	}
	if c.LoadedAt.Known() || c.LoadedAt.Words != "" {
		s.add("It was loaded" + clock(c.LoadedAt) + ".")
	}
	return s.with(c.Record)
}

// clock says a time of day as it was written: " (“14:30”)". Nothing if none was.
func clock(m calendar.Moment) string {
	if m.Words == "" {
		return ""
	}
	return " (“" + m.Words + "”)"
}

// Inspection says who looked at an anchor, how closely, what was seen and what
// was decided.
func Inspection(i registry.Inspection, n Names) string {
	s := sentences{inspected(i) + " " + On(i.DoneOn) + n.by(i.PersonID) + "."}
	switch {
	case i.NotFound():
		s.add("It was not found.")
	case len(i.Observations) > 0:
		s.add("Seen: " + observations(i.Observations) + ".")
	}
	if i.Verdict != "" {
		s.add("Verdict: " + strings.ToLower(Label(i.Verdict)) + ".")
	}
	if !i.InspectBy.IsZero() {
		s.add("To be inspected again by " + i.InspectBy.Words() + ".")
	}
	if !i.Ticked && i.Origin == registry.Recorded {
		s.add("Entered for many anchors at once, this one not ticked: it moves no date.")
	}
	return s.with(i.Record)
}

func inspected(i registry.Inspection) string {
	switch i.Level {
	case registry.Glance:
		return "Looked at in passing"
	case registry.HandsOn:
		return "Inspected hands-on"
	case registry.Full:
		return "Inspected in full"
	}
	return "Inspected"
}

func observations(list []registry.Observation) string {
	words := make([]string, len(list))
	for i, o := range list {
		words[i] = strings.ToLower(Label(o))
	}
	return strings.Join(words, ", ")
}

// On says when something happened, after a verb: "on 2 May 2025", "in May
// 2009", "between 1 June and 31 August 2003", "on a day not known".
func On(s calendar.Span) string {
	switch {
	case !s.Known() && s.Words != "":
		return "on a day not known (“" + s.Words + "”)"
	case !s.Known():
		return "on a day not known"
	case s.Exact():
		return "on " + s.String()
	case strings.HasPrefix(s.String(), "between "):
		return s.String() + written(s)
	}
	return "in " + s.String()
}

// Dated says a date as a value: "2 May 2025", "between 1 June and 31 August
// 2003 (“summer 2003”)", "not known".
func Dated(s calendar.Span) string {
	if s.Exact() || s.Words == "" {
		return s.String()
	}
	return s.String() + written(s)
}

// written is what stands on the list, where that says something else.
func written(s calendar.Span) string {
	if s.Words == "" || s.Words == s.String() {
		return ""
	}
	return " (“" + s.Words + "”)"
}

// by names who did it, nothing if that is not known.
func (n Names) by(person *uuid.UUID) string {
	if person == nil || n.Persons[*person] == "" {
		return ""
	}
	return " by " + n.Persons[*person]
}

// Length says a length in millimetres, to a hundredth: "12.7 mm". Nil is "not
// known".
func Length(l *quantity.Length) string {
	if l == nil {
		return "not known"
	}
	mm := math.Round(l.Millimetres()*100) / 100
	return strconv.FormatFloat(mm, 'f', -1, 64) + " mm"
}

// sentences are put together into one text.
type sentences []string

func (s *sentences) add(text string) { *s = append(*s, text) }

// with adds what every record has: the words as written and where it came
// from.
func (s sentences) with(r registry.Record) string {
	switch {
	case r.Origin == registry.Imported && r.Words != "":
		s = append(s, "Taken over from a list, which says “"+r.Words+"”.")
	case r.Origin == registry.Imported:
		s = append(s, "Taken over from a list.")
	case r.Words != "":
		s = append(s, "“"+r.Words+"”")
	}
	return strings.Join(s, " ")
}

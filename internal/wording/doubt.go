package wording

import (
	"strings"

	"rockledger/internal/fault"
	"rockledger/internal/registry"
)

// leftOpen is how most doubts are settled: the list is kept as it is, and the
// register is put right.
const leftOpen = "Left as not known, and kept as written. "

// doubts say, per code, what is doubted and what to do. {name} is replaced by
// the value of that name.
var doubts = map[string]struct{ what, remedy string }{
	registry.DoubtDateNotRead:     {"this cannot be read as a date", leftOpen + "Write dates as 2016-05-12, or as May 2016, summer 2016, c. 2016, 2016."},
	registry.DoubtDateAhead:       {"this date lies ahead of today", leftOpen + "Look for a slip in the year."},
	registry.DoubtNoSuchDay:       {"there is no such day", leftOpen + "Find out the day, or write the month or the year alone."},
	registry.DoubtDayMonthMisfit:  {"day and month do not fit the rest of the column", leftOpen + "Find out which is the day, and write it as 2016-05-12."},
	registry.DoubtCheckedFirst:    {"the last check lies before the anchor was set ({set_on})", "Both dates are kept. Find out which is wrong, or whether the check was of an earlier anchor."},
	registry.DoubtSetAfterReplace: {"the anchor was set ({set_on}) after it is said to have been replaced", "The date of the replacement is left as not known. Find out whether the row is about the old anchor or the new one."},

	registry.DoubtLengthNotRead:     {"this cannot be read as a size", leftOpen + "Write it as 10 mm, 1/2 in or M10, or measure it."},
	registry.DoubtLengthNegative:    {"a size cannot be nought or less", leftOpen + "Measure it, or write it without the sign if that is a slip."},
	registry.DoubtLengthImplausible: {"{length_mm} mm is not to be believed here (expected {from_mm} to {to_mm} mm)", leftOpen + "Look for a slip in the unit, or measure it."},
	registry.DoubtTwoSizes:          {"the length in this size is not the one in the length column ({length_mm} mm)", "The length column counts. Measure it."},

	registry.DoubtMetalNotRead:    {"this cannot be read as a metal", leftOpen + "Write the grade, for example 1.4404, 316L, A4, titanium or zinc plated."},
	registry.DoubtTypeNotRead:     {"this cannot be read as a type of anchor", leftOpen + "Write for example through bolt, wedge anchor, glue-in eye, twisted leg, staple."},
	registry.DoubtRoleNotRead:     {"this cannot be read as what the anchor is for", leftOpen + "Write for example belay, lower-off, rebelay, deviation, traverse, runner."},
	registry.DoubtSiteKindNotRead: {"this cannot be read as a kind of site", "The kind is guessed as if nothing were written. Write crag, sea cliff, quarry or cave, or name it in a mapping file."},
	registry.DoubtStateNotRead:    {"some of this state cannot be read", "What could be read counts; the words are kept. Go and look, and record an inspection."},
	registry.DoubtStateGuessed:    {"these words can be read in more than one way: taken as \"{taken}\"", "The words are kept. Go and look, and record an inspection."},
	registry.DoubtStateFormMisfit: {"this state does not fit the type of anchor ({form})", "Both are kept. Find out which is wrong."},

	registry.DoubtCoordinatesNotRead: {"these coordinates cannot be read", leftOpen + "Write latitude and longitude as 54.21334 and -2.33805 (WGS 84)."},
	registry.DoubtCoordinatesSwapped: {"latitude and longitude stand in each other's place", "Put right. Look whether the place on the map is the right one."},
	registry.DoubtCoordinatesFar:     {"these coordinates are far from the rest of the site", leftOpen + "Look for a slip in the figures, or for another site of the same name."},
	registry.DoubtCoordinatesOfCave:  {"a cave's coordinates are of its entrance, not of an anchor", "Kept as written with the site and put on no map. Nothing need be done."},

	registry.DoubtPositionNotNamed: {"the position has no name: entered as \"{taken}\"", "Give it the name that the group uses."},
	registry.DoubtSiteFromAbove:    {"the row names no site: taken from the row above ({taken})", "Look whether that is right; name the site in every row."},
	registry.DoubtNameShortened:    {"this name is longer than {limit} bytes", "Cut short in the register, and kept whole as written. Give it a short name, and put the rest into the notes."},
	registry.DoubtTooManyCells:     {"the row has more cells than there are headings", "What lies beyond is kept as written, and not read. Look for a separator inside a text, and put the text in double quotes."},
	registry.DoubtTooFewCells:      {"the row has fewer cells than there are headings", "What is lacking counts as not known. Look whether a separator is missing, so that cells stand under the wrong heading."},
	registry.DoubtColumnGuessed:    {"the column was taken for \"{field}\" by what is in it", "If that is wrong, say in a mapping file what it is (columns: {Your heading: ignore})."},
	registry.DoubtIDNotRead:        {"this is not the id of an anchor", "The row counts as one without an id. Leave the column as it was exported; leave it blank for a new anchor."},
	registry.DoubtIDsNotRead:       {"this column is headed as ids, and holds none that this register gave", "It is kept as written and not read: each row counts as one without an id. If the list was exported here, leave its ids as they were; if the ids are your own, nothing need be done."},

	registry.DoubtUnwritten: {"this held {character}, a character that was broken on the way or cannot be seen", "It was taken out, and the rest is kept. Look whether the text is right without it, and save the list as UTF-8."},

	registry.DoubtDayEverywhere: {"the same day stands in {rows} rows at {sites} sites (lines {from_line} to {to_line})", "Taken over as written. Look whether all of them were visited that day, or whether it is the day on which the list was made; put right what is not true, and send the list again."},
	registry.DoubtColumnCopied:  {"the same value runs down {rows} rows, over {sites} sites (lines {from_line} to {to_line})", "Taken over as written. If it was copied down, find out what is right for each row, or leave the cells empty, and send the list again."},

	registry.RefusedSiteNotNamed:  {"the row does not say at which site it is", "Name the site, and send the list again."},
	registry.RefusedDiffers:       {"the row differs from what was entered for this position before", "Change the anchor in the register: of that list not enough was kept to compare this one with."},
	registry.RefusedSpotRepeated:  {"line {line} says something else about the same position", "Give the two positions names of their own, or take out the row that is wrong, and send the list again."},
	registry.RefusedPositionTaken: {"the register has an anchor at this position already", "Change that anchor in the register, or give this position a name of its own."},
	registry.RefusedMoved:         {"the anchor of this id stands elsewhere: {place}", "A list can neither move nor rename yet. Change site, sector, route or position in the register, then put the same into the list."},
	registry.RefusedKindChanged:   {"the site is now of another kind than on the list before", "A list cannot change that yet. Change the site in the register, then send the list again."},
	registry.RefusedGone:          {"the list before said that this anchor was removed or replaced", "A list cannot change that yet. Take the removal back in the register, or record it anew there."},
	registry.RefusedNoSuchID:      {"no anchor here has this id", "Look whether the list is of another group. For a new anchor leave the id out."},
	registry.RefusedNotFromList:   {"this anchor came from no list, and here the register says {register}", "Change the anchor in the register, or put the same into the list."},
	registry.RefusedInvalid:       {"the row cannot be entered because of its {field}", "{code} A row must name a position and say something of an anchor there."},
}

// Doubt returns what is doubted or refused, as a clause without capital or full
// stop, and what to do about it, in full sentences.
func Doubt(d registry.Doubt) (what, remedy string) {
	text, ok := doubts[d.Code]
	if !ok {
		return "this could not be taken over", leftOpen + "Look at the line."
	}
	pairs := make([]string, 0, 2*len(d.Values))
	for _, v := range d.Values {
		pairs = append(pairs, "{"+v.Name+"}", spoken(v))
	}
	fill := strings.NewReplacer(pairs...)
	return fill.Replace(text.what), fill.Replace(text.remedy)
}

// spoken writes a value as people do: days in words, forms by their name, the
// code of a violation as its sentence.
func spoken(v registry.Value) string {
	switch v.Name {
	case "form":
		return strings.ToLower(Label(registry.Form(v.Text)))
	case "register":
		return cellText(v.Text)
	case "code":
		return Fault(fault.Code(v.Text), nil)
	case "field":
		_, last, nested := strings.Cut(v.Text, ".")
		if !nested {
			last = v.Text
		}
		return strings.ReplaceAll(last, "_", " ")
	}
	return day(v.Text)
}
